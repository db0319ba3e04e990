"""Verdicts where nothing fixes the holding: against their definition on stickers, the books, and the same held otherwise."""

from collections import Counter
from random import Random

import numpy as np
import pytest

from oddswap.describing.changes import changed
from oddswap.describing.sights import every_look
from oddswap.puzzles.base.whole_turns import held_otherwise, holdings
from oddswap.puzzles.catalogue import load, with_all_turns
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.laws.lookalikes import lookalikes
from oddswap.reasoning.verdicts.diagnosis import diagnose, is_ordinary, judged
from oddswap.reasoning.verdicts.findings import OnceStraight
from oddswap.reasoning.verdicts.repairs import HandSwap
from oddswap.values.permutation import sign_by_cycles
from oddswap.values.position import Appearance
from tests.reasoning.by_definition import ByDefinition
from tests.reasoning.held_by_definition import HeldByDefinition
from tests.reasoning.stickers_by_cell import box_of, random_moves, then

COPIES = [
    *("cuboid:1x3x4", "cuboid:1x3x4,turns=U2+2F2", "cuboid:1x3x4,turns=F2", "cuboid:1x3x4,turns=U2+F2+2F2"),
    *("cuboid:2x3x3,turns=R+U2", "cuboid:2x3x3,turns=U2+F2", "cuboid:2x3x3,turns=R+L", "cuboid:2x3x3,turns=R2+L2"),
    *("cuboid:2x3x4,turns=U2+2F2", "cuboid:2x3x4,turns=R2+F2+2F2", "cuboid:2x3x4,turns=U2+R2", "cuboid:1x3x6,turns=U2+2F2+3F2"),
    *("cuboid:1x4x4,turns=2U2+2F2", "cuboid:1x4x4,turns=U2+2F2+D2", "cuboid:1x4x4,turns=U2+F2", "cuboid:1x5x4,turns=2U2+2F2+U2"),
    *("cuboid:2x3x4,turns=2F2+F2", "cuboid:1x5x4,turns=F2+2U2", "cuboid:1x3x6,turns=F2+2F2", "cuboid:2x3x3,turns=U2+D2+F2+B2"),
]
"""Copies with some lookalikes, and turns that reach at most some ten thousand arrangements."""


def judge_of(name):
    puzzle = load(name)
    return HeldByDefinition(box_of(name), list(puzzle.turns), list((with_all_turns(puzzle) or puzzle).turns))


def positions(judge, wide, rng, count):
    """Turns of the copy, with one of all turns among them or pieces exchanged by hand after them, and a holding."""
    rotations = ["", *wide.rotations]
    for number in range(count):
        own = random_moves(judge.turns, rng, rng.randrange(6))
        others = random_moves(judge.wide, rng, rng.choice((1, 1, 2))) if number % 4 == 1 else ""
        kind = rng.choice([kind for kind in wide.kinds if len(kind.slots) > 1 and (kind.twist, kind.family) != (2, "edges")])
        count = rng.choice((1, 1, 2)) if number % 2 == 0 and kind.family != "centres" else 0
        swaps = [tuple(rng.sample(kind.slots, 2)) for _ in range(count)]
        yield f"{own} {others}", swaps, f"{rng.choice(rotations)} {rng.choice(rotations)}"


@pytest.mark.parametrize("name", COPIES)
def test_a_verdict_is_that_of_the_definition_in_every_holding(name, cases):
    judge, puzzle, rng, found = judge_of(name), load(name), Random(name), Counter()
    wide = with_all_turns(puzzle) or puzzle
    assert len(judge.hidden) == lookalikes(puzzle).order > 1
    for word, swaps, held in positions(judge, wide, rng, len(cases) // 2):
        image = judge.box.made(word)
        for pair in swaps:
            image = then(image, judge.swap(*pair))
        image = then(image, judge.box.made(held))
        state = changed(wide, [f"swap {one} {other}" for one, other in swaps], wide.follow(word))
        appearance = wide.appearance(wide.follow(held, state))
        verdict = judged(puzzle, appearance).verdict
        truth = judge.verdict(image)
        assert verdict == truth if truth else verdict in ("other turns", "not by turning"), (word, swaps, held)
        assert is_ordinary(puzzle, appearance) == (truth == "ordinary")
        found[truth] += 1
    assert found["ordinary"] and found[None]


def any_position(puzzle, rng):
    """Some turns, up to two exchanges by hand, and perhaps a corner twisted."""
    state = puzzle.follow(random_moves(list(puzzle.turns), rng, rng.choice((0, 0, 1, 2, 3, 20))))
    for _ in range(rng.choice((0, 1, 1, 2))):
        kind = rng.choice([kind for kind in puzzle.kinds if len(kind.slots) > 1])
        state = changed(puzzle, [f"swap {' '.join(rng.sample(kind.slots, 2))}"], state)
    if rng.random() < 0.2 and puzzle.kinds[0].twist == 3:
        state = changed(puzzle, [f"twist {puzzle.kinds[0].slots[0]} cw"], state)
    return state


def of_four_slabs(judge, appearance, state):
    """The verdict on a cube of four slabs by the books, with lookalikes free as `ByDefinition` says.

    The corners' twists add up to whole turns, and corners and centres are both even or both odd, for a turn of an outer layer
    takes four of each round, of an inner one eight centres; nothing else is fixed (Joyner 2008, section 13.2; memory).
    """
    cube, (corners, _, centres) = judge.puzzle, judge.puzzle.kinds
    if sum(state.twists[slot] for slot in corners.places) % 3:
        return "not by turning"
    holdings_of = (held_otherwise(cube, appearance, rotation).looks for _, rotation in holdings(cube))
    looks = sorted(holdings_of, key=lambda one: len(judge.wrong(one)))
    for one in (one for one in looks if len(judge.wrong(one)) == len(judge.wrong(looks[0]))):
        colours = Counter(cube.slots[piece][0] for piece in judge.free(judge.wrong(one)) & set(centres.places))
        if max(colours.values(), default=0) > 1 or odd(judge, corners, one) == odd(judge, centres, one):
            return "ordinary"
    return "lookalike"


def odd(judge, kind, looks):
    """Whether the pieces of a kind are seen in an odd order, where of those that look alike at most one looks wrong."""
    cube, wrong, order = judge.puzzle, judge.wrong(looks), []
    for slot in kind.places:
        looking = [p for p in kind.places if looks[slot] in cube.looks[cube.base_label[p] + np.arange(kind.twist)]]
        order.append(next(p for p in looking if p in wrong) if slot in wrong else slot)
    return sign_by_cycles([p - kind.start for p in order]) < 0


def test_a_cube_of_four_slabs_is_judged_as_the_books_do(cases):
    cube, rng, found = load("cube:4"), Random(4), Counter()
    judge = ByDefinition(cube)
    for _ in cases:
        state = cube.follow(random_moves(list(cube.rotations), rng, 2), any_position(cube, rng))
        appearance = cube.appearance(state)
        verdict = judged(cube, appearance).verdict
        assert verdict == of_four_slabs(judge, appearance, state)
        found[verdict] += 1
    assert found.keys() == {"ordinary", "lookalike", "not by turning"} and min(found.values()) > 2


@pytest.mark.parametrize(
    "name",
    [*("cube:2", "cube:4", "cube:5,centres=none", "octahedron"), *COPIES[:5], "cuboid:2x3x4", "cuboid:2x4x4", "cuboid:3x3x4"],
)
def test_how_it_is_held_changes_nothing(name, cases):
    """The verdict, what is broken, whom it accuses, how often it happens and what it will look like once straight."""
    puzzle, rng = load(name), Random(name)
    for _ in cases[::10]:
        seen, told = puzzle.appearance(any_position(puzzle, rng)), set()
        for _, rotation in [holdings(puzzle)[0], *rng.sample(holdings(puzzle), 2)]:
            found = diagnose(puzzle, held_otherwise(puzzle, seen, rotation), Budget(5.0))
            culprits, later = frozenset(culprit.pieces for culprit in found.culprits), found.one(OnceStraight)
            broken, mended = frozenset(law.name for law in found.broken), found.repair.by_hand if found.repair else ()
            by_hand = sum(2 if isinstance(change, HandSwap) else 1 for change in mended)
            told.add((found.verdict, broken, culprits, found.surprise, bool(later), by_hand))
        assert len(told) == 1


@pytest.mark.parametrize("name", ["cube:4", "octahedron", "cuboid:2x4x4", "cuboid:2x3x3,turns=R+U2"])
def test_nor_where_some_slots_are_not_seen(name, cases):
    puzzle, rng, found = load(name), Random(name), Counter()
    for _ in cases[::10]:
        seen, hidden = puzzle.appearance(any_position(puzzle, rng)), rng.sample(range(len(puzzle.slots)), rng.choice((1, 2, 4)))
        sights = [every_look(puzzle, slot) if slot in hidden else sight for slot, sight in enumerate(seen.sights)]
        every = [held_otherwise(puzzle, Appearance(name, tuple(sights)), r) for _, r in rng.sample(holdings(puzzle), 3)]
        verdicts = {judged(puzzle, appearance).verdict for appearance in every}
        assert len(verdicts) == 1
        found.update(verdicts)
    assert len(found) > 1
