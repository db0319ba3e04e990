"""Levels of positions of a box that may open, by number of turns from where they start.

Every turn can be undone, so a turn from one level leads to that level, the one before, or a new one: two levels are enough to
spot new positions. Keys are compared in full, so levels are exact. Positions that the `Frame` does not tell apart count as one.
"""

from collections.abc import Mapping

import numpy as np

from oddswap.reasoning.opening.frames import Frame
from oddswap.reasoning.search.levels import Check


class BoxLevels:
    """``edge`` (n, slots) are the packed states of the outermost level, in the order of their ``edge_keys``; ``before`` those
    of the level before it.
    """

    def __init__(self, frame: Frame, starts: np.ndarray):
        self.frame = frame
        self.edge_keys, first = np.unique(frame.keys(starts), return_index=True)
        self.edge = starts[first]
        self.before, self.before_keys = self.edge[:0], self.edge_keys[:0]
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
        return self.edge.nbytes + self.before.nbytes + self.edge_keys.nbytes + self.before_keys.nbytes + links

    @property
    def bytes_to_grow(self) -> int:
        """About the memory that the next level needs while it is made, by how much the last one grew."""
        row = self.edge.shape[1] + 4 * self.edge_keys.itemsize + 4 * 8
        before, now = (len(turns) for _, turns in self.links[-2:]) if self.depth > 1 else (1, len(self.frame.moves))
        return int(len(self.edge) * min(len(self.frame.moves), 1.3 * now / before) * row)

    def grow(self, check: Check = lambda: None) -> None:
        """Add the next level; when ``check`` ends it, the levels stay as they were."""
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
        self._add(parents, turns, keys)

    def _add(self, parents: np.ndarray, turns: np.ndarray, keys: np.ndarray | None = None) -> None:
        rows = np.empty((len(parents), self.edge.shape[1]), dtype=self.edge.dtype)
        for move in range(len(self.frame.moves)):
            made = turns == move
            rows[made] = self.frame.moves.apply(self.edge[parents[made]], move)
        self.before, self.before_keys, self.edge = self.edge, self.edge_keys, rows
        self.edge_keys = self.frame.keys(rows) if keys is None else keys
        self.links.append((parents, turns))

    def word(self, place: int, level: int | None = None) -> list[int]:
        """The moves from a start to a state of a level, the outermost where none is told."""
        found = []
        for parents, turns in reversed(self.links[:level]):
            found.append(int(turns[place]))
            place = int(parents[place])
        return found[::-1]

    def arrays(self) -> dict[str, np.ndarray]:
        """All that it takes to come back here from the same starts, by name."""
        links = {f"parents{level}": parents for level, (parents, _) in enumerate(self.links)}
        return links | {f"turns{level}": turns for level, (_, turns) in enumerate(self.links)}

    def restore(self, arrays: Mapping[str, np.ndarray]) -> None:
        """Come back to where the arrays were made."""
        for level in range(sum(name.startswith("turns") for name in arrays)):
            self._add(arrays[f"parents{level}"], arrays[f"turns{level}"])


def _among(keys: np.ndarray, known: np.ndarray) -> np.ndarray:
    """Which keys are among known ones, both sorted and each once."""
    return np.isin(keys, known, assume_unique=True)
