"""Symmetries of rings and loops against all rearrangements of their slots, and what is known of them by hand."""

from itertools import permutations

import pytest

from oddswap.puzzles.base.symmetry import flat_symmetries
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.teaching.toolbox import symmetric_names, toolbox
from tests.common.clocks import PLENTY


@pytest.mark.parametrize("name", ["rings:4+4", "rings:3+4", "loop:6,window=3", "rings:4+4,beads=3+3", "loop:7,window=2"])
def test_just_those_rearrangements_that_take_turns_to_turns_and_twins_to_twins(name):
    puzzle = load(name)
    turns = [tuple(turn.permutation.tolist()) for turn in puzzle.turns.values()]
    looks = [int(look) for look in puzzle.looks[puzzle.base_label]]
    expected = set()
    for move in permutations(range(len(puzzle.slots))):
        made = set()
        for turn in turns:
            image = [0] * len(move)
            for slot, there in enumerate(turn):
                image[move[slot]] = move[there]
            made.add(tuple(image))
        alike = all((looks[a] == looks[b]) == (looks[move[a]] == looks[move[b]]) for a in range(len(move)) for b in range(a))
        if made == set(turns) and alike:
            expected.add(move)
    assert set(flat_symmetries(puzzle)) == expected


@pytest.mark.parametrize(
    ("name", "count"), [("rings:7+7,cross=2", 4), ("rings:5+7", 2), ("loop:20,window=4", 2), ("tiles:3x3", 0)]
)
def test_mirror_and_exchange_of_equal_rings(name, count):
    """A mirror turns every ring the other way round; two equal rings may change places besides."""
    assert len(set(flat_symmetries(load(name)))) == count


def test_no_tool_of_the_rings_is_another_in_a_mirror_or_undone():
    puzzle = load("rings:7+7,cross=2")
    names = symmetric_names(puzzle)
    words = {tool.turns for tool in toolbox(puzzle, PLENTY)}
    undone = {name: str(turn.step.inverse()) for name, turn in puzzle.turns.items()}
    for word in words:
        alike = {tuple(names_of[turn] for turn in word) for names_of in names}
        alike |= {tuple(undone[turn] for turn in reversed(other)) for other in alike}
        assert len(alike & words) == 1
