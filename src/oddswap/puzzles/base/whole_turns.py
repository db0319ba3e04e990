"""The puzzle turned as a whole: every way to hold it, what turns are called in each, and which rotations join the turns."""

from dataclasses import replace
from functools import lru_cache
from math import gcd
from types import MappingProxyType

import numpy as np

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.values.orbits import gathered, orbit_labels
from oddswap.values.position import Appearance, Sight


@lru_cache(maxsize=64)
def holdings(puzzle: Puzzle) -> tuple[tuple[tuple[str, ...], np.ndarray], ...]:
    """Each holding to which the whole-puzzle rotations lead, as it is first: the names of a shortest sequence of rotations,
    and the label permutation that they make.

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
    return tuple(found)


@lru_cache(maxsize=32)
def held_still(puzzle: Puzzle) -> Puzzle:
    """The same puzzle when it is always held the same way: itself, where it is."""
    return replace(puzzle, rotations=MappingProxyType({})) if puzzle.rotations else puzzle


def held_by(puzzle: Puzzle, rotation: np.ndarray) -> str:
    """The names of a shortest sequence of rotations that makes a label permutation, empty for none at all."""
    return next(" ".join(names) for names, image in holdings(puzzle) if (image == rotation).all())


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


@lru_cache(maxsize=128)
def turns_fit_every_holding(puzzle: Puzzle) -> bool:
    """Whether each whole-puzzle rotation takes every turn to a turn, so that any holding has the same turns.

    >>> from oddswap.puzzles.catalogue import load
    >>> [turns_fit_every_holding(load(f"cube:2,turns={turns}")) for turns in ("all", "half", "R+U", "R+L")]
    [True, True, False, False]
    """
    return all(len(made_before(puzzle, turn.permutation)) == len(puzzle.turns) for turn in puzzle.rotations.values())


def rotations_within_orbits(puzzle: Puzzle) -> tuple[np.ndarray, ...]:
    """The whole-puzzle rotations, as label permutations, that take turns to turns and leave every label in its orbit under
    the turns; none where a holding has other turns than another.

    >>> from oddswap.puzzles.catalogue import load
    >>> [len(rotations_within_orbits(load(f"cube:2,turns={turns}"))) for turns in ("half", "R+U")]
    [3, 0]
    """
    if not puzzle.rotations or not turns_fit_every_holding(puzzle):
        return ()
    orbit = orbit_labels([turn.permutation for turn in puzzle.turns.values()], puzzle.degree)
    return tuple(image for _, image in holdings(puzzle)[1:] if (orbit[image] == orbit).all())


@lru_cache(maxsize=128)
def generators(puzzle: Puzzle) -> tuple[np.ndarray, ...]:
    """Label permutations that generate the puzzle's group: its turns, and the whole-puzzle rotations that join them.

    Of one slab's turns the smallest, and others only where that does not make them.
    """
    all_join = turns_fit_every_holding(puzzle) and not puzzle.chosen
    joining = (*puzzle.turns.values(), *(puzzle.rotations.values() if all_join else ()))
    together = gathered(joining, lambda turn: (turn.step.stem, turn.step.first, turn.step.last))
    needed = []
    for turns in together.values():
        made = turns[0].step.order
        for turn in sorted(turns, key=lambda turn: abs(turn.step.amount)):
            if gcd(made, turn.step.amount) < made:
                made = gcd(made, turn.step.amount)
                needed.append(turn.permutation)
    return tuple(needed) if all_join else (*needed, *rotations_within_orbits(puzzle))


def held_otherwise(puzzle: Puzzle, appearance: Appearance, rotation: np.ndarray) -> Appearance:
    """What is seen once the whole puzzle has been turned; ``rotation`` is a label permutation."""
    sights: list[Sight] = [frozenset()] * len(puzzle.slots)
    for slot, sight in enumerate(appearance.sights):
        kind = puzzle.kind_of[slot]
        target, by = divmod(int(rotation[puzzle.base_label[slot]]) - kind.first, kind.twist)
        sights[kind.start + target] = frozenset(_twisted(puzzle, slot, look, by) for look in sight)
    return Appearance(appearance.puzzle, tuple(sights))


def _twisted(puzzle: Puzzle, slot: int, look: int, by: int) -> int:
    kind = puzzle.kind_of[slot]
    label = next(j for j in kind.labels if puzzle.looks[j] == look)
    base = label - (label - kind.first) % kind.twist
    return int(puzzle.looks[base + (label - base + by) % kind.twist])
