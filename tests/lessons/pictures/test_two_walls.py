"""The walls on puzzles whose numbers are published: the upper is never below, the lower never above, and both are drawn."""

from math import factorial

import pytest
from matplotlib.patches import StepPatch

from oddswap.lessons.pictures.two_walls import lower_wall, two_walls, upper_wall
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.law_book import law_book

PUBLISHED = {
    "tiles:2x3": 360,
    "tiles:3x3": 181440,
    "cube:2": 24 * 3674160,
    "cube:3": 88580102706155225088000,
    "rings:4+4": 120,
    "graph:2+1+2": 7 * 120,
}
"""OEIS A087725, A089473, A075152 and A080661; Wilson, J. Combin. Theory B 16 (1974) 86-96, for the last two."""


@pytest.mark.parametrize("name", PUBLISHED)
def test_the_truth_lies_between_the_walls_at_every_step(name):
    book = law_book(load(name))
    upper, lower = [number for _, number in upper_wall(book)], lower_wall(book)
    assert upper == sorted(upper, reverse=True) and lower == sorted(lower)
    assert lower[-1] == PUBLISHED[name] <= upper[-1]
    assert (lower[-1] == upper[-1]) == (name not in ("rings:4+4", "graph:2+1+2"))


def test_the_laws_of_the_cube_come_one_by_one():
    """2, 2 and 3 (Bandelow 1982), and 2 for quarter turns of the centres (OEIS A080661), of all that hands can assemble."""
    every = factorial(8) * 3**8 * factorial(12) * 2**12 * 4**6
    numbers = [number for _, number in upper_wall(law_book(load("cube:3")))]
    assert numbers[0] == every and sorted(a // b for a, b in zip(numbers, numbers[1:], strict=False)) == [2, 2, 2, 3]


def test_laws_that_are_no_counts_come_all_at_once():
    """Beads in three pairs, each pair its own two places: 720 become 24."""
    assert upper_wall(law_book(load("rings:4+4,cross=2"))) == [("no law", 720), ("all laws together", 24)]


@pytest.mark.parametrize(
    ("name", "options", "title"),
    [
        ("tiles:2x3", {}, "The walls meet: 360. Nothing is missing."),
        ("tiles:2x3", {"laws": 0}, "Between 360 and 720: a gap of a factor of 2."),
        ("tiles:2x3", {"levels": 1}, "Between 30 and 360: a gap of a factor of 12."),
        ("rings:4+4", {}, "Between 120 and 720: a gap of a factor of 6."),
    ],
)
def test_what_is_drawn_says_whether_they_meet(name, options, title):
    figure = two_walls(load(name), **options)
    ax = figure.axes[0]
    assert title in [text.get_text() for text in ax.texts]
    lines = [patch for patch in ax.patches if isinstance(patch, StepPatch) and not patch.get_fill()]
    above, below = (10 ** patch.get_data().values[-1] for patch in lines)
    assert (above == pytest.approx(below)) == title.startswith("The walls meet")


@pytest.mark.parametrize("name", PUBLISHED)
def test_words_stay_apart_and_on_the_sheet(name):
    figure = two_walls(load(name))
    figure.canvas.draw()
    boxes = [text.get_window_extent() for text in figure.axes[0].texts]
    for i, box in enumerate(boxes):
        assert figure.bbox.contains(box.x0, box.y0) and figure.bbox.contains(box.x1, box.y1)
        assert not any(box.overlaps(other) for other in boxes[i + 1 :])
