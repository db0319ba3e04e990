"""Boxes that leave their outline, against cells moved in integers, one by one."""

from itertools import islice

import pytest

from oddswap.errors import OddswapError, UnknownMove
from oddswap.puzzles.boxes.box import BoxPuzzle
from oddswap.puzzles.catalogue import load, with_all_turns, with_turns_out_of_the_box
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.search.shortest import depth_counts
from tests.common.published import cases
from tests.reasoning.box_sights import Box

COUNTED = cases("box_depths", "puzzle", "counting", "counts", "whole")
CORE = (0, 0, 0)


def cells_of(name: str, counting: str) -> Box:
    """The same box in the other model."""
    size, _, turns = name.removeprefix("cuboid:").partition(",turns=")
    return Box(tuple(map(int, size.split("x"))), turns or "box", counting == "smallest")


def smallest(puzzle) -> list[str]:
    """The turns of each layer by the smallest angle that closes."""
    angles = {}
    for turn in puzzle.turns.values():
        angles.setdefault(turn.slots, []).append(abs(turn.angle))
    return [turn.name for turn in puzzle.turns.values() if abs(turn.angle) == min(angles[turn.slots])]


@pytest.mark.parametrize("name, counting, counts, whole", COUNTED)
def test_sights_at_each_distance_as_counted_cell_by_cell(name, counting, counts, whole):
    """Up to how the box is held; where all are counted, whether there are any more is tried too."""
    box, depth = load(name), len(counts) if whole else len(counts) - 1
    levels = islice(cells_of(name, counting).levels(), depth + 1)
    assert [len(level) for level in levels] == counts
    assert depth_counts(box, depth, turns=smallest(box) if counting == "smallest" else None) == counts


@pytest.mark.parametrize("name", ["cuboid:2x2x3", "cuboid:2x2x3,turns=half"])
def test_all_arrangements_that_the_laws_allow_were_counted_each_in_all_holdings(name):
    (counted,) = [sum(counts) for other, counting, counts, _ in COUNTED if (other, counting) == (name, "any")]
    assert counted * len(cells_of("cuboid:2x2x3", "any").holdings) == law_book(load(name)).order


def cells(box: BoxPuzzle, arrangement) -> frozenset:
    """The middles of the cells that are filled, but for a core that never moves."""
    return frozenset(place for place, full in zip(box.places, box.outline(arrangement), strict=True) if full)


@pytest.mark.parametrize(("name", "depth"), [("1x2x3", 5), ("1x3x3", 6), ("2x2x4", 2), ("1x2x5", 3), ("2x3x4", 3)])
def test_outlines_at_each_distance_as_counted_cell_by_cell(name, depth):
    box = load(f"cuboid:{name},turns=all")
    edge, seen = {cells(box, box.solved): box.solved}, set()
    for level in islice(cells_of(f"{name},turns=all", "any").outlines(), depth):
        assert edge.keys() == {outline - {CORE} for outline in level}
        seen |= edge.keys()
        made = (box.arrangement(turn.permutation[box.permutation(s)]) for s in edge.values() for turn in box.legal(s))
        edge = {outline: state for state in made if (outline := cells(box, state)) not in seen}


BAD = {
    "R": "does not make the turn R: four layers one way and five the other, so a quarter turn does not close",
    "RR2": "turn 1, RR2, finds no layer there",
    "M": "carries the core",
    "U D' RR F2": "does not make the turn RR: four layers",
}


@pytest.mark.parametrize("moves", BAD)
def test_what_cannot_be_turned_is_told_in_one_sentence(moves):
    with pytest.raises(OddswapError) as caught:
        load("cuboid:3x4x5,turns=all").follow(moves)
    assert BAD[moves] in str(caught.value) and "\n" not in str(caught.value)


@pytest.mark.parametrize(("sides", "moves", "turn"), [((1, 2, 5), "U'", "2B2"), ((1, 3, 5), "B", "RR'")])
def test_a_turn_that_leaves_two_bodies_is_refused(sides, moves, turn):
    box = load(f"cuboid:{'x'.join(map(str, sides))},turns=all")
    assert box.turns[turn] not in box.legal(box.follow(moves))
    with pytest.raises(UnknownMove, match=f"turn 2, {turn}, would leave cells that do not touch by a face"):
        box.follow(f"{moves} {turn}")


def test_wider_and_narrower_turns_by_name():
    half = load("cuboid:2x2x4,turns=half")
    box, wide = with_all_turns(half), with_turns_out_of_the_box(half)
    assert (box.name, wide.name) == ("cuboid:2x2x4", "cuboid:2x2x4,turns=all")
    assert isinstance(wide, BoxPuzzle) and with_all_turns(wide) is None
    assert with_turns_out_of_the_box(load("cuboid:2x3x3")) is None and with_turns_out_of_the_box(load("cube:3")) is None
    assert set(load("cuboid:2x2x4,turns=R+U2").turns) == {"R", "R2", "R'", "U2"}
