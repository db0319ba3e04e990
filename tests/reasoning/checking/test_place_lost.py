"""A place that was lost: the true one is among those told, each is replayed, and going on from it solves the puzzle."""

import random

import pytest

from oddswap.describing.sights import every_look
from oddswap.puzzles.base.whole_turns import held_otherwise
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.checking.check import place_lost
from oddswap.reasoning.checking.mistakes import mistakes_in, word_with
from oddswap.reasoning.search.seen import seen_model
from oddswap.values.position import Appearance


def _scene(name, seed, length):
    puzzle, draw = load(name), random.Random(seed)
    way = tuple(draw.choice(list(puzzle.turns)) for _ in range(length))
    start = puzzle.appearance(puzzle.follow(puzzle.undone(" ".join(way))))
    return puzzle, start, way, draw


def _after(puzzle, start, word):
    model = seen_model(puzzle)
    state = model.pack(start)
    for turn in word:
        state = model.apply(state, turn)
    return model, state


def _partly(puzzle, appearance, hidden):
    sights = (every_look(puzzle, b) if b in hidden else sight for b, sight in enumerate(appearance.sights))
    return Appearance(puzzle.name, tuple(frozenset(sight) for sight in sights))


@pytest.mark.parametrize("name", ["cube:3", "shape-mod:prism8", "cube:2", "tetrahedron"])
@pytest.mark.parametrize("mistakes_made", [0, 1])
@pytest.mark.parametrize("seed", [3, 4])
def test_the_true_place_is_told_and_every_place_goes_on_to_solved(name, mistakes_made, seed):
    puzzle, start, way, draw = _scene(name, seed, 8)
    made = tuple(draw.sample(mistakes_in(puzzle, way), mistakes_made))
    done = draw.randint(made[0].at + made[0].instead_of if made else 0, len(way))
    model, state = _after(puzzle, start, word_with(way, made, done))
    hidden = set(draw.sample(range(len(puzzle.slots)), len(puzzle.slots) // 2))
    now = _partly(puzzle, model.unpack(state), hidden)
    lost = place_lost(puzzle, start, " ".join(way), now)
    assert any(place.done == done and place.made == word_with(way, made, done) for place in lost.places)
    assert [len(p.mistakes) for p in lost.places] == sorted(len(p.mistakes) for p in lost.places)
    for place in lost.places:
        state = _after(puzzle, start, place.made)[1]
        assert state.tobytes() == place.state
        seen = held_otherwise(puzzle, now, place.rotation)
        assert all(code in seen.sights[slot] for slot, code in zip(model.slots, state, strict=True))
        end = _after(puzzle, start, (*place.made, *place.undo, *place.rest))[1]
        assert (model.goals == end).all(axis=1).any()


def test_two_mistakes_are_found_where_one_explains_nothing():
    puzzle, start, way, _ = _scene("cube:3", 9, 12)
    left_out = [m for m in mistakes_in(puzzle, way) if m.sort == "reversed"]
    made = (left_out[1], left_out[-2])
    model, state = _after(puzzle, start, word_with(way, made, 12))
    lost = place_lost(puzzle, start, " ".join(way), model.unpack(state))
    assert lost.looked == 2 and lost.decided
    assert word_with(way, made, 12) in {place.made for place in lost.places}


def test_what_does_not_decide_is_said_with_the_slots_that_would():
    """R moves eight pieces and the pieces of L stay: seen from the left, solved and R' away look alike."""
    cube = load("cube:3")
    start = cube.appearance(cube.follow("R'"))
    hidden = {b for b, slot in enumerate(cube.slots) if "R" in slot}
    lost = place_lost(cube, start, "R", _partly(cube, start, hidden))
    assert not lost.decided and {p.done for p in lost.places if not p.mistakes} == {0, 1}
    assert set(lost.look_at) == {cube.slots[b] for b in hidden} - {"R"}
    assert place_lost(cube, start, "R", start).decided


def test_nothing_agrees_with_a_view_that_the_way_never_meets():
    cube = load("cube:3")
    far = cube.appearance(cube.follow("R U F L D B R2 U2 F2 L2"))
    lost = place_lost(cube, cube.appearance(cube.follow("R")), "R'", far)
    assert lost.places == () and lost.looked == 2 and not lost.decided
