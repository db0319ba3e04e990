"""Fields: the states of a box that may open, by their distance from some, told apart as far as a `Frame` tells them apart.

Every turn can be undone, and states that are taken for one go on alike, so what lies one turn beyond a level is in that level,
in the one before it, or new: older levels need not be kept. Keys are compared in full, so the levels are exact.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

import numpy as np

from oddswap.reasoning.search_levels import Check

if TYPE_CHECKING:
    from oddswap.reasoning.excursions import Frame


class Field:
    """``edge`` (n, slots) are the packed states of the outermost level, in the order of their ``edge_keys``."""

    def __init__(self, frame: Frame, starts: np.ndarray):
        self.frame = frame
        self.edge_keys, first = np.unique(frame.keys(starts), return_index=True)
        self.edge, self.before_keys = starts[first], self.edge_keys[:0]
        self.links: list[tuple[np.ndarray, np.ndarray]] = []
        """For each level but the first, from which place in the level before, by which turn, each state was reached."""

    @property
    def depth(self) -> int:
        return len(self.links)

    @property
    def states(self) -> int:
        """How many states were reached, those to start from not counted."""
        return sum(len(turns) for _, turns in self.links)

    @property
    def nbytes(self) -> int:
        links = sum(parents.nbytes + turns.nbytes for parents, turns in self.links)
        return self.edge.nbytes + self.edge_keys.nbytes + self.before_keys.nbytes + links

    @property
    def bytes_to_grow(self) -> int:
        """About the memory that the next level needs while it is made, by how much the last one grew."""
        row = self.edge.shape[1] + 4 * self.edge_keys.itemsize + 4 * 8
        before, now = (len(turns) for _, turns in self.links[-2:]) if self.depth > 1 else (1, len(self.frame.moves))
        return int(len(self.edge) * min(len(self.frame.moves), 1.3 * now / before) * row)

    def grow(self, check: Check = lambda: None) -> None:
        """Add the next level; when ``check`` ends it, the field stays as it was."""
        moves, parts = self.frame.moves, []
        for move in range(len(moves)):
            check()
            after = moves.apply(self.edge, move)
            there = np.flatnonzero(moves.may_be(after))
            keys, first = np.unique(self.frame.keys(after[there]), return_index=True)
            new = ~(_among(keys, self.edge_keys) | _among(keys, self.before_keys))
            there = there[first[new]]
            parts.append((keys[new], there.astype(np.int32), np.full(len(there), move, dtype=np.uint8)))
        del after
        keys, parents, turns = (np.concatenate(part) for part in zip(*parts, strict=True))
        del parts
        keys, first = np.unique(keys, return_index=True)
        parents, turns = parents[first], turns[first]
        rows = np.empty((len(keys), self.edge.shape[1]), dtype=self.edge.dtype)
        for move in range(len(moves)):
            made = turns == move
            rows[made] = moves.apply(self.edge[parents[made]], move)
        self.before_keys, self.edge_keys, self.edge = self.edge_keys, keys, rows
        self.links.append((parents, turns))

    def word(self, place: int) -> list[int]:
        """The moves from a start to a state of the edge."""
        found = []
        for parents, turns in reversed(self.links):
            found.append(int(turns[place]))
            place = int(parents[place])
        return found[::-1]

    def arrays(self) -> dict[str, np.ndarray]:
        """All that it takes to go on from here, by name."""
        links = {f"parents{level}": parents for level, (parents, _) in enumerate(self.links)}
        links |= {f"turns{level}": turns for level, (_, turns) in enumerate(self.links)}
        before = self.before_keys.view(np.uint8).reshape(len(self.before_keys), self.before_keys.itemsize)
        return {"edge": self.edge, "before": before, **links}

    @staticmethod
    def taken_up(frame: Frame, arrays: Mapping[str, np.ndarray]) -> Field:
        """The field of these arrays. `KeyError` and `ValueError` where they are none."""
        field = Field(frame, arrays["edge"])
        field.before_keys = np.ascontiguousarray(arrays["before"]).view(field.edge_keys.dtype).ravel()
        levels = range(sum(name.startswith("turns") for name in arrays))
        field.links = [(arrays[f"parents{level}"], arrays[f"turns{level}"]) for level in levels]
        return field


def _among(keys: np.ndarray, known: np.ndarray) -> np.ndarray:
    """Which keys are among known ones, both sorted and each once."""
    return np.isin(keys, known, assume_unique=True)
