"""Levels of boxes that open: as many states at each distance as a plain walk tells apart, and what was put away goes on alike.

Classes of what turns inside the box cannot change, against their number by laws.

Two words that meet: each excursion closes the box, and leads to the family that is told.
"""

import numpy as np
import pytest
from sympy.combinatorics import Permutation, PermutationGroup

from oddswap.puzzles.catalogue import load, with_turns_out_of_the_box
from oddswap.reasoning.opening.box_levels import BoxLevels, inverses, meetings, round_trips, words_through
from oddswap.reasoning.opening.frames import frame_of
from oddswap.reasoning.opening.law_families import family_of
from oddswap.reasoning.opening.ways_map import back_in_the_box
from tests.common.clocks import PLENTY
from tests.reasoning.boxes import box_moves, layers


def frame(name):
    puzzle = load(name)
    return frame_of(with_turns_out_of_the_box(puzzle), tuple(puzzle.turns))


def key_after(frame, word):
    """The key of what moves that can be made, one after another, make of the solved box."""
    row = frame.labelled.solved
    for move in word:
        row = frame.moves.apply(row, move)
        assert frame.moves.may_be(row[None])[0]
    return frame.keys(row[None])[0]


def keys_by_distance(frame, depth):
    """The keys at each distance, every state of the last level turned every way and compared with all before."""
    edge, seen = {frame.keys(frame.labelled.solved[None]).tobytes(): frame.labelled.solved}, set()
    for _ in range(depth + 1):
        yield set(edge)
        seen |= edge.keys()
        rows = (frame.moves.apply(row, move) for row in edge.values() for move in range(len(frame.moves)))
        made = {frame.keys(row[None]).tobytes(): row for row in rows if frame.moves.may_be(row[None])[0]}
        edge = {key: row for key, row in made.items() if key not in seen}


@pytest.mark.parametrize(("name", "depth"), [("cuboid:2x3x4", 4), ("cuboid:1x3x3", 3), ("cuboid:2x2x4", 2)])
def test_levels_are_those_of_a_plain_walk(name, depth):
    found = frame(name)
    levels = BoxLevels(found, found.labelled.solved[None])
    for number, keys in enumerate(keys_by_distance(found, depth)):
        if number:
            levels.grow()
        assert {key.tobytes() for key in levels.edge_keys} == keys == {found.keys(row[None]).tobytes() for row in levels.edge}


def test_words_lead_from_a_start_to_the_state_as_it_is_told_apart():
    found = frame("cuboid:2x3x4")
    levels = BoxLevels(found, found.labelled.solved[None])
    for _ in range(5):
        levels.grow()
    for place in range(0, len(levels.edge), 97):
        assert key_after(found, levels.word(place)) == levels.edge_keys[place]


def test_levels_that_were_put_away_go_on_as_if_nothing_had_happened():
    found = frame("cuboid:1x3x5")
    levels = BoxLevels(found, found.labelled.solved[None])
    for _ in range(3):
        levels.grow()
    other = BoxLevels(found, found.labelled.solved[None])
    other.restore(levels.arrays())
    for one in (levels, other):
        one.grow()
    assert (levels.edge == other.edge).all() and (levels.edge_keys == other.edge_keys).all()
    assert levels.word(11) == other.word(11) and levels.states == other.states


def test_words_to_the_level_before_lead_there():
    found = frame("cuboid:2x3x4")
    levels = BoxLevels(found, found.labelled.solved[None])
    for _ in range(4):
        levels.grow()
    for place in range(0, len(levels.before), 7):
        assert key_after(found, levels.word(place, 3)) == levels.before_keys[place] == found.keys(levels.before[place][None])[0]


def test_two_walks_meet_half_way():
    found = frame("cuboid:2x3x4")
    names = list(found.box.turns)
    far = found.labelled.solved
    for name in "U 2F2 LL2 U'".split():
        far = found.moves.apply(far, names.index(name))
    out, back = BoxLevels(found, far[None]), BoxLevels(found, found.labelled.solved[None])
    lengths = []
    for levels in (out, back, out, back):
        levels.grow()
        words = list(words_through(out, back, inverses(found)))
        lengths.append({len(word) for word in words})
        for word in words:
            row = far
            for move in word:
                row = found.moves.apply(row, move)
            assert found.keys(row[None])[0] == found.keys(found.labelled.solved[None])[0]
    assert lengths == [set(), set(), set(), {4}]


def test_when_the_time_ends_the_levels_stay_as_they_were():
    found = frame("cuboid:2x3x4")
    levels = BoxLevels(found, found.labelled.solved[None])
    levels.grow()
    before, calls = levels.edge_keys.copy(), iter(range(3))
    with pytest.raises(StopIteration):
        levels.grow(lambda: next(calls))
    assert (levels.edge_keys == before).all() and levels.depth == 1
    assert isinstance(levels.nbytes, int) and np.ndim(levels.edge) == 2


@pytest.mark.parametrize(("sides", "readings"), [((1, 3, 3), 24 * 2**4), ((2, 2, 4), 24**4)])
def test_as_many_classes_as_the_index_of_the_half_turns_in_integer_cells(sides, readings):
    """Twists of single edges included, every assembly is a reading, so classes are cosets of the group of the half turns."""
    name = f"cuboid:{'x'.join(map(str, sides))}"
    half, box = load(f"{name},turns=half"), load(f"{name},turns=all")
    moves = box_moves(sides, half=True)[: len(layers(sides))]
    order = PermutationGroup([Permutation(images) for images in moves.tolist()]).order()
    frame = frame_of(box, tuple(half.turns))
    assert len(frame.classes) == readings and len(np.unique(frame.classes)) == readings // order


def test_turns_inside_the_box_change_no_class_and_turns_outside_are_undone_by_their_inverses():
    half, box = load("cuboid:2x3x4,turns=half"), load("cuboid:2x3x4,turns=all")
    frame = frame_of(box, tuple(half.turns))
    model = frame.labelled
    solved = frame.keys(model.solved[None])
    for name in half.turns:
        turned = model.apply(model.solved, name)
        assert (frame.keys(turned[None]) == solved).all()
        assert next(meetings(frame, turned, PLENTY, 1000)) == []
    opened = model.apply(model.solved, "U")
    (way,) = (next(meetings(frame, opened, PLENTY, 1000)),)
    assert len(way) == 1 and (frame.keys(model.apply(opened, list(box.turns)[way[0]])[None]) == solved).all()


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
