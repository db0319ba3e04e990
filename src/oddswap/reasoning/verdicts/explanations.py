"""Every explanation of what is seen: which piece may lie in which slot, which way round, and all ways to put them together.

And what a half-seen puzzle may look like as a whole: every completion where they are few, and the one nearest to solved.
"""

from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import islice, product, takewhile
from random import Random

import numpy as np

from oddswap.describing.sights import own_look
from oddswap.puzzles.base.puzzle import Kind, Puzzle
from oddswap.reasoning.budget import Limit, started
from oddswap.reasoning.laws.lookalikes import whole_kinds
from oddswap.reasoning.laws.sectors import Sector
from oddswap.reasoning.verdicts.assignments import Allowed, perfect_matching
from oddswap.values.position import Appearance, Sight


def allowed_columns(puzzle: Puzzle, sector: Sector, sights: tuple[Sight, ...]) -> Allowed:
    """For each piece and slot of a sector the columns of its labels at which it looks as is seen there."""
    slots, starts = list(sector.slots), sector.labels[:, 0]
    turned = sector.labels - puzzle.base_label[slots][:, None]
    twist, ways = sector.kind.twist, range(sector.twist)
    rows = []
    for i, piece in enumerate(slots):
        own = puzzle.looks[puzzle.base_label[piece] + np.arange(twist)]
        shown = own[(turned - int(starts[i] - puzzle.base_label[piece])) % twist].tolist()
        rows.append([frozenset([c for c in ways if looks[c] in sights[b]]) for b, looks in zip(slots, shown, strict=True)])
    return rows


def every_assembly(allowed: Allowed) -> Iterator[list[tuple[int, int]]]:
    """Every way to assemble a sector, piece by piece: for each piece its slot and its column."""

    def extended(chosen: list[tuple[int, int]]) -> Iterator[list[tuple[int, int]]]:
        if len(chosen) == len(allowed):
            yield chosen
            return
        taken = {row for row, _ in chosen}
        for row, ways in enumerate(allowed[len(chosen)]):
            if row not in taken:
                for column in sorted(ways):
                    yield from extended([*chosen, (row, column)])

    return extended([])


def moved_by(puzzle: Puzzle, sector: Sector, columns: list[tuple[int, int]]) -> np.ndarray:
    """The label permutation that takes the i-th piece of a sector to a slot (a row) and a column of it."""
    image, twist = np.arange(puzzle.degree), sector.kind.twist
    for i, (row, column) in enumerate(columns):
        piece, place = puzzle.base_label[sector.slots[i]], puzzle.base_label[sector.slots[row]]
        apart = int(sector.labels[row, column] - place) - int(sector.labels[i, 0] - piece)
        image[piece + np.arange(twist)] = place + (np.arange(twist) + apart) % twist
    return image


def explanations(puzzle: Puzzle, sights: tuple[Sight, ...]) -> Iterator[np.ndarray]:
    """Every explanation, as a label permutation, where there are few."""
    parts = whole_kinds(puzzle)
    assemblies = ((sector, every_assembly(allowed_columns(puzzle, sector, sights))) for sector in parts)
    choices = [[moved_by(puzzle, sector, columns) for columns in every] for sector, every in assemblies]
    for chosen in product(*choices):
        image = np.arange(puzzle.degree)
        for one in chosen:
            image = one[image]
        yield image


def completions(puzzle: Puzzle, appearance: Appearance, limit: int, budget: Limit = None) -> list[Appearance] | None:
    """All complete appearances that agree with what is seen; ``None`` if there are more than ``limit``, or the budget ends.

    >>> from oddswap import load
    >>> board = load("tiles:2x2")
    >>> anything = Appearance(board.name, (frozenset(range(4)),) * 4)
    >>> len(completions(board, anything, 24)), completions(board, anything, 23)
    (24, None)
    """
    clock, by_kind = started(budget), []
    for kind in puzzle.kinds:
        found = islice(_looks(puzzle, kind, _of(kind, appearance.sights)), limit + 1)
        by_kind.append(list(takewhile(lambda _: not clock.spent, found)))
    found = [tuple(look for part in chosen for look in part) for chosen in islice(product(*by_kind), limit + 1)]
    if len(found) > limit or clock.spent:
        return None
    return [Appearance(puzzle.name, tuple(frozenset((look,)) for look in looks)) for looks in found]


def in_place(puzzle: Puzzle, appearance: Appearance) -> Appearance:
    """The same with everything that is not seen in place, as far as what is seen allows; slots that stay open stay so."""
    sights = list(appearance.sights)
    for kind in puzzle.kinds:
        for slot in kind.places:
            if own_look(puzzle, slot) < sights[slot]:
                trial = [own_look(puzzle, slot) if b == slot else sights[b] for b in kind.places]
                if _possible(puzzle, kind, trial):
                    sights[slot] = own_look(puzzle, slot)
    return Appearance(puzzle.name, tuple(sights))


def drawn(puzzle: Puzzle, appearance: Appearance, rng: Random) -> Appearance | None:
    """One complete appearance that agrees with what is seen, drawn at random; ``None`` where there is none."""
    found = []
    for kind in puzzle.kinds:
        if (looks := next(_looks(puzzle, kind, _of(kind, appearance.sights), rng), None)) is None:
            return None
        found += looks
    return Appearance(puzzle.name, tuple(frozenset((look,)) for look in found))


def is_possible(puzzle: Puzzle, sights: tuple[Sight, ...]) -> bool:
    """Whether the pieces can be put together so that they look so."""
    return all(_possible(puzzle, kind, _of(kind, sights)) for kind in puzzle.kinds)


def _of(kind: Kind, sights: Sequence[Sight]) -> tuple[Sight, ...]:
    return tuple(sights[slot] for slot in kind.places)


def _looks(puzzle: Puzzle, kind: Kind, sights: tuple[Sight, ...], rng: Random | None = None) -> Iterator[tuple[int, ...]]:
    """What the slots of a kind may show together, one look each."""
    if not _possible(puzzle, kind, sights):
        return
    open_slots = [b for b, sight in enumerate(sights) if len(sight) > 1]
    if not open_slots:
        yield tuple(next(iter(sight)) for sight in sights)
        return
    slot = open_slots[0]
    looks = sorted(sights[slot])
    if rng:
        rng.shuffle(looks)
    for look in looks:
        yield from _looks(puzzle, kind, (*sights[:slot], frozenset((look,)), *sights[slot + 1 :]), rng)


def _possible(puzzle: Puzzle, kind: Kind, sights: Sequence[Sight]) -> bool:
    """Whether the pieces of a kind can look so."""
    return perfect_matching([_pieces_that_show(puzzle, kind, sight) for sight in sights]) is not None


@lru_cache(maxsize=1 << 12)
def _pieces_that_show(puzzle: Puzzle, kind: Kind, sight: Sight) -> tuple[int, ...]:
    """The pieces of a kind that can show one of some looks, by their numbers in it."""
    looks = puzzle.looks[list(kind.labels)].reshape(-1, kind.twist)
    return tuple(np.flatnonzero(np.isin(looks, list(sight)).any(axis=1)).tolist())
