"""The stretch between two balls: all reduced words from one against the hashes of those from the other."""

from collections.abc import Iterator
from math import inf

import numpy as np

from oddswap.reasoning.search.levels import Ball, Check, Level, in_common
from oddswap.reasoning.search.words import Moves

CHUNK = 1 << 15
"""About how many hashes are made at a time: few enough to stay near the processor."""

LONGEST = 1 << 20
"""At most so many are made at a time, so that the time is looked at often enough."""

PACE = 20_000_000
"""About so many words are walked in a second."""


class Middle:
    """Ways from the middle of ``out`` to the middle of ``back``, whose moves are the inverses of those of ``out``.

    The ends of all words of ``beyond`` moves from the edge of ``back`` are kept as hashes; ``made`` counts the states
    generated.
    """

    def __init__(self, out: Ball, back: Ball):
        self.out, self.back = out, back
        self.kept, self.beyond, self.made = None, -1, 0

    def meeting(self) -> list[int] | None:
        """The way through a state that both edges hold, or None."""
        if (places := in_common(self.out.edge, self.back.edge)) is None:
            return None
        row = self.out.edge.rows[places[0]]
        return self._way(row, [], row)

    def _way(self, first: np.ndarray, word: list[int], last: np.ndarray) -> list[int]:
        """From the start to ``first`` at its edge, along the word to ``last`` at the other edge, and to the goal."""
        return [*reversed(self.out.way_in(first)), *word, *self.back.way_in(last)]

    def of_length(self, length: int, room: int, check: Check) -> list[int] | None:
        """A way of that many moves, given that none is shorter; None proves that there is none.

        ``room`` is how many bytes may be used; ``MemoryError`` when they are too few.
        """
        gap = length - self.out.depth - self.back.depth
        self._keep(*self._best_split(gap, room), check)
        moves, edge, before = self.out.moves, self.out.edge, 0
        for hashes in word_ends(moves, edge, gap - self.beyond, check):
            self.made += len(hashes)
            for place in self.kept.places_of(hashes):
                if (way := self._followed(gap - self.beyond, before + int(place), check)) is not None:
                    return way
            before += len(hashes)
        return None

    def expected(self, length: int, room: int) -> float:
        """About how many seconds trying that length takes; infinite where there is no room."""
        gap = length - self.out.depth - self.back.depth
        try:
            beyond, words = self._best_split(gap, room)
        except MemoryError:
            return inf
        return (self.out.words(gap - beyond) + (0 if beyond == self.beyond else words)) / PACE

    def release(self) -> None:
        """Keep no hashes any more."""
        self.kept, self.beyond = None, -1

    def _best_split(self, gap: int, room: int) -> tuple[int, int]:
        """How many moves of the gap to take from the far side, with the number of words: least work that fits."""
        from oddswap.reasoning.search.word_kernels import HashSet

        choices = []
        for beyond in range(gap + 1):
            words, known = self.back.words(beyond), beyond == self.beyond
            if known or HashSet.bytes_for(words) <= room:
                choices.append((self.out.words(gap - beyond) + (0 if known else words), beyond, words))
        if not choices:
            raise MemoryError
        return min(choices)[1:]

    def _keep(self, beyond: int, words: int, check: Check) -> None:
        from oddswap.reasoning.search.word_kernels import HashSet

        if beyond == self.beyond:
            return
        self.release()
        kept = HashSet(words)
        for hashes in word_ends(self.back.moves, self.back.edge, beyond, check):
            self.made += len(hashes)
            kept.add(hashes)
        self.kept, self.beyond = kept, beyond

    def _followed(self, length: int, number: int, check: Check) -> list[int] | None:
        """The way through the end of one word from the edge; None when only its hash agrees, or a state of it cannot be."""
        moves, edge = self.out.moves, self.out.edge
        ends = np.cumsum(moves.words(length)[edge.last])
        root = int(np.searchsorted(ends, number, side="right"))
        word = moves.word(int(edge.last[root]), length, number - int(ends[root - 1] if root else 0))
        end = edge.rows[root]
        for move in word:
            end, can = moves.apply(end, move), moves.can(end[None], move)[0]
            if not (can and moves.may_be(end[None])[0]):
                return None
        near = Ball(moves, end[None])
        for _ in range(self.beyond):
            near.grow(check)
        if (places := in_common(near.edge, self.back.edge)) is None:
            return None
        last = near.edge.rows[places[0]]
        return self._way(edge.rows[root], [*word, *reversed(near.way_in(last))], last)


def word_ends(moves: Moves, roots: Level, length: int, check: Check) -> Iterator[np.ndarray]:
    """The hashes at the ends of all reduced words of ``length`` from some states, in order, some at a time.

    The array that is yielded is used again for the next ones.
    """
    longest = int(max(moves.words(length)[np.unique(roots.last)], default=1)) or 1
    if length == 0:
        yield roots.hashes
    elif length > 1 and longest > LONGEST:
        for root in range(len(roots)):
            yield from word_ends(moves, roots.take(np.array([root])).after(moves, check), length - 1, check)
    else:
        from oddswap.reasoning.search.word_kernels import word_ends as fill

        step = max(1, CHUNK // longest)
        out = np.empty(step * longest, dtype=np.uint64)
        tables = *moves.following, moves.source, moves.lut, moves.moved, moves.changes
        for begin in range(0, len(roots), step):
            check()
            part = roots.take(np.arange(begin, min(begin + step, len(roots))))
            yield out[: fill(part.rows, part.hashes, part.last, length, *tables, out)]
