"""Two words that meet: each excursion closes the box, and leads to the family that is told."""

import pytest

from oddswap.puzzles.catalogue import load, with_turns_out_of_the_box
from oddswap.reasoning.excursions import frame_of
from oddswap.reasoning.fields import Field
from oddswap.reasoning.law_families import family_of
from oddswap.reasoning.round_trips import as_held, holdings, round_trips
from oddswap.reasoning.ways_map import back_in_the_box


@pytest.mark.parametrize(("name", "half"), [("2x3x4", 4), ("2x3x4", 5), ("2x2x4", 2), ("1x3x5", 3), ("3x3x5", 3)])
def test_every_excursion_that_is_told_closes_the_box_in_its_family(name, half):
    puzzle = load(f"cuboid:{name}")
    frame = frame_of(with_turns_out_of_the_box(puzzle), tuple(puzzle.turns))
    field = Field(frame, frame.labelled.solved[None])
    for _ in range(half):
        field.grow()
    for level in (half - 1, half):
        told = list(round_trips(field, level, lambda: None))
        for family, turns in told:
            assert len(turns) == half + level
            assert family_of(frame, puzzle, back_in_the_box(puzzle, frame.box, turns)) == family
        assert told or half != level


@pytest.mark.parametrize("name", ["cuboid:2x3x4,turns=all", "cuboid:2x2x4,turns=all"])
def test_turns_are_called_as_the_box_is_held(name):
    box = load(name)
    for holding in holdings(box):
        for turn in list(box.turns)[::3]:
            held = as_held(box, turn, holding)
            first = box.follow(" ".join(holding))
            one = box.permutation(first)[:]
            after = box.turns[held].permutation[one]
            other = box.turns[turn].permutation
            for rotation in holding:
                other = box.rotations[rotation].permutation[other]
            assert (after == other).all() or box.arrangement(after) == box.arrangement(other)


def test_each_holding_once():
    assert len(holdings(load("cuboid:2x3x4,turns=all"))) == 8
    assert len(holdings(load("cuboid:2x2x4,turns=all"))) == 24
    assert holdings(load("cuboid:1x3x3,turns=all")) == ((),)
