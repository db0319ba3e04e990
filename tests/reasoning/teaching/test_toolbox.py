"""The toolbox: every tool does what it says, one for each class under symmetry, and what the trade knows is in it."""

from itertools import combinations

import numpy as np
import pytest

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.as_seen import as_seen, wrong
from oddswap.reasoning.teaching.effects import effect_of
from oddswap.reasoning.teaching.toolbox import KEPT, symmetric_names, toolbox
from oddswap.reasoning.ways.commutators import image_of, undone
from oddswap.values.sequence import Commutator, Conjugate
from tests.common import vectors
from tests.common.clocks import PLENTY

NAMES = ["cube:3", "cuboid:2x3x4", "rings:7+7,cross=2"]


def times(image, count):
    """A permutation done so many times, one time after the other."""
    done = np.arange(len(image))
    for _ in range(count):
        done = image[done]
    return done


@pytest.mark.parametrize("name", NAMES)
def test_every_tool_does_what_it_says(name):
    puzzle = load(name)
    tools = toolbox(puzzle, PLENTY)
    assert 20 < len(tools) <= KEPT
    for tool in tools:
        image = image_of(puzzle, tool.turns)
        assert (puzzle.permutation(puzzle.follow(tool.moves)) == image).all()
        assert effect_of(puzzle, as_seen(puzzle, image)) == tool.effect
        assert tool.pieces == wrong(puzzle, image) > 0
        looks = [wrong(puzzle, image[times(image, k - 1)]) for k in range(1, tool.order + 1)]
        assert looks[-1] == 0 and all(looks[:-1])
        item = puzzle.read(tool.moves).items[0]
        assert (tool.shape == "commutator") == isinstance(item, Commutator)
        assert (tool.shape == "conjugate") == isinstance(item, Conjugate)


def test_where_nothing_shows_there_is_no_tool():
    assert toolbox(load("loop:5,window=3,beads=aaaaa"), PLENTY) == ()


@pytest.mark.parametrize("name", ["cube:3", "cuboid:2x3x4"])
def test_no_tool_is_another_seen_from_elsewhere_or_undone(name):
    puzzle = load(name)

    def classes(tool):
        words = [tuple(names[turn] for turn in tool.turns) for names in symmetric_names(puzzle)]
        return {as_seen(puzzle, image_of(puzzle, w)).tobytes() for word in words for w in (word, undone(puzzle, word))}

    found = [classes(tool) for tool in toolbox(puzzle, PLENTY)]
    assert not any(one & other for one, other in combinations(found, 2))


def test_what_the_trade_knows_is_there():
    """Common practice: three corners in eight face turns by a commutator; two corners twisted; two edges flipped."""
    best = {}
    for tool in toolbox(load("cube:3"), PLENTY):
        best.setdefault(tool.words, tool)
    assert best["cycles three corners"].length == 8 and best["cycles three corners"].shape == "commutator"
    assert {"twists two corners", "flips two edges", "swaps two pairs of edges"} <= set(best)


@pytest.mark.parametrize(
    "words, count", [("cycles three corners", 3 * 3), ("flips two edges", 2 * 2), ("twists two corners", 2 * 3)]
)
def test_so_many_stickers_change_in_integer_vectors(words, count):
    solved = vectors.solved(3)
    for tool in toolbox(load("cube:3"), PLENTY):
        if tool.words == words:
            state = solved
            for turn in tool.turns:
                state = vectors.turned(state, turn[0], {"": 1, "2": 2, "'": 3}[turn[1:]])
            assert sum(state[place] != solved[place] for place in solved) <= count
            assert sum(state[place] != solved[place] for place in solved) > count // 2


def test_half_turn_tools_of_a_box_are_half_turns():
    tools = toolbox(load("cuboid:2x3x4"), PLENTY)
    assert all(turn.endswith("2") for tool in tools for turn in tool.turns)
    assert any(tool.words == "swaps two edges" for tool in tools)


def test_where_a_blank_decides_there_are_none():
    assert toolbox(load("tiles:3x3"), PLENTY) == ()
