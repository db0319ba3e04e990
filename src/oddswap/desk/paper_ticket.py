"""A paper ticket to fill in at a table: a net to colour in, and a few lines to answer."""

from pathlib import Path

from matplotlib.figure import Figure

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.showing.ink.canvas import Paper, write_pdf
from oddswap.words.products.desk import QUESTIONS, SAYS
from oddswap.workshop.cut_outs import lay_facet_net


def paper_ticket_pages(puzzle: Puzzle) -> list[Figure]:
    """One page: questions, and the puzzle to colour in."""
    page = Paper()
    page.text(f"A ticket for the puzzle table: {puzzle.title}", 15, weight="bold", after=0.15)
    for question in QUESTIONS:
        page.text(f"{question} ______________________________", 11, after=0.12)
    page.text(SAYS.draw if puzzle.geometry is None else SAYS.colour_net, 11)
    if puzzle.geometry is not None:
        lay_facet_net(page, puzzle, filled=False)
    return page.pages


def write_paper_ticket(puzzle: Puzzle, path: Path) -> Path:
    """The paper ticket as a PDF that appears complete or not at all."""
    return write_pdf(paper_ticket_pages(puzzle), path)
