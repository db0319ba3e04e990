"""The way out of a reported position and the set-up that puts it on one's own copy, searched on what is seen.

Where another holding has other turns a way is looked for in each from which they lead home, and the shortest of these is told.
"""

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, replace
from itertools import chain, product

import numpy as np

from oddswap.errors import TooLarge, UnknownMove
from oddswap.forwards import forwarded
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.whole_turns import held_by, held_still, holdings, made_before, turns_fit_every_holding
from oddswap.reasoning.budget import Clock, Limit, started
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.sectors import by_orbits
from oddswap.reasoning.search.kept_files import ThrownAway
from oddswap.reasoning.search.levels import Counted, Ending, TooManyLooks
from oddswap.reasoning.search.seen import seen_model
from oddswap.reasoning.search.shortest import Progress, find_way
from oddswap.reasoning.verdicts.findings import Diagnosis, turned_whole
from oddswap.reasoning.verdicts.mending import is_reachable_as_held, mended
from oddswap.reasoning.ways import findings as said
from oddswap.reasoning.ways.by_cycles import home_by_cycles, home_by_loops
from oddswap.reasoning.ways.by_filling import home_by_filling
from oddswap.reasoning.ways.commutators import Word
from oddswap.reasoning.ways.findings import Composed, Parts, Phase, fewest_turns
from oddswap.reasoning.ways.short_words import MOST_LABELS, short_words
from oddswap.values.position import Appearance, Arrangement


def through(puzzle: Puzzle, explanation: Arrangement, inner: Word, clock: Clock) -> Parts | None:
    """The two stages home through the turns ``inner``; ``None`` when the budget ends first.

    ``explanation`` is a reachable arrangement; the last stage looks for what is seen, so lookalikes help it.
    """
    coarse = by_orbits(puzzle, inner)
    start = Arrangement(coarse.name, explanation.pieces, explanation.twists)
    first = find_way(coarse, coarse.appearance(start), budget=clock)
    if first.turns is None:
        return None
    between = puzzle.follow(" ".join(first.turns), explanation)
    allowed = [name for name in puzzle.turns if name in inner or name.rstrip("2'") in inner]
    last = find_way(puzzle, puzzle.appearance(between), turns=allowed, budget=clock)
    return None if last.turns is None else [(said.SortIntoOrbits(), first.turns), (said.FinishWith(inner), last.turns)]


SMALL_LABELS = 40
"""Puzzles with at most so many labels are tried along a chain too where three-cycles lead home: the shorter way is given."""
AT_FIRST = 0.4
"""Seconds for a search for a shortest way; more on puzzles whose states are few."""
ATTEMPT = 0.3
"""Seconds for each of two stages when they are first tried."""
INNER = ("U", "D", "F2", "B2", "L2", "R2")


def way_home(puzzle: Puzzle, explanation: Arrangement, budget: Limit = None) -> Parts | None:
    """The stages of a way home from a reachable arrangement; ``None`` where none was found within the budget.

    >>> from oddswap import Budget, load
    >>> cube = load("cube:3")
    >>> way_home(cube, cube.follow("R U F2"), Budget(10.0))
    [(GoShortest(), ('F2', "U'", "R'"))]
    """
    clock = started(budget)
    short = find_way(puzzle, puzzle.appearance(explanation), budget=clock.share(0.25, AT_FIRST))
    if short.turns is not None:
        return [(said.GoShortest(), short.turns)]
    if puzzle.blank is not None:
        return _replayed(puzzle, explanation, home_by_filling(puzzle, explanation, clock))
    if puzzle.leaves_outline:  # its turns are no group
        return None
    if puzzle.shape_first:
        return _replayed(puzzle, explanation, home_by_loops(puzzle, explanation, clock))
    return (_held_some_way if puzzle.rotations else _held_still)(puzzle, explanation, clock)


def _held_still(puzzle: Puzzle, explanation: Arrangement, clock: Clock) -> Parts | None:
    if set(INNER) <= set(puzzle.turns) and set(puzzle.alphabet.layers.values()) == {3}:
        if (stages := _in_stages(puzzle, explanation, clock.share(0.5))) is not None:
            return stages
    return _replayed(puzzle, explanation, _by_tables(puzzle, explanation, clock))


def _held_some_way(puzzle: Puzzle, explanation: Arrangement, clock: Clock) -> Parts | None:
    """Held in the first way from which turning alone leads home; the turns are then named as the puzzle was held before."""
    held = held_still(puzzle)
    book, image = law_book(held), puzzle.permutation(explanation)
    for _, rotation in holdings(puzzle):
        turned, names = rotation[image], made_before(puzzle, rotation)
        if len(names) < len(puzzle.turns) or not book.reaches_permutation(turned):
            continue
        if (stages := _held_still(held, puzzle.arrangement(turned), clock)) is not None:
            return [(aim, tuple(names[turn] for turn in word)) for aim, word in stages]
    return None


def _in_stages(puzzle: Puzzle, explanation: Arrangement, clock: Clock) -> Parts | None:
    """Two stages; where the last is hard, one or two turns before them lead elsewhere.

    Each attempt gets somewhat more time than the one before, so that some stage ends on a slow or busy machine too.
    """
    seconds = ATTEMPT
    for before in chain([()], product(puzzle.turns), product(puzzle.turns, repeat=2)):
        if clock.spent:
            break
        start = puzzle.follow(" ".join(before), explanation)
        if (found := through(puzzle, start, INNER, clock.share(1.0, seconds))) is not None:
            (aim, word), last = found
            return [(aim, before + word), last]
        seconds *= 1.2
    return None


def _by_tables(puzzle: Puzzle, explanation: Arrangement, clock: Clock) -> Parts | None:
    """By three-cycles, and on small puzzles along a chain of stabilisers: the shorter way."""
    image = puzzle.permutation(explanation)
    ways = [home_by_cycles(puzzle, image, clock) or []]
    most = MOST_LABELS if not ways[0] else SMALL_LABELS if not clock.spent else 0
    word = short_words(puzzle, clock).home(image) if puzzle.degree <= most else None
    return fewest_turns(way for way in (*ways, [(said.BringOneByOne(), word)] if word else []) if way)


def _replayed(puzzle: Puzzle, explanation: Arrangement, parts: Parts | None) -> Parts | None:
    return parts if parts is not None and replays(puzzle, explanation, parts) else None


def replays(puzzle: Puzzle, explanation: Arrangement, parts: Parts) -> bool:
    """Whether the turns of the parts can be made, and make an arrangement look solved."""
    try:
        end = puzzle.follow(" ".join(turn for _, word in parts for turn in word), explanation)
    except UnknownMove:
        return False
    return puzzle.appearance(end).sights == puzzle.appearance(puzzle.solved).sights


SEARCHED = 0.7
"""The share of the time that goes into a search for the shortest way; the rest is for any way."""

QUICK = 2.0
"""Seconds at most for a way home as a puzzle is held now."""


@forwarded
@dataclass(frozen=True)
class Route:
    """A checked sequence, or ``None`` with the bound that was proved before the budget ended.

    ``turns`` are the names of the slabs that were allowed; ``counted`` is what counts as one, ``reasons`` are why it is this way.
    """

    moves: str | None
    length: int | None
    lower_bound: int
    shortest: bool
    counted: Counted
    turns: tuple[str, ...]
    reasons: tuple[Ending | ThrownAway | Composed, ...]
    phases: tuple[Phase, ...] = ()
    """Empty where the way is one stretch."""
    easier: tuple[Phase, ...] = ()
    """The phases of another way that may be easier to follow, where one is known."""


def way_out(puzzle: Puzzle, explanation: Arrangement, budget: Limit = None, progress: Progress | None = None) -> Route:
    """A sequence after which a reachable explanation looks solved, in any holding where that is free: the shortest, if there
    is time to find it, else one put together from stages.

    Lookalikes need no special case, because the search knows only what is seen. `ArithmeticError` if the sequence fails
    its replay, which would be a bug.
    """
    clock = started(budget)
    allowed = tuple(sorted({turn.step.name for turn in puzzle.turns.values()}, key=lambda n: (len(n), n)))
    try:
        seen_model(puzzle)
    except TooLarge:
        return Route(None, None, 0, False, Counted("slab", (), puzzle.name), allowed, (TooManyLooks(),))
    found = find_way(puzzle, puzzle.appearance(explanation), budget=clock.share(SEARCHED), progress=progress)
    turns, phases, reasons = found.turns, (), found.reasons
    if turns is None and not found.impossible:
        stages = way_home(puzzle, explanation, clock)
        reasons += (said.FromStages() if stages else said.NotInStages(),)
        if stages is not None:
            turns, phases = tuple(turn for _, word in stages for turn in word), _spelled(puzzle, explanation, stages)
    moves = None if turns is None else puzzle.spelled(" ".join(turns), explanation)
    if moves is not None and not looks_solved(puzzle, puzzle.appearance(puzzle.follow(moves, explanation))):
        raise ArithmeticError(f"the way out {moves} does not solve {explanation}")
    length = None if turns is None else len(turns)
    shortest = found.turns is not None and found.shortest
    return Route(moves, length, found.lower_bound, shortest, found.counted, allowed, reasons, phases)


def _spelled(puzzle: Puzzle, start: Arrangement, parts: Parts) -> tuple[Phase, ...]:
    phases = []
    for aim, word in parts:
        moves = " ".join(word)
        phases.append(Phase(aim, puzzle.spelled(moves, start)))
        start = puzzle.follow(moves, start)
    return tuple(phases)


def set_up(puzzle: Puzzle, way: Route, explanation: Arrangement, budget: Limit = None) -> str | None:
    """The moves that put what is seen on a solved copy: the way out undone, after a new holding if need be.

    A box held so that its outline is another makes other turns, so such holdings are passed over. One that the way leaves lying
    on another side is turned first, and laid there after that. ``None`` where another holding has other turns, and no way to
    solved as it is held now was found.
    """
    if way.moves is None:
        return None
    appearance, undone = puzzle.appearance(explanation), puzzle.undone(way.moves, explanation)
    every = [" ".join(names) for names, _ in holdings(puzzle)]
    for holding in every:
        moves = f"{holding} {undone}".strip()
        with suppress(UnknownMove):
            if puzzle.appearance(puzzle.follow(moves)).sights == appearance.sights:
                return moves
    for holding in every[1:]:
        with suppress(UnknownMove):
            moves = _laid(puzzle, undone, holding)
            if moves and puzzle.appearance(puzzle.follow(moves)).sights == appearance.sights:
                return moves
    if turns_fit_every_holding(puzzle):
        raise ArithmeticError(f"{undone} does not set the position up")
    home = find_way(held_still(puzzle), appearance, budget=started(budget).share(0.5, QUICK)).turns
    return None if home is None else puzzle.undone(" ".join(home), explanation)


def _laid(puzzle: Puzzle, moves: str, holding: str) -> str | None:
    """What ``holding`` and then ``moves`` do, with the holding last; None where the puzzle does not make such turns."""
    laid = puzzle.follow(holding)
    names = made_before(puzzle, puzzle.permutation(laid))
    turns = [turn.name for turn in puzzle.settled(moves, laid)[0]]
    return f"{' '.join(names[name] for name in turns)} {holding}" if names.keys() >= set(turns) else None


def looks_solved(puzzle: Puzzle, appearance: Appearance) -> bool:
    """Whether an appearance is the solved one, in any holding where nothing fixes it."""
    model = seen_model(puzzle)
    return bool((model.goals == model.pack(appearance)).all(axis=1).any())


def best_way_out(
    puzzle: Puzzle, found: Diagnosis, budget: Limit = None, progress: Progress | None = None
) -> tuple[Diagnosis, Route]:
    """The way out of the explanation that was found, with the diagnosis as it is held for it.

    No way in any holding is shorter than the lower bound. The time is shared among the holdings that have other turns.

    >>> from oddswap.puzzles.catalogue import load
    >>> from oddswap.reasoning.verdicts.diagnosis import diagnose
    >>> copy = load("cube:2,turns=R+U")
    >>> held, way = best_way_out(copy, diagnose(copy, copy.appearance(copy.follow("R U y"))))
    >>> held.held, way.moves
    ("y'", "U' R'")
    """
    if turns_fit_every_holding(puzzle) or puzzle.leaves_outline:
        return found, way_out(puzzle, found.explanation, budget, progress)
    options = list(_options(puzzle, found))
    clock = started(budget)
    shares = (clock.share(1 / (len(options) - done)) for done in range(len(options)))
    routes = [way_out(puzzle, option.explanation, share, progress) for option, share in zip(options, shares, strict=True)]
    held, way = min(zip(options, routes, strict=True), key=lambda pair: (pair[1].length is None, pair[1].length or 0))
    bound, counted = min(route.lower_bound for route in routes), replace(way.counted, held="throughout")
    return held, replace(way, lower_bound=bound, shortest=way.length == bound, counted=counted)


def _options(puzzle: Puzzle, found: Diagnosis) -> Iterator[Diagnosis]:
    """The diagnosis in each holding from which the turns lead home, one for each set of turns that a holding has."""
    book, every = law_book(puzzle), holdings(puzzle)
    described = next(image for names, image in every if " ".join(names) == found.held)
    image, known = puzzle.permutation(found.explanation), set()
    for _, rotation in every:
        back = np.argsort(rotation)
        turns = frozenset(back[turn.permutation[rotation]].tobytes() for turn in puzzle.turns.values())
        if turns not in known and is_reachable_as_held(book, rotation[image]):
            known.add(turns)
            explanation = puzzle.arrangement(mended(book, rotation[image], (), None))
            held = held_by(puzzle, rotation[described])
            yield replace(turned_whole(puzzle, found, rotation), explanation=explanation, held=held)
