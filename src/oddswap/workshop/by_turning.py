"""Turns that change few pieces as seen: a position that they lead to comes with its set-up, and nobody opens a copy."""

from dataclasses import dataclass
from random import Random

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.budget import Clock, cached
from oddswap.reasoning.teaching.toolbox import symmetric_names, toolbox
from oddswap.reasoning.verdicts.alarms import alarms_until
from oddswap.reasoning.verdicts.diagnosis import LOOKALIKE
from oddswap.reasoning.ways.commutators import Word
from oddswap.reasoning.ways.way_out import set_up, way_out

FEW, LONGEST = 4, 14
"""Tools are kept that change so few pieces in so few turns, which also the way of a false parity has at most."""
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
    """The tools that change few pieces, and the way of the first false parity that has one.

    >>> from oddswap.puzzles.catalogue import load
    >>> from oddswap.reasoning.budget import Budget
    >>> known = known_turns(load("cube:3"), Budget().start())
    >>> len(known.plain[0]), known.odd
    (14, ())
    """
    if not puzzle.steady:
        return KnownTurns((), (), ({},))
    plain = tuple(tool.turns for tool in toolbox(puzzle, clock) if tool.pieces <= FEW and tool.length <= LONGEST)
    return KnownTurns(plain, _odd(puzzle, clock), tuple(symmetric_names(puzzle)))


def _odd(puzzle: Puzzle, clock: Clock) -> tuple[Word, ...]:
    for alarm in alarms_until(puzzle, clock):
        if alarm.verdict == LOOKALIKE and all(len(culprit.pieces) == 1 for culprit in alarm.culprits):
            end = alarm.culprits[0].arrangement
            lent = clock.share(LENT)
            word = tuple((set_up(puzzle, way_out(puzzle, end, lent), end, lent) or "").split())
            if 0 < len(word) <= LONGEST and puzzle.turns.keys() >= set(word):
                return (word,)
    return ()
