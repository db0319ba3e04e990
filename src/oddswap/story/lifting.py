"""A piece taken out, turned over and put back, or two that change places: what nobody sees afterwards."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.rotations import turn_matrix
from oddswap.reasoning.answers import Answer
from oddswap.showing.ink.camera import Camera
from oddswap.showing.ink.scene import Scene, piece_alone, placings_of
from oddswap.story.views import outwards

OUT = 1.9
"""How far out a piece goes, in half-edges."""


@dataclass(frozen=True, eq=False)
class Lift:
    """A piece in ``slot``, brought there by ``matrix`` (3, 3), and then turned clockwise about ``axis`` by ``angle``."""

    piece: int
    slot: int
    matrix: np.ndarray
    axis: np.ndarray
    angle: float


def lifts_of(answer: Answer, pieces: tuple[str, ...]) -> tuple[Lift, ...]:
    """How the pieces of a culprit go from what they are to what they seem to be; empty where there is no solid to take apart."""
    puzzle, first = answer.turning, answer.diagnosis.first
    culprit = next((culprit for culprit in answer.diagnosis.culprits if culprit.pieces == pieces), None)
    if culprit is None or first is None or puzzle.geometry is None or first.puzzle != puzzle.name:
        return ()
    rotations, found = puzzle.geometry.mechanism.rotations.matrices, []
    seeming = {placing.piece: placing.rotation for placing in placings_of(puzzle, first)}
    for slot, placing in enumerate(placings_of(puzzle, culprit.arrangement)):
        if placing.piece in map(puzzle.slot, pieces):
            here, there = rotations[placing.rotation], rotations[seeming[placing.piece]]
            axis, angle = _axis_and_angle(there @ here.T)
            found.append(Lift(placing.piece, slot, here, axis, angle))
    return tuple(found)


def _axis_and_angle(matrix: np.ndarray) -> tuple[np.ndarray, float]:
    """The axis and the angle, clockwise as seen from outside, of a rotation."""
    angle = float(np.arccos(np.clip((np.trace(matrix) - 1) / 2, -1, 1)))
    values, vectors = np.linalg.eigh((matrix + matrix.T) / 2)
    axis = vectors[:, int(values.argmax())]
    return (axis, angle) if np.allclose(turn_matrix(axis, angle), matrix) else (-axis, angle)


def lifted_scenes(puzzle: Puzzle, lifts: tuple[Lift, ...], done: float, camera: Camera) -> Iterator[Scene]:
    """The pieces on their way out (``done`` from 0 to 1), over (to 2) and back (to 3), the farthest first."""
    far, over = min(done, 1.0, 3.0 - done), min(max(done - 1.0, 0.0), 1.0)
    ways = [(lift, turn_matrix(lift.axis, over * lift.angle)) for lift in lifts]
    placed = [(lift, spin, spin @ outwards(puzzle, lift.slot)) for lift, spin in ways]
    for lift, spin, out in sorted(placed, key=lambda one: float(one[2] @ camera.direction)):
        yield piece_alone(puzzle, lift.piece, lift.slot, spin @ lift.matrix, OUT * far * out, camera)
