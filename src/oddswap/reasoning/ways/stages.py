"""Going home in two stages, through a smaller set of turns.

First every label is brought into its orbit under the smaller set: that is a search on coarser looks, in which a piece
shows only the orbit that it belongs to. Then the smaller set of turns finishes. Each stage is proved shortest by itself;
the whole is not.
"""

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.budget import Clock
from oddswap.reasoning.laws.orbit_looks import by_orbits
from oddswap.reasoning.search.shortest import find_way
from oddswap.reasoning.ways.commutators import Word
from oddswap.reasoning.ways.findings import FinishWith, Parts, SortIntoOrbits
from oddswap.values.arrangement import Arrangement


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
