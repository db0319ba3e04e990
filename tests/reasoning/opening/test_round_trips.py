"""Two words that meet: each excursion closes the box, and leads to the family that is told."""

import pytest

from oddswap.puzzles.catalogue import load, with_turns_out_of_the_box
from oddswap.reasoning.opening.box_levels import BoxLevels
from oddswap.reasoning.opening.frames import frame_of
from oddswap.reasoning.opening.law_families import family_of
from oddswap.reasoning.opening.round_trips import round_trips
from oddswap.reasoning.opening.ways_map import back_in_the_box


@pytest.mark.parametrize(("name", "half"), [("2x3x4", 4), ("2x3x4", 5), ("2x2x4", 2), ("1x3x5", 3), ("3x3x5", 3)])
def test_every_excursion_that_is_told_closes_the_box_in_its_family(name, half):
    puzzle = load(f"cuboid:{name}")
    frame = frame_of(with_turns_out_of_the_box(puzzle), tuple(puzzle.turns))
    levels = BoxLevels(frame, frame.labelled.solved[None])
    for _ in range(half):
        levels.grow()
    for level in (half - 1, half):
        told = list(round_trips(levels, level, lambda: None))
        for family, turns in told:
            assert len(turns) == half + level
            assert family_of(frame, puzzle, back_in_the_box(puzzle, frame.box, turns)) == family
        assert told or half != level
