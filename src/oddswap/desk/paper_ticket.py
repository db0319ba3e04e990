"""A paper ticket to fill in at a table: nets or outlines to colour in, and a few lines to answer."""

from pathlib import Path

from matplotlib.figure import Figure

from oddswap.describing.sights import covered
from oddswap.describing.stickers import stickers
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.showing.ink.painting import Inks
from oddswap.showing.ink.palette import PAPER, colours_for
from oddswap.showing.ink.paper import Paper, write_pdf
from oddswap.story.handout import SIDE, lay_both_sides
from oddswap.words.products.desk import COLOUR_OUTLINES, DRAW, QUESTIONS
from oddswap.words.products.worksheets import COLOUR_IN
from oddswap.workshop.worksheet_pages import lay_net


def paper_ticket_pages(puzzle: Puzzle) -> list[Figure]:
    """One page: questions, and the puzzle to colour in."""
    page = Paper()
    page.text(f"A ticket for the puzzle table: {puzzle.title}", 15, weight="bold", after=0.15)
    for question in QUESTIONS:
        page.text(f"{question} ______________________________", 10.5, after=0.12)
    if stickers(puzzle) is not None:
        page.text(COLOUR_IN, 10)
        lay_net(page, puzzle, filled=False)
    elif puzzle.geometry is not None:
        page.text(COLOUR_OUTLINES, 10)
        inks = Inks(dict.fromkeys(colours_for(puzzle), PAPER))
        side = 1.3 * SIDE
        lay_both_sides(page.ax, puzzle, covered(puzzle, puzzle.slots), inks, page.width / 2, page.y - side / 2, side)
    else:
        page.text(DRAW, 10)
    return page.pages


def write_paper_ticket(puzzle: Puzzle, path: Path) -> Path:
    """The paper ticket as a PDF that appears complete or not at all."""
    return write_pdf(paper_ticket_pages(puzzle), path)
