"""What a box shows of its shape, slot by slot and by hand: filled, empty, or not seen; and which shapes its turns give."""

from dataclasses import replace

import numpy as np
import pytest

from oddswap.puzzles.base.shapes import copies_held, count_of_shapes
from oddswap.puzzles.catalogue import load
from tests.common.tracks import random_track
from tests.reasoning.box_sights import Box
from tests.reasoning.box_walks import Walk, layer_turns

BOX = "cuboid:1x2x3,turns=all"


@pytest.fixture(scope="module")
def box():
    return load(BOX)


def at(box, air):
    """A corner's slot and one of its kind that is empty at home, or the other way round."""
    return next(b for b in box.kinds[0].places if (b in box.void) == air)


def showing(box, slots):
    """Solved, but for what some slots show."""
    sights = list(box.appearance(box.solved).sights)
    for slot, looks in slots.items():
        sights[slot] = frozenset(looks)
    return replace(box.appearance(box.solved), sights=tuple(sights))


def own(box, slot):
    return int(box.looks[box.base_label[slot]])


def test_a_grid_of_six_cells_in_eighteen_places_has_twelve_empty_ones(box):
    """By hand: 1 by 2 by 3 may turn within 3 by 2 by 3."""
    assert (len(box.void), len(box.slots)) == (12, 18)
    assert (box.outline(box.solved) == box.filled).all() and box.closed(box.solved)
    assert sum(~box.filled) == 12 and not box.closed(box.follow("U"))


def test_a_slot_is_unsure_where_it_may_be_empty_or_not(box):
    full, air = at(box, False), at(box, True)
    others = [own(box, b) for b in box.kinds[0].places if b not in box.void]
    for looks, unsure, seen in (
        ({own(box, air), others[0]}, True, True),
        ({own(box, air)}, False, False),
        (set(others[:2]), False, True),
        ({others[0]}, False, True),
        (set(), False, False),
    ):
        appearance = showing(box, {full: looks})
        assert box.unsure(appearance) == ((full,) if unsure else ()) and box.outline_seen(appearance)[full] == seen
        assert (box.outline_seen(appearance)[: box.kinds[0].start + full] == box.filled[: box.kinds[0].start + full]).all()


def test_an_appearance_has_a_shape_where_as_many_are_filled_as_at_home(box):
    full, air = at(box, False), at(box, True)
    for slots, outline in (
        ({full: {own(box, air)}}, None),
        ({air: {own(box, full)}}, None),
        ({air: {own(box, full)}, full: {own(box, air)}}, {full, air}),
        ({air: {own(box, full)}, full: {own(box, air), own(box, full)}}, None),
        ({}, set()),
    ):
        found = list(box.standing(showing(box, slots)))
        assert len(found) == (outline is not None)
        for permutation in found:
            differs = np.flatnonzero(box.outline(box.arrangement(permutation)) != box.filled)
            assert set(differs.tolist()) == outline
            assert (np.unpackbits(box.shape_of(permutation), count=len(box.slots)) == box.outline_seen(showing(box, slots))).all()


def test_a_code_is_solid_where_a_piece_of_the_kind_looks_so_and_where_only_something_is_seen(box):
    """After the looks come *nothing there*, and *something*."""
    slots = np.arange(len(box.slots))[::-1]
    table = box.solid(slots)
    assert table.shape == (len(slots), box.looks.max() + 3) and table[:, -1].all() and not table[:, -2].any()
    for row, slot in zip(table, slots.tolist(), strict=True):
        kind = box.kind_of[slot]
        pieces = [b for b in kind.places if b not in box.void]
        assert set(np.flatnonzero(row[:-2])) == {int(box.looks[box.base_label[b] + t]) for b in pieces for t in range(kind.twist)}


def test_turns_carry_outlines_as_they_carry_slots(box):
    outlines = np.random.default_rng(1).random((20, len(box.slots))) < 0.5
    carried = box._carried_bytes(np.packbits(outlines, axis=1))
    for number, turn in enumerate(box.turns.values()):
        for before, row in zip(outlines, carried[number], strict=True):
            filled = {int(box.slots_of(turn.permutation[box.base_label[b]])) for b in np.flatnonzero(before)}
            assert set(np.flatnonzero(np.unpackbits(row, count=len(box.slots)))) == filled
            assert set(np.flatnonzero(box._carried(before, turn))) == filled


@pytest.mark.parametrize(("name", "ways"), [(BOX, 8), ("cuboid:1x2x3,turns=U", 1), ("cuboid:1x3x3,turns=all", 1)])
def test_as_many_whole_turns_as_nothing_holds(name, ways):
    """By hand: 4 about the axis of the even side, each also upside down; none of a copy with chosen turns, or with a middle."""
    puzzle = load(name)
    assert len(puzzle.whole_turns) == ways and (puzzle.whole_turns[0] == np.arange(puzzle.degree)).all()


def test_as_many_copies_as_whole_turns_find_outlines_that_turns_do_not():
    """Against walks through every state in plain integers, with whole turns and without."""
    puzzle, sides = load("cuboid:1x2x4,turns=all"), (1, 2, 4)
    turns = Box(sides, smallest=True).moves
    whole = [layer_turns(axis, None, (sides[axis - 1] - sides[axis - 2]) % 2 == 0)[0] for axis in range(3)]
    few, all_of_them = (Walk(sides, tuple(some)) for some in (turns, [*turns, *whole]))
    outlines = [len(set(map(walk.outline, walk.states))) for walk in (few, all_of_them)]
    assert outlines == [count_of_shapes(puzzle), count_of_shapes(puzzle) * copies_held(puzzle)]


def test_a_cube_has_one_shape():
    assert (count_of_shapes(load("cube:3")), copies_held(load("cube:3"))) == (1, 1)


@pytest.mark.parametrize("seed", [4, 8])
def test_the_turns_that_can_be_made_are_those_that_nothing_blocks(seed):
    track = random_track(seed)
    for place in range(len(track.kinds[0].slots)):
        image = np.arange(track.degree)
        image[[0, place]] = place, 0
        made = {turn.name for turn in track.legal(track.arrangement(image))}
        turns = zip(track.turns.values(), track.blocked, strict=True)
        assert made == {turn.name for turn, blocked in turns if not blocked[[place, turn.permutation[place]]].any()}
