"""What a half-seen puzzle may look like as a whole: every completion where they are few, and the one nearest to solved."""

from collections.abc import Iterator, Sequence
from itertools import islice, product
from random import Random

from oddswap.describing.sights import own_look
from oddswap.puzzles.base.puzzle import Kind, Puzzle
from oddswap.reasoning.verdicts.assignments import perfect_matching
from oddswap.values.appearance import Appearance, Sight


def completions(puzzle: Puzzle, appearance: Appearance, limit: int) -> list[Appearance] | None:
    """All complete appearances that agree with what is seen; ``None`` if there are more than ``limit``.

    >>> from oddswap import load
    >>> board = load("tiles:2x2")
    >>> anything = Appearance(board.name, (frozenset(range(4)),) * 4)
    >>> len(completions(board, anything, 24)), completions(board, anything, 23)
    (24, None)
    """
    by_kind = [list(islice(_looks(puzzle, kind, _of(kind, appearance.sights)), limit + 1)) for kind in puzzle.kinds]
    found = [tuple(look for part in chosen for look in part) for chosen in islice(product(*by_kind), limit + 1)]
    if len(found) > limit:
        return None
    return [Appearance(puzzle.name, tuple(frozenset((look,)) for look in looks)) for looks in found]


def in_place(puzzle: Puzzle, appearance: Appearance) -> Appearance:
    """The same with everything that is not seen in place, as far as what is seen allows; slots that stay open stay so."""
    sights = list(appearance.sights)
    for kind in puzzle.kinds:
        for slot in kind.places:
            if len(sights[slot]) > 1 and own_look(puzzle, slot) <= sights[slot]:
                trial = [own_look(puzzle, slot) if b == slot else sights[b] for b in kind.places]
                if _possible(puzzle, kind, trial):
                    sights[slot] = own_look(puzzle, slot)
    return Appearance(puzzle.name, tuple(sights))


def drawn(puzzle: Puzzle, appearance: Appearance, rng: Random) -> Appearance | None:
    """One complete appearance that agrees with what is seen, drawn at random; ``None`` where there is none."""
    found = []
    for kind in puzzle.kinds:
        looks = next(_looks(puzzle, kind, _of(kind, appearance.sights), rng), None)
        if looks is None:
            return None
        found += looks
    return Appearance(puzzle.name, tuple(frozenset((look,)) for look in found))


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
    own = [set(puzzle.looks[[*range(base, base + kind.twist)]].tolist()) for base in puzzle.base_label[list(kind.places)]]
    return perfect_matching([[b for b, sight in enumerate(sights) if looks & sight] for looks in own]) is not None
