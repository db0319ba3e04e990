"""Turns that change few pieces as seen: a position that they lead to comes with its set-up, and nobody opens a copy."""

from collections.abc import Iterator
from dataclasses import dataclass
from random import Random

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.budget import Clock, cached
from oddswap.reasoning.laws.as_seen import wrong
from oddswap.reasoning.teaching.toolbox import symmetric_names
from oddswap.reasoning.verdicts.alarms import alarms_until
from oddswap.reasoning.verdicts.diagnosis import LOOKALIKE
from oddswap.reasoning.ways.commutators import Word, image_of, tidied, undone
from oddswap.reasoning.ways.way_out import set_up, way_out

DRAWN, FEW, LONGEST = 1500, 4, 20
"""So many words are drawn; those are kept that change so few pieces, and for a false parity as many turns at most."""
LENT = 0.05
"""The share of the time for the way of one false parity."""


@dataclass(frozen=True, eq=False)
class KnownTurns:
    """Words from solved: ``plain`` ones, and ``odd`` ones after which it looks impossible.

    ``symmetries`` are what each symmetry of the puzzle calls the turns.
    """

    plain: tuple[Word, ...]
    odd: tuple[Word, ...]
    symmetries: tuple[dict[str, str], ...]

    def drawn(self, words: tuple[Word, ...], rng: Random) -> Word:
        """One of the words, as one of the symmetries calls it."""
        word, names = rng.choice(words), rng.choice(self.symmetries)
        return tuple(names[name] for name in word)


@cached(16)
def known_turns(puzzle: Puzzle, clock: Clock) -> KnownTurns:
    """Commutators and powers of short words that change few pieces, and the way of the first false parity that has one.

    >>> from oddswap.puzzles.catalogue import load
    >>> from oddswap.reasoning.budget import Budget
    >>> known = known_turns(load("cube:3"), Budget().start())
    >>> len(known.plain[0]), known.odd
    (8, ())
    """
    if not puzzle.steady:
        return KnownTurns((), (), ({},))
    found: dict[bytes, Word] = {}
    for word in _short(puzzle, Random(f"turns of {puzzle.name}")):
        image = image_of(puzzle, word)
        if clock.spent:
            break
        if 0 < wrong(puzzle, image) <= FEW and 3 < len(word) < len(found.get(image.tobytes(), "x" * LONGEST)):
            found[image.tobytes()] = word
    plain = sorted(found.values(), key=lambda word: (wrong(puzzle, image_of(puzzle, word)), len(word), word))
    return KnownTurns(tuple(plain), tuple(_odd(puzzle, clock))[:1], tuple(symmetric_names(puzzle)))


def _short(puzzle: Puzzle, rng: Random) -> Iterator[Word]:
    names = list(puzzle.turns)
    for number in range(DRAWN):
        x, y, z = ((rng.choice(names),) for _ in range(3))
        first = (x + y + undone(puzzle, x), x + y)[number % 2]
        there = first + z + undone(puzzle, first) + undone(puzzle, z)
        yield tidied(puzzle, there if number % 4 else (x + y) * rng.choice((2, 3)))


def _odd(puzzle: Puzzle, clock: Clock) -> Iterator[Word]:
    for alarm in alarms_until(puzzle, clock):
        if alarm.verdict == LOOKALIKE and all(len(culprit.pieces) == 1 for culprit in alarm.culprits):
            end = alarm.culprits[0].arrangement
            lent = clock.share(LENT)
            word = tuple((set_up(puzzle, way_out(puzzle, end, lent), end, lent) or "").split())
            if 0 < len(word) <= LONGEST and puzzle.turns.keys() >= set(word):
                yield word
                return
