"""Ways out made of one tool and a short set-up: ``S T S⁻¹``, beside the way that a search found.

From these and from the way that was found the easiest to follow is the one with the fewest turns to remember, as it is
written; another may have the fewest changes of grip, by the model of `oddswap.reasoning.teaching.effects`.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import islice

import numpy as np

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.budget import Clock, Limit, cached, started
from oddswap.reasoning.teaching.effects import grip_changes
from oddswap.reasoning.teaching.phases import phases, to_remember, written
from oddswap.reasoning.teaching.toolbox import symmetric_names, toolbox
from oddswap.reasoning.ways.as_seen import as_seen, wrong
from oddswap.reasoning.ways.commutators import Word, image_of, undone, visible
from oddswap.reasoning.ways.findings import Phase
from oddswap.reasoning.ways.tidy import tidied
from oddswap.values.arrangement import Arrangement

MORE = 6
"""A way made of a tool may have so many turns more than the shortest known."""
LONG = 7
"""A way of fewer turns is learnt as it is: no tool is looked for."""
MOST_LABELS = 150
"""Nor on puzzles with more labels, whose tools take long to mine."""
TOLD = 12
"""So many ways made of tools are compared; those with short set-ups come first."""
SETUPS = 6_000
"""Set-ups of one length are tried if there are at most so many."""
EASIEST, SHORTEST, GRIPS = "easiest to follow", "shortest", "fewest changes of grip"


@dataclass(frozen=True)
class TaughtWay:
    """One way as it is told: for what it was chosen (``sorts``), how it is written, its length, grips and phases."""

    sorts: tuple[str, ...]
    moves: str
    turns: str
    length: int
    remember: int
    grip_changes: int
    phases: tuple[Phase, ...]


def told_ways(puzzle: Puzzle, start: Arrangement, found: str, budget: Limit = None) -> tuple[TaughtWay, ...]:
    """The way that was found and the best others for it, the easiest to follow first; each leads from ``start`` to solved.

    >>> from oddswap import load
    >>> cube = load("cube:3")
    >>> moves = "F R U R' U' F'"
    >>> ways = told_ways(cube, cube.follow(cube.undone(moves)), moves)
    >>> ways[0].sorts, ways[0].moves
    (('easiest to follow', 'shortest', 'fewest changes of grip'), '[F: [R, U]]')
    """
    known = " ".join(str(step) for step in puzzle.read(found).steps)
    candidates = dict.fromkeys([known])
    if puzzle.steady and len(known.split()) >= LONG and puzzle.degree <= MOST_LABELS:
        most = len(known.split()) + MORE
        candidates |= dict.fromkeys(" ".join(word) for word in islice(by_tools(puzzle, start, most, started(budget)), TOLD))
    told = [_taught(puzzle, moves) for moves in candidates]
    easiest = min(told, key=lambda way: (way.remember, way.grip_changes, way.length))
    grips = min(told, key=lambda way: (way.grip_changes, way.length, way.remember))
    if grips.grip_changes == easiest.grip_changes:
        grips = easiest
    chosen: dict[str, list[str]] = {}
    for sort, way in ((EASIEST, easiest), (SHORTEST, told[0]), (GRIPS, grips)):
        chosen.setdefault(way.turns, []).append(sort)
    return tuple(
        replace(way, sorts=tuple(sorts), phases=phases(puzzle, start, puzzle.read(way.moves)) if puzzle.steady else ())
        for turns, sorts in chosen.items()
        for way in told
        if way.turns == turns
    )


def _taught(puzzle: Puzzle, moves: str) -> TaughtWay:
    """A way as it is written, not chosen for anything yet."""
    sequence = written(puzzle, moves)
    return TaughtWay((), str(sequence), moves, len(sequence), to_remember(sequence), grip_changes(puzzle, moves), ())


def by_tools(puzzle: Puzzle, start: Arrangement, most: int, clock: Clock) -> Iterator[Word]:
    """All ways out of at most ``most`` turns that are a tool with a set-up; each is replayed."""
    image, table, seen = puzzle.permutation(start), _undoing(puzzle, clock), visible(puzzle)
    told = set()
    for whole in (image, as_seen(puzzle, image)):
        for setup in _setups(puzzle):
            if clock.spent:
                return
            s = image_of(puzzle, setup)
            inner = s[whole[np.argsort(s)]]
            for tool in table.get(inner[seen].tobytes(), ()):
                word = tidied(puzzle, (*setup, *tool, *undone(puzzle, setup)))
                if len(word) <= most and word not in told and not wrong(puzzle, image_of(puzzle, word)[image]):
                    told.add(word)
                    yield word


@cached(8)
def _undoing(puzzle: Puzzle, clock: Clock) -> dict[bytes, list[Word]]:
    """For what each tool undoes, labelled and as seen: the tool. With all that symmetry makes of it."""
    table: dict[bytes, list[Word]] = {}
    seen = visible(puzzle)
    for tool in toolbox(puzzle, clock):
        if clock.spent:
            break
        for names in symmetric_names(puzzle):
            forward = tuple(names[turn] for turn in tool.turns)
            for word in (forward, undone(puzzle, forward)):
                back = image_of(puzzle, undone(puzzle, word))
                for image in {back[seen].tobytes(), as_seen(puzzle, back)[seen].tobytes()}:
                    table.setdefault(image, []).append(word)
    return table


@lru_cache(maxsize=8)
def _setups(puzzle: Puzzle) -> tuple[Word, ...]:
    """Set-ups of up to three turns, each effect once, shorter ones first."""
    found: dict[bytes, Word] = {np.arange(puzzle.degree).tobytes(): ()}
    layer: list[Word] = [()]
    for _ in range(3):
        if len(layer) * len(puzzle.turns) > SETUPS:
            break
        following = []
        for word in layer:
            for name in puzzle.turns:
                image = image_of(puzzle, (*word, name)).tobytes()
                if image not in found:
                    found[image] = (*word, name)
                    following.append(found[image])
        layer = following
    return tuple(found.values())
