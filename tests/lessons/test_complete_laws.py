"""The walls on puzzles whose numbers are published: the upper is never below, the lower never above, and both are drawn.

Exercises about proofs: every right answer is accepted, a hint names the law, nonsense is answered kindly.
"""

from itertools import permutations
from math import factorial

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from matplotlib.patches import StepPatch

from oddswap.errors import BadOption
from oddswap.lessons.complete_laws import check_beyond, check_placed, draw_programme, draw_two_walls, lower_wall, upper_wall
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
    assert lower[-1] == upper[-1]


def test_the_laws_of_the_cube_come_one_by_one():
    """2, 2 and 3 (Bandelow 1982), and 2 for quarter turns of the centres (OEIS A080661), of all that hands can assemble."""
    every = factorial(8) * 3**8 * factorial(12) * 2**12 * 4**6
    numbers = [number for _, number in upper_wall(law_book(load("cube:3")))]
    assert numbers[0] == every and sorted(a // b for a, b in zip(numbers, numbers[1:], strict=False)) == [2, 2, 2, 3]


def test_a_programme_is_one_step_of_six():
    assert upper_wall(law_book(load("rings:4+4"))) == [("no law", 720), ("programme of beads", 120)]


def test_laws_that_are_no_counts_come_all_at_once():
    """Beads in three pairs, each pair its own two places: 720 become 24."""
    assert upper_wall(law_book(load("rings:4+4,cross=2"))) == [("no law", 720), ("all laws together", 24)]


@pytest.mark.parametrize(
    ("name", "options", "title"),
    [
        ("tiles:2x3", {}, "The walls meet: 360. Nothing is missing."),
        ("tiles:2x3", {"laws": 0}, "Between 360 and 720: a gap of a factor of 2."),
        ("tiles:2x3", {"levels": 1}, "Between 30 and 360: a gap of a factor of 12."),
        ("rings:4+4", {"laws": 0}, "Between 120 and 720: a gap of a factor of 6."),
        ("rings:4+4", {}, "The walls meet: 120. Nothing is missing."),
    ],
)
def test_what_is_drawn_says_whether_they_meet(name, options, title):
    figure = draw_two_walls(load(name), **options)
    ax = figure.axes[0]
    assert title in [text.get_text() for text in ax.texts]
    lines = [patch for patch in ax.patches if isinstance(patch, StepPatch) and not patch.get_fill()]
    above, below = (10 ** patch.get_data().values[-1] for patch in lines)
    assert (above == pytest.approx(below)) == title.startswith("The walls meet")


@pytest.mark.parametrize("name", PUBLISHED)
def test_words_stay_apart_and_on_the_sheet(name):
    figure = draw_two_walls(load(name))
    figure.canvas.draw()
    boxes = [text.get_window_extent() for text in figure.axes[0].texts]
    for i, box in enumerate(boxes):
        assert figure.bbox.contains(box.x0, box.y0) and figure.bbox.contains(box.x1, box.y1)
        assert not any(box.overlaps(other) for other in boxes[i + 1 :])


RINGS = "rings:4+4"


def right(note) -> bool:
    return note.text.startswith("Yes")


def test_the_rounds_lie_as_the_picture_says_and_all_turns_keep_them():
    """A turn permutes the five rounds as one of PGL(2, 5) does five things; an exchange of two keeps one (Wilson 1974)."""
    done = ["a", "b", "a b a' b b", "swap 1 2"]
    ax = draw_programme(load(RINGS), done).axes[0]
    told = [text for text in ax.texts if "round" in text.get_text()]
    drawn = []
    for number, text in enumerate(told):
        three = [line.get_xydata() - text.get_position() for line in ax.lines[3 * number : 3 * number + 3]]
        drawn.append({frozenset(map(tuple, np.round(ends, 3).tolist())) for ends in three})
    said = [text.get_text() for text in told]
    assert said == [f"round {drawn.index(lies) + 1}" if lies in drawn[:5] else "no round" for lies in drawn]
    assert all(sorted(said[row : row + 5]) == said[:5] for row in (0, 5, 10, 15)) and said[20:].count("no round") == 4
    with pytest.raises(BadOption, match="keep the programme"):
        draw_programme(load("cube:2"), [])


def test_beads_brought_to_places():
    """`a` takes the beads 1, 2, 3, 4 round by one place: the fourth time all are at home."""
    assert right(check_placed("a a a a", {"1": "1", "2": "2"}, RINGS))
    assert check_placed("a", {"1": "2", "2": "1"}, RINGS).text == "Not yet: 2 is at 3 and should be at 1."


def test_the_ways_to_exchange_by_hand_what_turns_can_undo():
    """Of 720 ways to put six beads, 120 are reached, and any that leaves three beads alone is not (PGL(2, 5); Wilson 1974)."""
    found = 0
    for way in permutations(range(6)):
        rest, changes = list(way), []
        for i in range(6):
            while rest[i] != i:
                j = rest[i]
                rest[i], rest[j] = rest[j], rest[i]
                changes.append(f"swap {i + 1} {j + 1}")
        note = check_beyond(", ".join(changes), RINGS)
        found += right(note)
        if changes:
            assert right(note) or "settles where all others are" in note.text or "keep this one: 1 plays 2" in note.text
            assert ("settles where all others are" in note.text) == (sum(a == b for a, b in enumerate(way)) >= 3)
    assert found == 119


def test_a_known_law_is_named():
    assert "rearranged evenly" in check_beyond("swap r1c1 r1c2", "tiles:2x3").text


CHECKS = [lambda answer: check_placed(answer, {"1": "2"}, RINGS), lambda answer: check_beyond(answer, RINGS)]


@pytest.mark.parametrize("check", CHECKS)
def test_an_empty_answer_is_neutral(check):
    assert check("  ").text.startswith("Nothing written yet")


@pytest.mark.parametrize("check", CHECKS)
@given(st.one_of(st.none(), st.integers(max_value=999), st.text("swapcyle 123456*'", max_size=24), st.text(max_size=12)))
def test_nonsense_gets_a_kind_sentence(check, answer):
    assert check(answer).text
