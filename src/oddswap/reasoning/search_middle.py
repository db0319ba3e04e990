"""The stretch between two balls: all reduced words from one against a set of hashes from the other."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import numpy as np

from oddswap.reasoning.search_levels import Ball, Check, Level, in_common

CHUNK = 1 << 18


class Middle:
    """Ways from the middle of ``out`` to the middle of ``back`` (whose moves are the inverses of those of ``out``)."""

    def __init__(self, out: Ball, back: Ball):
        self.out, self.back = out, back
        self.kept, self.beyond, self.made = None, 0, 0

    @property
    def nbytes(self) -> int:
        return 0 if self.kept is None else self.kept.nbytes

    def meeting(self) -> list[int] | None:
        """The way through a state that both outermost levels hold, or None."""
        places = in_common(self.out.edge, self.back.edge)
        return None if places is None else self._through(self.out.edge.rows[places[0]], [])

    def _through(self, row: np.ndarray, word: list[int]) -> list[int]:
        """From the start to ``row`` at the edge of ``out``, along ``word``, and then in from the edge of ``back``."""
        inwards = self.out.way_in(row, self.out.depth)
        for move in word:
            row = self.out.moves.apply(row, move)
        return [*reversed(inwards), *word, *self.back.way_in(row, self.back.depth)]

    def of_length(self, length: int, check: Check, room: Callable[[], int]) -> list[int] | None:
        """A way of exactly that many turns, or None when there is none (given that none is shorter)."""
        beyond = self._split(length - self.out.depth - self.back.depth, room())
        if self.kept is None or beyond != self.beyond:
            self.kept = None
            check(16 * self.back.words(beyond))
            parts = []
            for _, hashes in _leaves(self.back, beyond, check):
                parts.append(hashes)
                self.made += len(hashes)
            self.kept, self.beyond = np.unique(np.concatenate(parts)), beyond
        between = length - self.out.depth - self.back.depth - beyond
        for before, hashes in _leaves(self.out, between, check):
            self.made += len(hashes)
            place = np.searchsorted(self.kept, hashes)
            place[place == len(self.kept)] = 0
            for hit in np.flatnonzero(self.kept[place] == hashes):
                word = self._followed(before + int(hit), between)
                if word is not None:
                    return word
        return None

    def _split(self, gap: int, room: int) -> int:
        """How many of the moves in the gap to take from the far side: least work, within the memory."""
        def cost(beyond: int) -> int:
            known = self.kept is not None and beyond == self.beyond
            return self.out.words(gap - beyond) + (0 if known else self.back.words(beyond))

        fits = [b for b in range(gap + 1) if 16 * self.back.words(b) <= room + self.nbytes]
        return min(fits or [0], key=cost)

    def _followed(self, number: int, between: int) -> list[int] | None:
        """The way through a candidate, the word of that number from the edge; None when only the hashes agree."""
        edge = self.out.edge
        ends = np.cumsum(self.out.moves.words(between)[edge.last])
        root = int(np.searchsorted(ends, number, side="right"))
        number -= int(ends[root - 1]) if root else 0
        word = list(self.out.moves.word(int(edge.last[root]), between, number))
        row = edge.rows[root]
        for move in word:
            row = self.out.moves.apply(row, move)
        near = Level(row[None], self.out.moves.hashes(row[None]), np.array([len(self.out.moves)], dtype=np.int16))
        rows, words = near.rows, [()]
        for _ in range(self.beyond):
            rows = np.concatenate([self.out.moves.apply(rows, m) for m in range(len(self.out.moves))])
            words = [(*w, m) for m in range(len(self.out.moves)) for w in words]
        found = in_common(Level(rows, self.out.moves.hashes(rows), np.zeros(len(rows))), self.back.edge)
        return None if found is None else self._through(edge.rows[root], [*word, *words[found[0]]])


def _leaves(ball: Ball, length: int, check: Check) -> Iterator[tuple[int, np.ndarray]]:
    """The hashes at the ends of all reduced words from the edge of a ball, in order: ``(how many before, hashes)``."""
    moves, edge = ball.moves, ball.edge
    ends = np.cumsum(moves.words(length)[edge.last])
    root = 0
    while root < len(edge):
        check(0)
        before = int(ends[root - 1]) if root else 0
        stop = max(root + 1, int(np.searchsorted(ends, before + CHUNK)))
        part = edge.take(slice(root, stop))
        hashes, rows, last = part.hashes, part.rows, part.last
        for _ in range(length):
            owner, move = np.nonzero(moves.follow[last])
            new_hashes = np.empty(len(owner), dtype=np.uint64)
            new_rows = np.empty((len(owner), rows.shape[1]), dtype=np.uint8)
            for m in range(len(moves)):
                mine = move == m
                new_rows[mine] = moves.apply(rows[owner[mine]], m)
                new_hashes[mine] = moves.hashes_after(rows[owner[mine]], hashes[owner[mine]], m)
            rows, hashes, last = new_rows, new_hashes, move
        yield before, hashes
        root = stop
