"""Short words along a chain of stabilisers: every arrangement of a small puzzle goes home one label at a time.

T. Minkwitz, An algorithm for solving the factorization problem in permutation groups, J. Symbolic Comput. 26 (1998) 89-95.
For each label of a base the shortest known word is kept that brings it home from each place and spares the labels before it.
Words are tried by growing length, each sifted down the chain; then words of one level are multiplied with each other.
"""

from dataclasses import dataclass

import numpy as np

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.budget import Clock, cached
from oddswap.reasoning.ways.commutators import Word, image_of, shows, tidied, undone, units

MOST_LABELS = 260
"""Puzzles with more labels are not tried."""
FIRST_WORDS = 6_000
"""So many words are sifted before words are multiplied."""
WALKS = 60
"""After so many random walks without anything new the tables are taken to be full."""
MOST_PAIRS = 400
"""So many products are made on a level in one round."""


@dataclass(frozen=True, eq=False)
class KnownWord:
    """A word and its label permutation."""

    word: Word
    image: np.ndarray


class ShortWords:
    """``tables[i][label]`` brings what is at that label to ``base[i]`` and fixes the base before it."""

    def __init__(self, puzzle: Puzzle, clock: Clock):
        self.puzzle, self.clock = puzzle, clock
        base = [puzzle.base_label[s] for s, kind in enumerate(puzzle.kind_of) if shows(puzzle, kind)]
        self.base = [int(label) for label in base]
        self.tables: list[dict[int, KnownWord]] = [{} for _ in self.base]
        self.longest = 8
        self._words()
        for self.longest in (12, 20, 40, 80, 160, 320):
            before = -1
            while before != self._filled() and not clock.spent:
                before = self._filled()
                self._round()
        self._walks()

    def home(self, image: np.ndarray) -> Word | None:
        """The turns that bring everything home from a label permutation; None where a word is missing."""
        word: Word = ()
        for base, table in zip(self.base, self.tables, strict=True):
            at = int(image[base])
            if at != base:
                if at not in table:
                    return None
                word, image = (*word, *table[at].word), table[at].image[image]
        return tidied(self.puzzle, word)

    def _filled(self) -> int:
        return sum(map(len, self.tables))

    def _words(self) -> None:
        """Sift all words of units by growing length, each effect once."""
        steps = [KnownWord(word, image_of(self.puzzle, word)) for word in units(self.puzzle)]
        known, layer, count = set(), [KnownWord((), np.arange(self.puzzle.degree))], 0
        while layer:
            following = []
            for entry in layer:
                for step in steps:
                    image = step.image[entry.image]
                    if image.tobytes() not in known:
                        known.add(image.tobytes())
                        following.append(KnownWord(tidied(self.puzzle, (*entry.word, *step.word)), image))
                        self._sift(0, following[-1])
                        count += 1
                        if count == FIRST_WORDS or self.clock.spent:
                            return
            layer = following

    def _sift(self, level: int, entry: KnownWord) -> None:
        for i in range(level, len(self.base)):
            base, table = self.base[i], self.tables[i]
            at = int(entry.image[base])
            if at == base:
                continue
            if not entry.word or len(entry.word) > self.longest:
                return
            self._keep(i, at, KnownWord(undone(self.puzzle, entry.word), np.argsort(entry.image)))
            self._keep(i, int(np.flatnonzero(entry.image == base)[0]), entry)
            back = table[at]
            entry = KnownWord(tidied(self.puzzle, (*entry.word, *back.word)), back.image[entry.image])

    def _keep(self, level: int, at: int, entry: KnownWord) -> None:
        known = self.tables[level].get(at)
        if known is None or len(entry.word) < len(known.word):
            self.tables[level][at] = entry

    def _walks(self) -> None:
        """Sift random walks, whatever the length of their words, until so many in a row bring nothing new."""
        rng, names, nothing = np.random.default_rng(0), list(self.puzzle.turns), 0
        self.longest = 10**6
        while nothing < WALKS and not self.clock.spent:
            word = tuple(names[k] for k in rng.integers(len(names), size=40))
            before = self._filled()
            self._sift(0, KnownWord(tidied(self.puzzle, word), image_of(self.puzzle, word)))
            nothing = nothing + 1 if self._filled() == before else 0
            if not nothing:
                self._round()

    def _round(self) -> None:
        """Multiply the words of each level with each other, the short ones first."""
        for level, table in enumerate(self.tables):
            ordered = sorted(table.values(), key=lambda entry: len(entry.word))
            pairs = sorted((len(a.word) + len(b.word), i, j) for i, a in enumerate(ordered) for j, b in enumerate(ordered))
            for length, i, j in pairs[:MOST_PAIRS]:
                if length > self.longest or self.clock.spent:
                    break
                a, b = ordered[i], ordered[j]
                self._sift(level, KnownWord(tidied(self.puzzle, (*a.word, *b.word)), b.image[a.image]))


@cached(16)
def short_words(puzzle: Puzzle, clock: Clock) -> ShortWords:
    """The tables of a puzzle, made once unless the time ended first.

    >>> from oddswap.puzzles.catalogue import load
    >>> from oddswap.reasoning.budget import Budget
    >>> cube = load("cube:2,turns=half")
    >>> short_words(cube, Budget(10).start()).home(cube.permutation(cube.follow("R2 U2")))
    ('U2', 'R2')
    """
    return ShortWords(puzzle, clock)
