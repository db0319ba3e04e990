"""The puzzle turned as a whole: every way to hold it, and what turns are called in each."""

from __future__ import annotations

import numpy as np

from oddswap.puzzles.puzzle import Puzzle


def holdings(puzzle: Puzzle) -> list[tuple[tuple[str, ...], np.ndarray]]:
    """Each holding to which the whole-puzzle rotations that join the moves lead, as it is first: the names of a shortest
    sequence of rotations, and the label permutation that they make.

    >>> from oddswap.puzzles.catalogue import load
    >>> len(holdings(load("cube:2"))), len(holdings(load("cube:3"))), holdings(load("cube:2"))[0][0]
    (24, 1, ())
    """
    found: list[tuple[tuple[str, ...], np.ndarray]] = [((), np.arange(puzzle.degree))]
    known = {found[0][1].tobytes()}
    for names, image in found:
        for name, turn in puzzle.rotations.items():
            further = turn.permutation[image]
            if further.tobytes() not in known:
                known.add(further.tobytes())
                found.append(((*names, name), further))
    return found


def made_before(puzzle: Puzzle, rotation: np.ndarray) -> dict[str, str]:
    """What each turn is called when it is made before the rotation instead of after it; without those that are not made then.

    >>> from oddswap.puzzles.catalogue import load
    >>> cube = load("cube:2")
    >>> made_before(cube, cube.rotations["x"].permutation)["U"]
    'F'
    """
    back = np.argsort(rotation)
    by_image = {turn.permutation.tobytes(): name for name, turn in puzzle.turns.items()}
    images = {name: back[turn.permutation[rotation]].tobytes() for name, turn in puzzle.turns.items()}
    return {name: by_image[image] for name, image in images.items() if image in by_image}
