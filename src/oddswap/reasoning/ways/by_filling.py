"""A way home where a blank slides: slot by slot, the farthest from the blank's home first, and then never left again.

One slot is filled at a time. Where that would leave another at a dead end, both are filled together, as the last two tiles
of a row are; the last few slots are filled all at once. Each filling is a search that knows only the blank and the
pieces that are wanted. Where a graph does not let itself be filled so, its pieces go home by loops.
"""

import heapq
from collections.abc import Iterable
from itertools import count, islice, pairwise

import numpy as np

from oddswap.puzzles.flat.graphs import GraphPuzzle
from oddswap.reasoning.budget import Clock
from oddswap.reasoning.ways.by_cycles import home_by_loops
from oddswap.reasoning.ways.findings import FillSlots, Parts, fewest_turns
from oddswap.values.position import Arrangement

DRAWS = 16
"""So many orders of slots that are equally far are tried, while there is time."""
FAILED = 3
"""After so many orders without a way, loops are tried."""
TOGETHER = 6
"""The last so many slots, the blank's home among them, are filled at once."""
STEP = 3
"""To bring a piece one slot on takes at least so many slides where the blank has to go round it from corner to corner."""
MOST_STATES = 100_000
"""A filling that is not found among so many states is given up."""


def home_by_filling(puzzle: GraphPuzzle, start: Arrangement, clock: Clock) -> Parts | None:
    """What each part of the way is for, and its slides by their edges; None where no way was found.

    >>> from oddswap.puzzles.catalogue import load
    >>> from oddswap.reasoning.budget import Budget
    >>> board = load("tiles:3x3")
    >>> home_by_filling(board, board.follow("r3c2 r2c2"), Budget().start())
    [(FillSlots(slots=('r2c1', 'r2c2', 'r2c3', 'r3c1', 'r3c2'), last=True), ('r2c2-r3c2', 'r3c2-r3c3'))]
    """
    ways: list[Parts] = []
    kinds = (True, False) if len(set(puzzle.looks.tolist())) < len(puzzle.slots) else (False,)
    for draw in range(DRAWS):
        if (draw and clock.spent) or (draw == FAILED and not ways):
            break
        drawn = np.random.default_rng(draw).random(len(puzzle.slots))
        found = (_filled(puzzle, start, drawn, twins) for twins in kinds)
        ways += islice((way for way in found if way is not None), 1)
    if not ways:
        return home_by_loops(puzzle, start, clock)
    return fewest_turns(ways)


def _filled(puzzle: GraphPuzzle, start: Arrangement, drawn: np.ndarray, twins: bool) -> Parts | None:
    """All slots filled in the order of their distance; ``twins``: with the nearest piece that looks right, or with its own."""
    rest, state, parts = set(range(len(puzzle.slots))), list(start.pieces), []
    while len(rest) > 1:
        wanted = _next(puzzle, rest, drawn)
        pieces = _pieces(puzzle, rest, state, wanted, twins)
        if (slides := _placed(puzzle, rest, state, wanted, pieces)) is None:
            return None
        names = []
        for one, other in slides:
            state[one], state[other] = state[other], state[one]
            names.append(puzzle.neighbours[one][other].name)
        rest -= set(wanted)
        slots = tuple(puzzle.slots[slot] for slot in sorted(wanted))
        parts.append((FillSlots(slots, len(rest) == 1 < len(wanted)), tuple(names)))
    return _without_returns(parts)


def _steps(puzzle: GraphPuzzle, rest: set[int], origin: int) -> dict[int, int]:
    """How far each slot is from ``origin`` within ``rest``; those that it does not reach are left out."""
    found, queue = {origin: 0}, [origin]
    for slot in queue:
        for other in puzzle.neighbours[slot]:
            if other in rest and other not in found:
                found[other] = found[slot] + 1
                queue.append(other)
    return found


def _next(puzzle: GraphPuzzle, rest: set[int], drawn: np.ndarray) -> list[int]:
    """The slots to be filled next: the farthest, with all that it leaves at a dead end or cut off."""
    if len(rest) <= TOGETHER:
        return sorted(rest - {puzzle.blank})
    far = _steps(puzzle, rest, puzzle.blank)
    chosen = [max(far, key=lambda slot: (far[slot], drawn[slot]))]
    while True:
        left = rest - set(chosen)
        reached = _steps(puzzle, left, puzzle.blank)
        ends = [s for s in left if s not in reached or (s != puzzle.blank and sum(n in left for n in puzzle.neighbours[s]) < 2)]
        if not ends:
            return chosen
        chosen += ends


def _pieces(puzzle: GraphPuzzle, rest: set[int], state: list[int], wanted: list[int], twins: bool) -> list[int]:
    """The slots where the pieces for the wanted slots are now."""
    if not twins:
        return [state.index(slot) for slot in wanted]
    chosen: list[int] = []
    for slot in wanted:
        far = _steps(puzzle, rest, slot)
        fitting = (s for s in rest if puzzle.looks[state[s]] == puzzle.looks[slot] and s not in chosen)
        chosen.append(min(fitting, key=lambda s: (far[s], s)))
    return chosen


def _placed(
    puzzle: GraphPuzzle, rest: set[int], state: list[int], wanted: list[int], pieces: list[int]
) -> list[tuple[int, int]] | None:
    """Slides within ``rest`` that bring the pieces to the wanted slots: best first, by slides made and steps to go."""
    near = {slot: [other for other in puzzle.neighbours[slot] if other in rest] for slot in rest}
    far = [_steps(puzzle, rest, slot) for slot in wanted]
    shown = [int(puzzle.looks[state[piece]]) for piece in pieces]
    fits = {(slot, int(puzzle.looks[slot])) for slot in wanted}

    def to_go(places: Iterable[int]) -> int:
        return STEP * sum(steps[place] for steps, place in zip(far, places, strict=True))

    first = (state.index(puzzle.blank), tuple(pieces))
    came, numbers = {first: None}, count()
    waiting = [(to_go(pieces), next(numbers), 0, first)]
    while waiting and len(came) < MOST_STATES:
        _, _, made, now = heapq.heappop(waiting)
        blank, places = now
        if all((place, look) in fits for place, look in zip(places, shown, strict=True)):
            path = [blank]
            while (now := came[now]) is not None:
                path.append(now[0])
            return list(pairwise(reversed(path)))
        for other in near[blank]:
            after = (other, tuple(blank if place == other else place for place in places))
            if after not in came:
                came[after] = now
                heapq.heappush(waiting, (made + 1 + to_go(after[1]), next(numbers), made + 1, after))
    return None


def _without_returns(parts: Parts) -> Parts:
    """The same without slides that the next one undoes."""
    kept: list[tuple[int, str]] = []
    for number, (_, word) in enumerate(parts):
        for name in word:
            if kept and kept[-1][1] == name:
                kept.pop()
            else:
                kept.append((number, name))
    words = [tuple(name for number, name in kept if number == part) for part in range(len(parts))]
    return [(aim, word) for (aim, _), word in zip(parts, words, strict=True) if word]
