"""A full way home from any reachable arrangement, within seconds; replayed, not proved shortest.

Short ways are searched for first. Three slabs each way go home in two stages, through quarter turns of U and D and half
turns of the rest. Where a blank slides, slots are filled one after another. Everything else goes home by three-cycles, kind by
kind, or along a chain of stabilisers.

Of two stages (`through`) the first brings every label into its orbit under the smaller set: that is a search on coarser looks,
in which a piece shows only the orbit that it belongs to. Then the smaller set of turns finishes. Each stage is proved shortest
by itself; the whole is not.
"""

from itertools import chain, product

from oddswap.errors import UnknownMove
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.whole_turns import held_still, holdings, made_before
from oddswap.reasoning.budget import Clock, Limit, started
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.sectors import by_orbits
from oddswap.reasoning.search.shortest import find_way
from oddswap.reasoning.ways.by_cycles import home_by_cycles
from oddswap.reasoning.ways.by_filling import home_by_filling
from oddswap.reasoning.ways.by_loops import home_by_loops
from oddswap.reasoning.ways.commutators import Word
from oddswap.reasoning.ways.findings import BringOneByOne, FinishWith, GoShortest, Parts, SortIntoOrbits, fewest_turns
from oddswap.reasoning.ways.short_words import MOST_LABELS, short_words
from oddswap.values.position import Arrangement


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
    return None if last.turns is None else [(SortIntoOrbits(), first.turns), (FinishWith(inner), last.turns)]


SMALL_LABELS = 40
"""Puzzles with at most so many labels are tried along a chain too where three-cycles lead home: the shorter way is given."""
SEARCHED = 0.4
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
    short = find_way(puzzle, puzzle.appearance(explanation), budget=clock.share(0.25, SEARCHED))
    if short.turns is not None:
        return [(GoShortest(), short.turns)]
    if puzzle.blank is not None:
        return _replayed(puzzle, explanation, home_by_filling(puzzle, explanation, clock))
    if puzzle.leaves_outline:  # its turns are no group
        return None
    if puzzle.shape_first:
        return _replayed(puzzle, explanation, home_by_loops(puzzle, explanation, clock))
    return (_held_some_way if puzzle.rotations else _held_still)(puzzle, explanation, clock)


def _held_still(puzzle: Puzzle, explanation: Arrangement, clock: Clock) -> Parts | None:
    if set(INNER) <= set(puzzle.turns) and set(puzzle.alphabet.layers.values()) == {3}:
        stages = _in_stages(puzzle, explanation, clock.share(0.5))
        if stages is not None:
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
        stages = _held_still(held, puzzle.arrangement(turned), clock)
        if stages is not None:
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
        found = through(puzzle, start, INNER, clock.share(1.0, seconds))
        if found is not None:
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
    return fewest_turns(way for way in (*ways, [(BringOneByOne(), word)] if word else []) if way)


def _replayed(puzzle: Puzzle, explanation: Arrangement, parts: Parts | None) -> Parts | None:
    return parts if parts is not None and replays(puzzle, explanation, parts) else None


def replays(puzzle: Puzzle, explanation: Arrangement, parts: Parts) -> bool:
    """Whether the turns of the parts can be made, and make an arrangement look solved."""
    try:
        end = puzzle.follow(" ".join(turn for _, word in parts for turn in word), explanation)
    except UnknownMove:
        return False
    return puzzle.appearance(end).sights == puzzle.appearance(puzzle.solved).sights
