"""Which puzzle is it: names of boxes as they are held, turns that can be ticked, and who is told of a change."""

import pytest

from oddswap.desk.which_puzzle import PUZZLES, WhichPuzzle, tickable
from oddswap.puzzles.catalogue import load


@pytest.fixture
def asked():
    told = []
    which = WhichPuzzle(
        PUZZLES,
        lambda puzzle: told.append(("chosen", puzzle.name)),
        lambda puzzle: told.append(("limited", puzzle.name)),
        lambda error: told.append(("refused", str(error))),
    )
    return which, told


def test_choosing_and_holding_name_another_puzzle(asked):
    which, told = asked
    which.chooser.value = "cuboid:2x3x4"
    for way in ("left to right", "front to back", "up to down"):
        which.tallest.value = way
    names = ["cuboid:2x4x3", "cuboid:4x2x3", "cuboid:2x3x4", "cuboid:2x4x3"]
    assert told == [("chosen", name) for name in names] and which.puzzle is load(names[-1])


def test_ticks_limit_the_turns_and_none_at_all_is_refused(asked):
    which, told = asked
    which.chooser.value = "cube:2"
    first, *others = which.turns.children
    first.value = False
    assert told[-1][0] == "limited" and first.description not in load(told[-1][1]).turns
    for tick in others:
        tick.value = False
    assert told[-1][0] == "refused" and "\n" not in told[-1][1]
    first.value = True
    assert told[-1] == ("limited", f"cube:2,turns={first.description}")


def test_showing_a_puzzle_tells_nobody(asked):
    which, told = asked
    which.show("tiles:4x4")
    assert which.chooser.value == "tiles:4x4" and not which.turns.children
    which.show("cube:25")
    assert which.chooser.value == "" and told == []


@pytest.mark.parametrize(
    ("name", "count"), [("cube:3", 12), ("cuboid:2x3x4,turns=half", 2 + 2 + 4), ("tiles:3x3", 0), ("dodecahedron", 0)]
)
def test_each_slab_can_be_ticked_by_a_quarter_and_by_a_half(name, count):
    found = tickable(load(name))
    assert len(found) == count and not any(turn.endswith("'") for turn in found)


def test_a_box_with_turns_of_its_own_is_held_as_it_is_named():
    which = WhichPuzzle(["cuboid:1x3x5,turns=all", "cuboid:2x3x4"], print, print, print)
    assert which.puzzle is load("cuboid:1x3x5,turns=all") and which.tallest.layout.display == "none"
    which.chooser.value = "cuboid:2x3x4"
    assert which.puzzle is load("cuboid:2x4x3") and which.tallest.layout.display is None
