"""For a puzzle whose shape decides its turns: the map of its shapes as a poster, and a card with the one idea to try by hand."""

from matplotlib.figure import Figure

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.shape_tree import STAGES, around_home
from oddswap.showing.ink.palette import PAPER as WHITE
from oddswap.showing.ink.paper import Paper
from oddswap.showing.pictures.shape_maps import draw_map, draw_walk
from oddswap.words.products.worksheets import CARE, LOOP_CARD, LOOP_TITLE

NEAR = 60
"""From so many shapes the loop of the card may start back; of those it is the one that moves the fewest labels."""


def shape_poster(puzzle: Puzzle) -> Figure:
    """The map around home, to be printed at any size."""
    figure = draw_map(puzzle, side=1.6)
    figure.set_facecolor(WHITE)
    return figure


def loop_card(puzzle: Puzzle, paper: str = "A4") -> Figure:
    """A page with one loop and what to do with it."""
    page = Paper(paper)
    page.text(LOOP_TITLE, 24, weight="bold")
    draw_walk(puzzle, " ".join(small_loop(puzzle)), ax=page.box(2.0))
    for line in LOOP_CARD:
        page.text(line, 15, after=0.14)
    page.text(CARE, 13)
    return page.pages[0]


def small_loop(puzzle: Puzzle) -> tuple[str, ...]:
    """Turns that leave the shape at home and come back to it, with as little changed as may be, few, and rather a half turn.

    >>> from oddswap.puzzles.catalogue import load
    >>> " ".join(small_loop(load("cuboid:2x3x4,turns=all")))
    "D 2B2 LL2 2B2 D'"
    """
    shapes, steps = around_home(puzzle, STAGES[0]), list(puzzle.turns.values())
    loops = [
        (int((image != range(puzzle.degree)).sum()), len(word), -abs(steps[turn].step.amount), word)
        for numbers, turns, images in shapes.loops(range(min(NEAR, len(shapes))))
        for number, turn, image in zip(numbers.tolist(), turns.tolist(), images, strict=True)
        if number
        for word in [shapes.round_trip(number, turn)]
    ]
    return min(loops)[-1]
