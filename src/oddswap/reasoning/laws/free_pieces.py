"""Free pieces: those of which nobody can say, by looking, what they are.

Some look wrong, and others were moved unseen by a turn of which something is seen. An exchange of lookalikes among free
pieces surprises nobody: a position that it makes reachable is ordinary.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from oddswap.puzzles.base.puzzle import Puzzle

ENOUGH = 3
"""A turn is taken for made when so many of the slots in which it shows look wrong, and these are at least half of them."""


@dataclass(frozen=True, eq=False)
class TurnTraces:
    """What each turn does to the solved puzzle, as arrays of shape (turns, slots).

    ``touched``: the slot lies in what is turned; ``showing``: it looks otherwise afterwards; ``turned``: its piece stays, and
    has turned unseen.
    """

    touched: np.ndarray
    showing: np.ndarray
    turned: np.ndarray

    @property
    def quiet(self) -> np.ndarray:
        """The slots that a turn touches and that look as before."""
        return self.touched & ~self.showing


@lru_cache(maxsize=64)
def turn_traces(puzzle: Puzzle) -> TurnTraces:
    """The traces of all turns that this copy makes."""
    solved, slots = puzzle.looks[puzzle.base_label], np.arange(len(puzzle.slots))
    shape = len(puzzle.turns), len(slots)
    touched, showing, turned = np.zeros(shape, bool), np.zeros(shape, bool), np.zeros(shape, bool)
    for row, turn in enumerate(puzzle.turns.values()):
        touched[row, list(turn.slots)] = True
        after = puzzle.arrangement(turn.permutation)
        pieces, twists = np.array(after.pieces), np.array(after.twists)
        showing[row] = puzzle.looks[puzzle.base_label[pieces] + twists] != solved
        turned[row] = (pieces == slots) & (twists > 0) & ~showing[row]
    return TurnTraces(touched, showing, turned)


def turned_along(puzzle: Puzzle, wrong: frozenset[int]) -> frozenset[int]:
    """The pieces at home in the slots ``wrong``, and those that a turn which touches one of these turns unseen in their slots."""
    if puzzle.blank is not None or not wrong:
        return wrong
    traces = turn_traces(puzzle)
    return wrong.union(np.flatnonzero(traces.turned[traces.touched[:, list(wrong)].any(axis=1)].any(axis=0)).tolist())


def free_pieces(puzzle: Puzzle, wrong: frozenset[int]) -> frozenset[int]:
    """The free pieces where the slots ``wrong`` look wrong; pieces and slots by number.

    They are those that nobody can see at home, those `turned_along`, and those that a turn leaves looking right, if at least
    ``ENOUGH``, and at least half, of the slots in which it shows look wrong. Where a move depends on a blank, they are those at
    home in the slots alone.

    >>> from oddswap.puzzles.catalogue import load
    >>> cube = load("cube:3")
    >>> [cube.slots[piece] for piece in sorted(free_pieces(cube, frozenset({cube.slot("UF")})))]
    ['UF', 'U', 'F']
    """
    along = turned_along(puzzle, wrong) | puzzle.inner
    if puzzle.blank is not None or len(wrong) < ENOUGH:
        return along
    traces = turn_traces(puzzle)
    seen, shown = traces.showing[:, list(wrong)].sum(axis=1), traces.showing.sum(axis=1)
    made = (seen >= ENOUGH) & (2 * seen >= shown)
    return along.union(np.flatnonzero(traces.quiet[made].any(axis=0)).tolist())
