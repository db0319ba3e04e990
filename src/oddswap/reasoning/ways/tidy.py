"""Words made shorter by themselves: neighbouring turns of one slab become one, across turns that move nothing in common."""

from functools import lru_cache

from oddswap.puzzles.base.puzzle import Puzzle

Word = tuple[str, ...]


PAST = ("past",)
"""What two turns give that may change places."""


@lru_cache(maxsize=16)
def _meetings(puzzle: Puzzle) -> dict[str, dict[str, Word | None]]:
    """For each turn what it gives with each turn before it: one turn or none, `PAST`, or ``None`` if both stay as they are."""
    slab, named = {}, {}
    for name, turn in puzzle.turns.items():
        step = turn.step
        slab[name] = (step.stem, step.first, step.last), step.amount % step.order, step.order
        named[slab[name][:2]] = name
    first = {key: name for name, (key, *_) in reversed(slab.items())}
    images = {key: puzzle.turns[name].permutation for key, name in first.items()}
    apart = {(a, b): bool((q[p] == p[q]).all()) for a, p in images.items() for b, q in images.items()}

    def meeting(before: str, name: str) -> Word | None:
        (one, begun, order), (other, amount, _) = slab[before], slab[name]
        if one != other:
            return PAST if apart[one, other] else None
        together = (begun + amount) % order
        if together == 0:
            return ()
        return (named[one, together],) if (one, together) in named else None

    return {name: {before: meeting(before, name) for before in slab} for name in slab}


def tidied(puzzle: Puzzle, word: Word) -> Word:
    """The same effect with turns of one slab gathered where all turns between them commute with it.

    >>> from oddswap.puzzles.catalogue import load
    >>> tidied(load("cube:3"), ("R", "L", "R", "U", "U'", "L'"))
    ('R2',)
    """
    meetings = _meetings(puzzle)
    done: list[str] = []
    for name in word:
        given, at = meetings[name], len(done) - 1
        while at >= 0 and given[done[at]] is PAST:
            at -= 1
        both = given[done[at]] if at >= 0 else None
        if both is None:
            done.append(name)
        else:
            done[at : at + 1] = both
    return tuple(done)
