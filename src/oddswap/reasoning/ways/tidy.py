"""Words made shorter by themselves: neighbouring turns of one slab become one, across turns that move nothing in common."""

from functools import lru_cache

from oddswap.puzzles.base.puzzle import Puzzle


@lru_cache(maxsize=16)
def _facts(puzzle: Puzzle) -> tuple[dict, dict, dict]:
    """For each turn its slab and amount; the turn of a slab by amount; which slabs commute."""
    slab, named, slots = {}, {}, {}
    for name, turn in puzzle.turns.items():
        step = turn.step
        key = (step.stem, step.first, step.last)
        slab[name] = (key, step.amount % step.order, step.order)
        named[key, step.amount % step.order] = name
        slots.setdefault(key, name)
    apart = {}
    for a, first in slots.items():
        for b, second in slots.items():
            p, q = puzzle.turns[first].permutation, puzzle.turns[second].permutation
            apart[a, b] = bool((q[p] == p[q]).all())
    return slab, named, apart


def tidied(puzzle: Puzzle, word: tuple[str, ...]) -> tuple[str, ...]:
    """The same effect with turns of one slab gathered where all turns between them commute with it.

    >>> from oddswap.puzzles.catalogue import load
    >>> tidied(load("cube:3"), ("R", "L", "R", "U", "U'", "L'"))
    ('R2',)
    """
    slab, named, apart = _facts(puzzle)
    done: list[str] = []
    for name in word:
        key, amount, order = slab[name]
        at = len(done) - 1
        while at >= 0 and slab[done[at]][0] != key and apart[slab[done[at]][0], key]:
            at -= 1
        if at < 0 or slab[done[at]][0] != key:
            done.append(name)
            continue
        together = (slab[done[at]][1] + amount) % order
        if together == 0:
            del done[at]
        elif (key, together) in named:
            done[at] = named[key, together]
        else:
            done.append(name)
    return tuple(done)
