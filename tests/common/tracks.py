"""Puzzles at random whose shape decides their turns, small enough for a plain walk."""

from types import MappingProxyType

import numpy as np

from oddswap.puzzles.base.named import NamedPuzzle, frozen
from oddswap.puzzles.base.puzzle import Kind, Turn
from oddswap.puzzles.base.shapes import Shaped
from oddswap.values.sequence import Alphabet, Step


class Track(Shaped, NamedPuzzle):
    """A marker on a track: each turn moves the places of the track and some pieces; where the marker is, some are blocked."""

    blocked: np.ndarray

    @property
    def void(self):
        return frozenset(self.kinds[0].places)

    def shape_of(self, permutation):
        return np.array([permutation[0]], dtype=np.uint8)

    def arrows(self, rows):
        images = np.array([turn.permutation for turn in self.turns.values()])
        after = images[:, rows[:, 0]]
        return after[:, :, None].astype(np.uint8), ~(self.blocked[:, rows[:, 0]] | self.blocked[:, after].diagonal().T)


def random_track(seed: int) -> Track:
    """Between 2 and 40 places, and pieces of which turns may keep together such as move alike."""
    rng = np.random.default_rng(seed)
    places, pieces, count = int(rng.integers(2, 41)), int(rng.integers(3, 8)), int(rng.integers(2, 5))
    kinds = (Kind("track", "track", tuple(f"t{i}" for i in range(places)), 1, 0, 0),)
    kinds += (Kind("beads", "beads", tuple(f"b{i}" for i in range(pieces)), 1, places, places),)
    turns = {}
    for number in range(count):
        moved = rng.permutation(pieces) if rng.random() < 0.5 else np.roll(np.arange(pieces), int(rng.integers(pieces)))
        once = np.concatenate([rng.permutation(places), places + moved])
        for name, image in ((f"m{'abcd'[number]}", once), (f"m{'abcd'[number]}'", np.argsort(once))):
            turns[name] = Turn(name, Step(name.rstrip("'"), 0, 0, -1 if "'" in name else 1, 10**6), frozen(image.tolist()))
    looks = frozen([0] * places + list(range(pieces)))
    track = Track(f"track {seed}", "track", kinds, MappingProxyType(turns), Alphabet(), looks)
    object.__setattr__(track, "blocked", np.repeat(rng.random((count, places)) < 0.3, 2, axis=0))
    return track
