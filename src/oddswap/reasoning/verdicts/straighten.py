"""Turning straight what is simply out of line, as everybody does before looking closer.

After one turn of an otherwise solved puzzle nobody speaks of an anomaly, although twins in that layer look unmoved. So a
position is looked at after those turns, one after the other, each of which leaves the fewest slots that do not look
solved, and fewer than before. Reachability is not changed by turning.
"""

from __future__ import annotations

import numpy as np

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.search.seen import seen_model
from oddswap.values.appearance import Appearance


def straightened(puzzle: Puzzle, appearance: Appearance) -> tuple[Appearance, tuple[str, ...]]:
    """A complete appearance with its layers straight, and the turns that made it so, in order.

    Where a move depends on a blank, nothing is turned.

    >>> from oddswap.puzzles.catalogue import load
    >>> cube = load("cube:4")
    >>> straightened(cube, cube.appearance(cube.follow("U 2R")))[1]
    ("U'", "2R'")
    """
    if puzzle.blank is not None:
        return appearance, ()
    model = seen_model(puzzle)
    turns = [model.names.index(name) for name in puzzle.turns]
    state, made = model.pack(appearance), []
    wrong = int((state != model.solved).sum())
    while wrong:
        after = np.array([model.apply(state, turn) for turn in turns])
        counts = (after != model.solved).sum(axis=1)
        best = int(counts.argmin())
        if counts[best] >= wrong:
            break
        state, wrong = after[best], int(counts[best])
        made.append(model.names[turns[best]])
    return (model.unpack(state), tuple(made)) if made else (appearance, ())
