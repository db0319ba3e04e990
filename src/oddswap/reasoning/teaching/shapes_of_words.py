"""Finding the commutators and conjugates that a flat sequence is made of.

A word W is a conjugate when it begins with A and ends with A undone, and a commutator when it can be read as A B A' B'.
Neighbouring turns of opposite faces may change places, so these are tried in both orders.
"""

from functools import lru_cache
from itertools import takewhile

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.values.alphabet import OPPOSITE
from oddswap.values.sequence import Commutator, Conjugate, Repetition, Sequence, Step


def structured(puzzle: Puzzle, moves: str | Sequence) -> Sequence:
    """The same turns written as ``[A: [B, C]]``, ``[A, B]`` ``[A: B]`` or ``(A)3`` where they are one; else flat.

    >>> from oddswap.puzzles.catalogue import load
    >>> str(structured(load("cube:3"), "F R U R' U' F'"))
    '[F: [R, U]]'
    """
    steps = puzzle.read(moves).steps
    for form in _orders(steps):
        found = _shape(form)
        if found is not None:
            return found
    return _repeated(steps) or Sequence(steps)


def _repeated(steps: tuple[Step, ...]) -> Sequence | None:
    """A group done several times."""
    for period in range(2, len(steps) // 2 + 1):
        times, rest = divmod(len(steps), period)
        if not rest and steps == steps[:period] * times:
            return Sequence((Repetition(_inner(steps[:period]), times),))
    return None


def _orders(steps: tuple[Step, ...]) -> list[tuple[Step, ...]]:
    """The word, and the words that come from exchanging neighbours on one axis: at most 64."""
    found = [steps]
    for i in range(len(steps) - 1):
        if OPPOSITE.get(steps[i].stem) == steps[i + 1].stem:
            found += [form[:i] + (form[i + 1], form[i]) + form[i + 2 :] for form in found if len(found) < 64]
    return found


@lru_cache(maxsize=4096)
def _shape(steps: tuple[Step, ...]) -> Sequence | None:
    plain = _commutator(steps)
    if plain is not None:
        return plain
    outer = list(takewhile(lambda n: _undoes(steps[:n], steps[-n:]), range(1, (len(steps) - 1) // 2 + 1)))
    for length in outer:
        found = _commutator(steps[length:-length])
        if found is not None:
            return Sequence((Conjugate(Sequence(steps[:length]), found),))
    return Sequence((Conjugate(Sequence(steps[: outer[-1]]), Sequence(steps[outer[-1] : -outer[-1]])),)) if outer else None


def _commutator(steps: tuple[Step, ...]) -> Sequence | None:
    if len(steps) < 4 or len(steps) % 2:
        return None
    half = len(steps) // 2
    for cut in range(1, half):
        a, b = steps[:cut], steps[cut:half]
        if _undoes(a, steps[half : half + cut]) and _undoes(b, steps[half + cut :]):
            return Sequence((Commutator(_inner(a), _inner(b)),))
    return None


def _inner(steps: tuple[Step, ...]) -> Sequence:
    return _shape(steps) or Sequence(steps)


def _undoes(word: tuple[Step, ...], other: tuple[Step, ...]) -> bool:
    return other == tuple(step.inverse() for step in reversed(word))
