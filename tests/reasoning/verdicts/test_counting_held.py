"""Counts over every holding, against walking on stickers: nothing is seen, and turning leads to so many."""

import pytest
from sympy.combinatorics import Permutation, PermutationGroup

from oddswap.describing.sights import every_look
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.verdicts.counting import count_explanations
from oddswap.values.position import Appearance
from oddswap.words import say
from tests.reasoning.stickers_by_cell import Box, box_of, chosen, then

COPIES = [
    *(f"cube:2,turns={turns}" for turns in ("R2", "R+L", "R2+U2", "R2+U2+F2", "R2+L2+U2+D2+F2+B2")),
    *(f"cuboid:1x4x4,turns={turns}" for turns in ("2U2+2F2", "U2+2F2", "U2+F2")),
    *("cuboid:1x1x4,turns=F2", "cuboid:1x2x3,turns=U2+D2", "cuboid:2x2x3,turns=R2+U2", "cuboid:2x4x4,turns=2U2+F2"),
    "cuboid:2x2x3,turns=R2+L2+U2+D2+F2+B2",
]


PAINTED = [f"shape-mod:cube,slabs=2,paint={paint},turns=R2+L2+U2+D2+F2+B2" for paint in ("U+D/F+B", "U+D/F+B/L+R")]
"""Sides in one colour, so that another holding may look the same."""


def body(name: str) -> Box:
    if name not in PAINTED:
        return box_of(name)
    box, (_, _, paint, _) = Box((2, 2, 2)), name.split(",")
    alike = {face: pair for pair in paint.removeprefix("paint=").split("/") for face in pair.split("+")}
    box.colours = [alike.get(face, face) for face in box.colours]
    return box


@pytest.mark.parametrize("name", [*PAINTED, *COPIES])
def test_where_nothing_is_seen_all_that_turning_reaches_is_counted_once(name):
    """Arrangements: the group of the turns for each holding to which it does not lead; looks: each with all its relabellings."""
    box, puzzle = body(name), load(name)
    count = count_explanations(puzzle, Appearance(name, tuple(every_look(puzzle, b) for b in range(len(puzzle.slots)))))
    group = PermutationGroup([Permutation(list(box.turn(turn))) for turn in chosen(name)])
    led_to = sum(group.contains(Permutation(list(r))) for r in box.rotations)
    assert count.reachable == group.order() * len(box.rotations) // led_to
    every = {box.seen(then(image, r)) for image in box.reached(chosen(name)).values() for r in box.rotations}
    assert count.appearances_reached == len(every)
    assert count.total == law_book(puzzle).wide_order and not count.equal


def test_what_cannot_be_counted_is_not_told():
    """R and U on a cube of two move six corners as PGL(2, 5), which no sum says, in every holding."""
    puzzle = load("cube:2,turns=R+U")
    count = count_explanations(puzzle, Appearance(puzzle.name, tuple(every_look(puzzle, b) for b in range(8))))
    assert count.appearances_reached is count.reachable is None and "are too many to try one by one" in say(count.reason)
