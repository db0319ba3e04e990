"""Trees of shapes, and the way home from a shape, against a plain walk along every arrow."""

import numpy as np
import pytest
from sympy.combinatorics import Permutation, PermutationGroup

from oddswap.puzzles.base import shape_tree, shapes
from tests.common.tracks import random_track

SEEDS = (1, 4, 5, 8, 9, 12)


def arrows_of(track):
    """By place: for each turn that can be made there, its number and the place to which it leads."""
    images, blocked = [turn.permutation for turn in track.turns.values()], track.blocked
    return [
        {number: int(image[here]) for number, image in enumerate(images) if not blocked[number][[here, image[here]]].any()}
        for here in range(len(track.kinds[0].slots))
    ]


def levels_of(arrows, start):
    """The places by their distance from one."""
    levels, known = [{start}], {start}
    while fresh := {there for here in levels[-1] for there in arrows[here].values()} - known:
        levels.append(fresh)
        known |= fresh
    return levels


def followed(track, word):
    image = np.arange(track.degree)
    for name in word:
        image = track.turns[name].permutation[image]
    return image


@pytest.fixture(params=[(shape_tree.AT_ONCE, shape_tree.ROOM), (2, 5)], ids=["at once", "in parts"])
def in_parts(request, monkeypatch):
    monkeypatch.setattr(shape_tree, "AT_ONCE", request.param[0])
    monkeypatch.setattr(shape_tree, "ROOM", request.param[1])


@pytest.mark.parametrize("most", [1, 4, 12, 1000])
@pytest.mark.parametrize("seed", SEEDS)
def test_a_tree_has_the_nearest_shapes_and_the_turns_that_lead_there(seed, most, in_parts):
    track = random_track(seed)
    start = len(track.kinds[0].slots) // 2
    arrows = arrows_of(track)
    levels = levels_of(arrows, start)
    found = shape_tree.explored(track, bytes([start]), most)
    places, ends = found.rows[:, 0].tolist(), np.cumsum(found.levels).tolist()
    every = sum(map(len, levels))
    assert len(set(places)) == len(places) == len(found) == ends[-1]
    assert len(found) >= min(most, every) and (not found.whole or len(found) == every) and (found.whole or most <= every)
    for number, (begin, end) in enumerate(zip([0, *ends], ends, strict=False)):
        assert set(places[begin:end]) <= levels[number]
        assert end == len(found) or set(places[begin:end]) == levels[number]
        for i in range(begin, end):
            word = found.word(i)
            image = followed(track, word)
            assert (len(word), image[start]) == (number, places[i])
            assert (found.frames(np.array([i]))[0] == image).all() and (found.homeward(i)[image] == np.arange(track.degree)).all()
    numbers = found.find(np.arange(len(arrows), dtype=np.uint8)[:, None])
    assert numbers.tolist() == [places.index(place) if place in places else -1 for place in range(len(arrows))]
    several = np.arange(len(found))[::-1]
    assert (found.frames(several)[::-1] == [followed(track, found.word(i)) for i in range(len(found))]).all()


@pytest.mark.parametrize("most", [4, 12, 1000])
@pytest.mark.parametrize("seed", SEEDS)
def test_the_loops_are_those_of_every_arrow_within_the_tree_once(seed, most, in_parts):
    track = random_track(seed)
    arrows, still = arrows_of(track), np.arange(track.degree)
    found = shape_tree.around_home(track, most)
    places, names = found.rows[:, 0].tolist(), list(track.turns)
    expected = {}
    for number, place in enumerate(places):
        for turn, there in arrows[place].items():
            if there in places[: number + 1]:
                back = [name.removesuffix("'") if "'" in name else f"{name}'" for name in found.word(places.index(there))[::-1]]
                assert found.round_trip(number, turn) == (*found.word(number), names[turn], *back)
                image = followed(track, found.round_trip(number, turn))
                if (image[track.pieces] != still[track.pieces]).any():
                    expected[number, turn] = np.where(track.pieces, image, still).tolist()
    parts = [list(zip(*(part.tolist() for part in some), strict=True)) for some in found.loops()]
    assert {(number, turn): loop for part in parts for number, turn, loop in part} == expected
    assert sum(map(len, parts)) == len(expected)
    some = {number for part in found.loops([1, 0]) for number in part[0].tolist()}
    assert some == {number for number, _ in expected if number < 2}


@pytest.mark.parametrize("stages", [shapes.STAGES, (1, 3, 3)])
@pytest.mark.parametrize("seed", SEEDS)
def test_the_way_home_is_known_wherever_arrows_lead_home(seed, stages, monkeypatch):
    """What comes home along it is in the group that all loops generate, by SymPy."""
    monkeypatch.setattr(shapes, "STAGES", stages)
    track = random_track(seed)
    arrows, still = arrows_of(track), np.arange(track.degree)
    tree = shape_tree.around_home(track, 1000)
    group = PermutationGroup(
        [Permutation(still.tolist()), *(Permutation(row.tolist()) for part in tree.loops() for row in part[2])]
    )
    home = set().union(*levels_of(arrows, 0))
    for place in range(len(arrows)):
        image = followed(track, tree.word(tree.rows[:, 0].tolist().index(place))) if place in home else still.copy()
        if place not in home:
            image[[0, place]] = place, 0
        back, homed = track.homeward(image, 1000), track.homed(image)
        assert (back is not None) == (homed is not None) == (place in home)
        if back is not None:
            assert back[image][0] == 0 and (homed == np.where(track.pieces, back[image], still)).all()
            assert group.contains(Permutation(homed.tolist()))
    gone = sum(track.never_home(np.roll(still, -place)) for place in range(len(arrows)))
    assert gone == len(arrows) - len(home) if stages[1] > len(arrows) else gone <= len(arrows) - len(home)
