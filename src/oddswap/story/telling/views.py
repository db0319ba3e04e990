"""From where a clip looks at a solid: home, the views round it, and those below, at most 60 degrees from one to the next.

A hand turns the whole puzzle to the side where something happens; so the camera goes along these views, never during a turn. And
a piece taken out, turned over and put back, or two that change places: what nobody sees afterwards.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache

import numpy as np

from oddswap.puzzles.base.puzzle import Puzzle, Turn
from oddswap.puzzles.base.space import turn_matrix
from oddswap.reasoning.answers import Answer
from oddswap.showing.ink.camera import UP, Camera, cameras
from oddswap.showing.ink.scene import Scene, outer_faces, piece_alone, placings_of
from oddswap.showing.ink.sight import sides_of
from oddswap.values.position import Appearance, Arrangement, Holding

OUT = 0.4
"""How far out of its slot a piece goes that is taken out, besides going aside, in half-edges."""
ROUND, STRIDE, DOWN = 12, 2, 60.0
"""So many views on a level, so many of them passed at once, and degrees from one level down to the other."""
PLAIN, FACED = 0.3, 0.15
"""The least cosine at which a piece is seen well, and at which a layer shows its face."""
HIDDEN, UNSEEN, BELOW, ASIDE = 0.8, 0.5, 0.2, 0.05
"""What it costs to see a layer turn from behind, not to see the piece followed, to look from below, and to be away from home
by a step; a step of the camera costs 1."""
SMALL, LARGE, FAR, NEAREST = 0.12, 0.3, 1.5, 2.6
"""Which share of the puzzle's height a piece is too small to be seen well at, which it then gets, and how near that must and may
be."""


@dataclass(frozen=True, eq=False)
class Lens(Camera):
    """A camera that may come nearer: all is ``zoom`` times as large, and ``shift`` (2,) is then in the middle."""

    zoom: float = 1.0
    shift: np.ndarray = field(default_factory=lambda: np.zeros(2))

    @property
    def whole(self) -> Lens:
        """The same that sees the whole puzzle."""
        return Lens(self.direction, self.distance, self.frame)

    def project(self, points: np.ndarray) -> np.ndarray:
        return self.zoom * super().project(points) - self.shift


def bounds(points: np.ndarray) -> np.ndarray:
    """The lower left and the upper right corner (2, 2) of points (k, 2)."""
    return np.array([points.min(axis=0), points.max(axis=0)])


@lru_cache(maxsize=64)
def near(puzzle: Puzzle, shown: Arrangement | Appearance, pieces: frozenset[int], camera: Lens) -> Lens:
    """The camera where it sees these pieces well: nearer to them if they look small, else where it is."""
    slots = [slot for slot, placing in enumerate(placings_of(puzzle, shown)) if placing.piece in pieces]
    faces = [bounds(camera.project(np.concatenate(outer_faces(puzzle, shown, slot)))) for slot in slots]
    whole = bounds(camera.project(np.concatenate([face.vertices for body in puzzle.geometry.bodies for face in body.faces])))
    least, high = min((np.ptp(face[:, 1]) for face in faces), default=np.inf), np.ptp(whole[:, 1])
    if least > SMALL * high:
        return camera
    spread = bounds(np.concatenate(faces))
    zoom = min(LARGE * high / least, NEAREST, 0.8 * float((np.ptp(whole, axis=0) / np.ptp(spread, axis=0)).min()))
    if zoom < FAR:
        return camera
    return replace(camera, zoom=zoom, shift=zoom * spread.mean(axis=0) - whole.mean(axis=0))


@lru_cache(maxsize=64)
def views(puzzle: Puzzle, holding: Holding) -> tuple[Lens, ...]:
    """The views: those of the upper level, home first and each a step on from the last, then those below them."""
    home = Lens(**{name: getattr(cameras(puzzle, holding)[0], name) for name in ("direction", "distance", "frame")})
    up = home.frame @ UP
    lower = turn_matrix(home.right, np.radians(-DOWN))
    above = [turn_matrix(up, 2 * np.pi * i / ROUND) for i in range(ROUND)]
    return tuple(replace(home, direction=spin @ tilt @ home.direction) for tilt in (np.eye(3), lower) for spin in above)


def steps_between(one: int, other: int) -> int:
    """How many steps lead from one view to another."""
    apart = (one - other) % ROUND
    return -(-min(apart, ROUND - apart) // STRIDE) + (one // ROUND != other // ROUND)


def path(one: int, other: int) -> list[int]:
    """The views on the way from one to another, that one left out."""
    found = []
    while one != other:
        level, place = divmod(one, ROUND)
        apart = (other - one + ROUND // 2) % ROUND - ROUND // 2
        if apart:
            place = (place + max(-STRIDE, min(STRIDE, apart))) % ROUND
        else:
            level = other // ROUND
        one = level * ROUND + place
        found.append(one)
    return found


def between(one: Lens, other: Lens, share: float) -> Lens:
    """A camera on the way from one view to the next, along the shortest arc, or on its way near or back."""
    angle = np.arccos(np.clip(one.direction @ other.direction, -1, 1))
    zoom, shift = ((1 - share) * getattr(one, part) + share * getattr(other, part) for part in ("zoom", "shift"))
    one = replace(one, zoom=zoom, shift=shift)
    if share <= 0 or angle < 1e-9:
        return one
    way = (np.sin((1 - share) * angle) * one.direction + np.sin(share * angle) * other.direction) / np.sin(angle)
    return replace(one, direction=way)


def squareness(sides: np.ndarray, camera: Camera) -> float:
    """The cosine at which the camera sees the sticker that it sees best; -1 where there is none."""
    return float((sides @ camera.direction).max(initial=-1.0))


def view_on(puzzle: Puzzle, shown: Arrangement | Appearance, pieces: Iterable[int], now: int, holding: Holding) -> int:
    """The nearest view that shows these pieces well with the most of their stickers, or as many of them as can be; each side of
    those not seen.
    """
    every, sides, unseen = views(puzzle, holding), sides_of(puzzle, shown, pieces), getattr(shown, "uncertain", ())
    sides = [part for piece, one in zip(pieces, sides, strict=True) for part in (one[:, None] if piece in unseen else [one])]

    def worth(number: int) -> tuple:
        seen = [squareness(one, every[number]) for one in sides]
        stickers = sum((one @ every[number].direction >= PLAIN).sum() for one in sides)
        return sum(one >= PLAIN for one in seen), stickers, -steps_between(now, number) - BELOW * (number >= ROUND), sum(seen)

    return max(range(len(every)), key=worth) if sides else now


def view_beside(puzzle: Puzzle, shown: Arrangement, slot: int, holding: Holding) -> int:
    """The view in which a slot is seen, and what leaves it goes to the right; from above if it can be."""
    every, out = views(puzzle, holding), outwards(puzzle, slot)
    return max(range(len(every)), key=lambda i: (out @ every[i].direction > PLAIN, i < ROUND, float(out @ every[i].right)))


def outwards(puzzle: Puzzle, slot: int) -> np.ndarray:
    """The unit vector (3,) along which a piece leaves its slot."""
    way = np.sum([face.normal for face in puzzle.geometry.bodies[slot].faces if face.facet], axis=0)
    return way / np.linalg.norm(way)


def views_of_turns(
    puzzle: Puzzle, turnings: Sequence[Sequence[Turn]], shown: Sequence[Arrangement], followed: Sequence[int], now: int, holding
) -> list[int]:
    """A view for each of the ``turnings``, made from the arrangements ``shown``: the layer is seen to turn, with few moves."""
    every = views(puzzle, holding)
    costs = np.full((len(turnings) + 1, len(every)), np.inf)
    costs[0, now] = 0.0
    before = np.zeros((len(turnings), len(every)), dtype=int)
    moves = np.array([[steps_between(i, j) for i in range(len(every))] for j in range(len(every))])
    for n, turns in enumerate(turnings):
        sides = sides_of(puzzle, shown[n], followed)
        for j, camera in enumerate(every):
            hidden = any(np.array(turn.axis) @ camera.direction < FACED and turn.step.first == 1 for turn in turns)
            lost = any(squareness(one, camera) < FACED for one in sides)
            cost = HIDDEN * hidden + UNSEEN * lost + BELOW * (j >= ROUND) + ASIDE * steps_between(j, 0)
            before[n, j] = int((costs[n] + moves[j]).argmin())
            costs[n + 1, j] = costs[n, before[n, j]] + moves[j, before[n, j]] + cost
    found = [int(costs[-1].argmin())]
    for n in range(len(turnings) - 1, 0, -1):
        found.append(int(before[n, found[-1]]))
    return found[::-1][: len(turnings)]


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


def lifted_scenes(puzzle: Puzzle, lifts: tuple[Lift, ...], done: float, camera: Camera, aside: np.ndarray) -> Iterator[Scene]:
    """The pieces that go ``aside`` (3,): on their way out (``done`` to 1), over (to 2) and back (to 3), the farthest first."""
    far, over = min(done, 1.0, 3.0 - done), min(max(done - 1.0, 0.0), 1.0)
    ways = [(lift, turn_matrix(lift.axis, over * lift.angle)) for lift in lifts]
    placed = [(lift, spin, spin @ outwards(puzzle, lift.slot)) for lift, spin in ways]
    for lift, spin, out in sorted(placed, key=lambda one: float(one[2] @ camera.direction)):
        yield piece_alone(puzzle, lift.piece, lift.slot, spin @ lift.matrix, far * (OUT * out + aside), camera)
