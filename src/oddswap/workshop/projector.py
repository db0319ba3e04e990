"""The evening on a wall: a question to show hands for, and after it the same with its answer."""

from collections.abc import Iterator, Sequence

from matplotlib.figure import Figure

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import load
from oddswap.showing.ink.canvas import INCHES, sheet, wrapped, write
from oddswap.showing.ink.painting import Inks
from oddswap.showing.ink.palette import BODY, PAPER, colours_for
from oddswap.showing.ink.paper import height_of
from oddswap.story.handout import lay_both_sides
from oddswap.words.products import worksheets as words
from oddswap.workshop.worksheets import Question

WIDTH, HEIGHT, MARGIN = 13.333 / INCHES, 7.5 / INCHES, 0.35
TITLE, TEXT, SIDE = 32, 24, 2.4
"""Points of the question and of all other words, and the side of one picture."""


def slides(questions: Sequence[Question]) -> Iterator[Figure]:
    """Two slides for each question."""
    for number, question in enumerate(questions, 1):
        for answered in (False, True):
            yield _slide(load(question.puzzle), question, number, answered)


def _slide(puzzle: Puzzle, question: Question, number: int, answered: bool) -> Figure:
    ax = sheet(WIDTH, HEIGHT)
    ax.figure.set_facecolor(PAPER)
    title = wrapped(f"{number}  {words.QUESTIONS[question.sort]}", WIDTH - 2 * MARGIN, TITLE, "bold")
    write(ax, MARGIN, HEIGHT - MARGIN, title, ha="left", va="top", size=TITLE, weight="bold")
    top = HEIGHT - MARGIN - height_of(title, TITLE) - 0.05
    inks = Inks(colours_for(puzzle), letters=True)
    lay_both_sides(ax, puzzle, question.position, inks, MARGIN + 1.06 * SIDE, top - SIDE / 2, SIDE)
    left = MARGIN + 2.3 * SIDE
    beside = f"{puzzle.title}\n\n{question.proof if answered else words.HANDS}"
    style = {"ha": "left", "va": "top", "linespacing": 1.35}
    size = TEXT if len(beside) < 150 else TEXT * 0.75
    write(ax, left, top, wrapped(beside, WIDTH - MARGIN - left, size), size=size, **style)
    y = top - SIDE - 0.15
    for i, (letter, choice) in enumerate(zip("abcdefgh", question.choices, strict=False)):
        right = answered and i == question.right
        text = wrapped(f"{'✓ ' if right else ''}{letter}) {choice}", WIDTH - 2 * MARGIN - 1.2, TEXT, "bold")
        write(ax, MARGIN, y, text, size=TEXT, weight="bold" if right else "normal", color=BODY, **style)
        if not answered:
            write(ax, WIDTH - MARGIN, y, words.TALLY, size=TEXT, **(style | {"ha": "right"}))
        y -= height_of(text, TEXT)
    return ax.figure
