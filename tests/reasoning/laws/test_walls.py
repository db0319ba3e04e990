"""Laws where the shape decides the turns: against walks through every state, and against SymPy's orders."""

from functools import cache

import numpy as np
import pytest
from sympy.combinatorics import Permutation, PermutationGroup

from oddswap.describing.changes import changed
from oddswap.puzzles.base import shapes
from oddswap.puzzles.base.shape_tree import around_home
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.groups.stabiliser_chain import enumerate_group
from oddswap.reasoning.laws import walls as both
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.lookalikes import hand_generators, whole_kinds
from oddswap.reasoning.laws.walls import walls
from oddswap.reasoning.verdicts.diagnosis import judged
from oddswap.reasoning.verdicts.findings import CANNOT_TELL, LOOKALIKE, NOT_BY_TURNING, ORDINARY, WallsApart
from tests.common.gap import gap, group, needs_gap
from tests.common.tracks import Track, random_track
from tests.reasoning.box_sights import Box
from tests.reasoning.box_walks import Walk, layer_turns, state_of

COPIES = {
    "cuboid:1x2x3,turns=all": (1, 2, 3),
    "cuboid:1x2x5,turns=all": (1, 2, 5),
    "cuboid:1x2x4,turns=all": (1, 2, 4),
    "cuboid:1x3x3,turns=U+F2": (1, 3, 3),
    "cuboid:2x2x4,turns=R2+U": (2, 2, 4),
    "cuboid:2x3x4,turns=U+F2": (2, 3, 4),
}
FEW = {"U": (1, True), "F2": (2, False), "R2": (0, False)}


@cache
def walked(name: str) -> Walk:
    """All that turns reach; of a box with all its turns, rotations of the whole box among them."""
    sides, (_, _, wanted) = COPIES[name], name.partition("turns=")
    if wanted == "all":
        turns = [*Box(sides, smallest=True).moves, *whole_turns(sides)]
    else:
        chosen = (FEW[word] for word in wanted.split("+"))
        turns = [turn for axis, quarter in chosen for turn in layer_turns(axis, sides[axis] - 1, quarter)[::2]]
    return Walk(sides, tuple(turns))


@cache
def walked_sights(name: str) -> frozenset:
    """What is seen of all that turns reach."""
    return frozenset(map(walked(name).sight, walked(name).states))


def whole_turns(sides):
    """Rotations of everything that carry the grid into itself, where nothing holds the middle."""
    if all(n % 2 for n in sides):
        return []
    return [layer_turns(axis, None, (sides[axis - 1] - sides[axis - 2]) % 2 == 0)[0] for axis in range(3)]


@pytest.mark.one_in(2)
@pytest.mark.parametrize("name", COPIES)
def test_orders_and_shapes_are_those_of_a_walk_through_every_state(name):
    puzzle, walk = load(name), walked(name)
    book = law_book(puzzle)
    outlines = {walk.outline(state) for state in walk.states}
    assert book.complete and (book.order, book.places) == (len(walk.states), len(outlines))
    if not puzzle.rotations or puzzle.chosen:
        assert book.shapes == len(outlines)
    assert book.appearances == len(walked_sights(name))


@pytest.mark.one_in(2)
@pytest.mark.parametrize("name", [name for name in COPIES if "2x2x4" not in name])
def test_every_verdict_on_what_hands_can_make_is_that_of_the_walk(name, cases):
    """Positions of 1 by 2 by 3, which has but a few hundred, every one with `--every-case`; of the others some, half by turns."""
    puzzle, walk = load(name), walked(name)
    ways = [turn for *_, turn in whole_turns(walk.sides)] if puzzle.chosen else []
    reached = set(walked_sights(name))
    queue = list(reached)
    for sight in queue:
        fresh = {turned(sight, way) for way in ways} - reached
        reached |= fresh
        queue += fresh
    hands, rng = hand_generators(puzzle, whole_kinds(puzzle)), np.random.default_rng(len(name))
    if name == "cuboid:1x2x3,turns=all":
        images = enumerate_group(hands, puzzle.degree)
        assert len(images) == 768
        images = images[:: cases.step]
    else:
        images = [some(hands, rng) for _ in cases] + [some(puzzle_loops(puzzle), rng) for _ in cases]
    verdicts = set()
    for image in images:
        state = puzzle.arrangement(image)
        verdict = judged(puzzle, puzzle.appearance(state)).verdict
        possible = walk.sight(state_of(puzzle, walk, state)) in reached
        assert (verdict in (ORDINARY, LOOKALIKE)) == possible
        verdicts.add(possible)
    assert verdicts == ({True} if law_book(puzzle).index_wide == 1 else {True, False})


def turned(sight, matrix):
    def carried(cell):
        return tuple(sum(m * c for m, c in zip(row, cell, strict=True)) for row in matrix)

    return frozenset((carried(cell), frozenset((carried(d), colour) for d, colour in shown)) for cell, shown in sight)


def some(generators, rng):
    image = np.arange(len(generators[0]))
    for number in rng.integers(len(generators), size=20):
        image = generators[number][image]
    return image


def puzzle_loops(puzzle):
    return list(walls(puzzle).loops)


@pytest.mark.parametrize("name", ["cuboid:2x3x4,turns=all", "cuboid:3x4x5,turns=all", "tiles:3x4"])
def test_every_loop_is_a_word_that_replays(name):
    puzzle = load(name)
    found = around_home(puzzle, 500)
    for numbers, turns, loops in found.loops(range(0, len(found), 97)):
        for number, turn, loop in list(zip(numbers, turns, loops, strict=True))[:3]:
            word = " ".join(found.round_trip(int(number), int(turn)))
            assert (puzzle.pieces_moved(puzzle.permutation(puzzle.follow(word))) == loop).all()


def test_where_walls_do_not_meet_the_factor_is_given_and_nothing_is_claimed(monkeypatch):
    """A few outlines of 2 by 3 by 4 give too few loops; that wings stay in their orbits is seen from within alone."""
    monkeypatch.setattr(both, "STAGES", (3, 5))
    for kept in (both.walls, law_book):
        kept.cache_clear()
    puzzle = load("cuboid:2x3x4,turns=all")
    try:
        book = law_book(puzzle)
        assert not book.complete and book.unexplained > 1
        flipped = judged(puzzle, puzzle.appearance(changed(puzzle, ["flip L.b2", "flip R.b2"])))
        assert flipped.verdict == CANNOT_TELL and flipped.one(WallsApart).factor == book.unexplained
        assert judged(puzzle, puzzle.appearance(puzzle.follow("U2"))).verdict == ORDINARY
    finally:
        monkeypatch.undo()
        for kept in (both.walls, law_book):
            kept.cache_clear()
    assert judged(puzzle, puzzle.appearance(changed(puzzle, ["flip L.b2", "flip R.b2"]))).verdict == NOT_BY_TURNING


def loops_of(track: Track) -> tuple[int, list[list[int]]]:
    """How many places the marker comes to, and what Schreier's loops do to the beads."""
    places = len(track.kinds[0].slots)
    frames, queue, loops = {0: np.arange(track.degree)}, [0], []
    arrows = [(turn.permutation, blocked) for turn, blocked in zip(track.turns.values(), track.blocked, strict=True)]
    for here in queue:
        for image, blocked in arrows:
            there = int(image[here])
            if blocked[here] or blocked[there]:
                continue
            ahead = image[frames[here]]
            if there in frames:
                loops.append(np.argsort(frames[there])[ahead])
            else:
                frames[there] = ahead
                queue.append(there)
    return len(frames), [[int(loop[x]) - places for x in range(places, track.degree)] for loop in loops]


@pytest.mark.parametrize("seed", range(60))
def test_orders_of_random_groupoids_are_those_of_sympy(seed):
    track = random_track(seed)
    count, loops = loops_of(track)
    order = PermutationGroup([Permutation(loop) for loop in loops] or [Permutation(len(track.kinds[1].slots) - 1)]).order()
    book = law_book(track)
    assert (book.shapes, book.proof.order) == (count, order)
    assert book.complete and shapes.count_of_shapes(track) == count


@needs_gap
def test_orders_of_random_groupoids_are_those_of_gap():
    tracks = [random_track(seed) for seed in range(60, 120)]
    orders = gap("".join(f'Print(Size({group(loops_of(track)[1])}), "\\n");\n' for track in tracks))
    assert [law_book(track).proof.order for track in tracks] == list(map(int, orders))
