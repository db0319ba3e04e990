"""Short commutators ``[W, C]`` that move few labels, found by trying all of them.

``[W, C]`` moves the label x just where *W, then C* and *C, then W* take x to different places, so nothing is multiplied
out: a pair is dropped at the first label too many. W and C are words of units; a unit is a turn, a power of one, or all slabs
of an axis but the middle one turned alike.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property, lru_cache, reduce
from itertools import chain

import numpy as np

from oddswap.errors import NotationError, UnknownMove
from oddswap.puzzles.base.puzzle import Kind, Puzzle
from oddswap.reasoning.budget import Clock
from oddswap.reasoning.groups.chain import inverses
from oddswap.reasoning.search.seen import looks_of

Word = tuple[str, ...]
PAST = ("past",)
"""What two turns give that may change places."""


@lru_cache(maxsize=16)
def _meetings(puzzle: Puzzle) -> dict[str, dict[str, Word | None]]:
    """For each turn what it gives with each turn before it: one turn or none, `PAST`, or ``None`` if both stay as they are."""
    slab, named = {}, {}
    for name, turn in puzzle.turns.items():
        step = turn.step
        slab[name] = (step.stem, step.first, step.last), step.amount % step.order, step.order
        named[slab[name][:2]] = name
    first = {key: name for name, (key, *_) in reversed(slab.items())}
    images = {key: puzzle.turns[name].permutation for key, name in first.items()}
    apart = {(a, b): bool((q[p] == p[q]).all()) for a, p in images.items() for b, q in images.items()}

    def meeting(before: str, name: str) -> Word | None:
        (one, begun, order), (other, amount, _) = slab[before], slab[name]
        if one != other:
            return PAST if apart[one, other] else None
        together = (begun + amount) % order
        if together == 0:
            return ()
        return (named[one, together],) if (one, together) in named else None

    return {name: {before: meeting(before, name) for before in slab} for name in slab}


def tidied(puzzle: Puzzle, word: Word) -> Word:
    """The same effect with turns of one slab gathered where all turns between them commute with it.

    >>> from oddswap.puzzles.catalogue import load
    >>> tidied(load("cube:3"), ("R", "L", "R", "U", "U'", "L'"))
    ('R2',)
    """
    meetings = _meetings(puzzle)
    done: list[str] = []
    for name in word:
        given, at = meetings[name], len(done) - 1
        while at >= 0 and given[done[at]] is PAST:
            at -= 1
        both = given[done[at]] if at >= 0 else None
        if both is None:
            done.append(name)
        else:
            done[at : at + 1] = both
    return tuple(done)


TRIED = 400_000_000
"""A table of commutators with more pairs than this is not tried."""
STEP = 200_000
"""So many pairs are tried between two looks at the clock."""
PAD = 32_767
"""Stands after the end of a word."""
SMALL = 100_000
"""Powers are taken of the words of one length if there are at most so many."""
KEPT = 200_000
"""At most so many finds of one table are looked at."""


def undone(puzzle: Puzzle, word: Word) -> Word:
    """The turns of a word undone, by name."""
    return tuple(map(_inverse_names(puzzle).__getitem__, reversed(word)))


@lru_cache(maxsize=16)
def _inverse_names(puzzle: Puzzle) -> dict[str, str]:
    return {name: str(turn.step.inverse()) for name, turn in puzzle.turns.items()}


def image_of(puzzle: Puzzle, word: Word) -> np.ndarray:
    """The label permutation of a word, shape (degree,)."""
    image = np.arange(puzzle.degree)
    for name in word:
        image = puzzle.turns[name].permutation[image]
    return image


def shows(puzzle: Puzzle, kind: Kind) -> bool:
    """Whether a kind has more than one look."""
    return len(looks_of(puzzle, kind)) > 1


def visible(puzzle: Puzzle) -> np.ndarray:
    """The base labels of the kinds that show anything."""
    return puzzle.base_label[[shows(puzzle, kind) for kind in puzzle.kind_of]]


@lru_cache(maxsize=16)
def units(puzzle: Puzzle) -> tuple[Word, ...]:
    """What words are made of; of several with one effect the shortest.

    >>> from oddswap.puzzles.catalogue import load
    >>> len(units(load("cube:3"))), len(units(load("rings:7+7,cross=2")))
    (27, 12)
    """
    words: list[Word] = [(name,) for name in puzzle.turns]
    if puzzle.alphabet.middles:
        for middle in ("M", "M'", "M2", "E", "E'", "E2", "S", "S'", "S2"):
            try:
                turns, _ = puzzle.settled(middle)
            except (UnknownMove, NotationError):
                continue
            words.append(tuple(turn.name for turn in turns if not turn.whole))
    words += [(name,) * times for name, turn in puzzle.turns.items() for times in range(2, turn.step.order // 2 + 1)]
    found: dict[bytes, Word] = {}
    for word in sorted(words, key=len):
        image = image_of(puzzle, word)
        if (image != np.arange(puzzle.degree)).any():
            found.setdefault(image.tobytes(), word)
    return tuple(found.values())


@dataclass(frozen=True, eq=False)
class Words:
    """Words as rows of unit numbers (rows, length), `PAD` where they end, with their label permutations (rows, degree)."""

    letters: np.ndarray
    images: np.ndarray

    @cached_property
    def backs(self) -> np.ndarray:
        """The permutations undone."""
        return inverses(self.images)


def longer(words: Words, base: Words) -> Words:
    """Every word followed by every unit of ``base``."""
    letters = np.concatenate([words.letters.repeat(len(base.letters), 0), np.tile(base.letters, (len(words.letters), 1))], 1)
    images = base.images[:, words.images].swapaxes(0, 1).reshape(-1, words.images.shape[1])
    return Words(letters, np.ascontiguousarray(images))


def after(first: np.ndarray, *then: np.ndarray) -> np.ndarray:
    """Rows of permutations, one after the other."""
    return reduce(lambda image, step: np.take_along_axis(step, image.astype(np.intp), 1), then, first)


def conjugates(base: Words) -> Words:
    """The words a b a' of units; the inverse of unit a has the number -1 - a."""
    a, b = np.argwhere(~np.eye(len(base.letters), dtype=bool)).T
    return Words(np.stack([a, b, -1 - a], 1), after(base.images[a], base.images[b], base.backs[a]))


def commuted(base: Words, most: int) -> Words:
    """The powers (a b a' b')^k of units for k up to ``most``."""
    once = conjugates(base)
    letters = np.column_stack([once.letters, -1 - once.letters[:, 1]])
    images = list(powers(after(once.images, base.backs[letters[:, 1]]), most))
    return Words(np.concatenate([repeated(letters, times, 4 * most) for times in range(1, most + 1)]), np.concatenate(images))


def powers(images: np.ndarray, most: int) -> Iterator[np.ndarray]:
    """The permutations done once, twice, up to ``most`` times."""
    power = images
    for _ in range(most):
        yield power
        power = after(power, images)


def repeated(letters: np.ndarray, times: int, width: int) -> np.ndarray:
    """Each word so often, as rows of that width."""
    return np.pad(np.tile(letters, (1, times)), ((0, 0), (0, width - times * letters.shape[1])), constant_values=PAD)


def small(base: Words, seen: np.ndarray, most: int, clock: Clock) -> Words:
    """The powers of words of two to four units that move the fewest of the labels ``seen``: so many, each effect once."""
    letters, images, counts, words = [], [], [], base
    for length in (2, 3, 4):
        if len(base.letters) ** length > SMALL or clock.spent:
            break
        words = longer(words, base)
        for times, power in enumerate(powers(words.images, 12), 1):
            if clock.spent:
                break
            moved = (power[:, seen] != seen).sum(axis=1)
            best = np.flatnonzero((moved > 0) & (moved <= len(seen) // 2))
            letters.append(repeated(words.letters[best], times, 48))
            images.append(power[best])
            counts.append(moved[best])
    if not letters:
        return Words(base.letters[:0], base.images[:0])
    letters, images = np.concatenate(letters), np.concatenate(images)
    order = np.lexsort(((letters != PAD).sum(axis=1), np.concatenate(counts)))
    chosen: dict[bytes, int] = {}
    for row in order.tolist():
        if len(chosen) == most:
            break
        chosen.setdefault(images[row].tobytes(), row)
    rows = list(chosen.values())
    return Words(letters[rows], images[rows])


def single(puzzle: Puzzle) -> Words:
    """The units as words of one letter."""
    images = np.array([image_of(puzzle, unit) for unit in units(puzzle)], dtype=np.uint16)
    return Words(np.arange(len(images))[:, None], images)


def spelt(puzzle: Puzzle, letters: np.ndarray) -> Word:
    """The turns of a row of unit numbers."""
    return tuple(chain.from_iterable(map(_spelling(puzzle).__getitem__, letters.tolist())))


@lru_cache(maxsize=16)
def _spelling(puzzle: Puzzle) -> dict[int, Word]:
    """The turns of each unit by its number, and of each undone."""
    known = units(puzzle)
    return {PAD: ()} | dict(enumerate(known)) | {-1 - x: undone(puzzle, unit) for x, unit in enumerate(known)}


@dataclass(frozen=True, eq=False)
class Finds:
    """Commutators ``[words[w], others[c]]``: ``rows`` (finds, 2) holds w and c.

    ``moved`` (finds, most) holds the labels moved, and -1 after them.
    """

    words: Words
    others: Words
    rows: np.ndarray
    moved: np.ndarray

    def word(self, puzzle: Puzzle, row: int) -> Word:
        """The turns of a find."""
        w, c = self.rows[row]
        first, second = spelt(puzzle, self.words.letters[w]), spelt(puzzle, self.others.letters[c])
        return (*first, *second, *undone(puzzle, first), *undone(puzzle, second))

    def images(self, labels: np.ndarray) -> np.ndarray:
        """Where each find takes its labels, (finds, …) to (finds, …)."""
        w, c = self.words.images[self.rows[:, 0]], self.others.images[self.rows[:, 1]]
        return after(labels, w, c, self.words.backs[self.rows[:, 0]], self.others.backs[self.rows[:, 1]])


def few_movers(words: Words, others: Words, seen: np.ndarray, most: int, clock: Clock) -> Finds:
    """All commutators of the two tables that move one to ``most`` of the labels ``seen``, while there is time."""
    rows, moved = [np.empty((0, 2), np.int32)], [np.empty((0, most), np.int32)]
    tried = len(words.letters) if len(words.letters) * len(others.letters) <= TRIED else 0
    step = max(1, STEP // max(1, len(others.letters)))
    for begin in range(0, tried, step):
        if clock.spent or sum(map(len, rows)) >= KEPT:
            break
        pairs, labels = _pairs(words.images[begin : begin + step], others.images, seen, most)
        rows.append(pairs + [begin, 0])
        moved.append(labels)
    return Finds(words, others, np.concatenate(rows)[:KEPT], np.concatenate(moved)[:KEPT])


def _pairs(words: np.ndarray, others: np.ndarray, seen: np.ndarray, most: int) -> tuple[np.ndarray, np.ndarray]:
    """Which pairs of rows commute but for one to ``most`` labels, (finds, 2), and these labels, as `Finds` has them.

    The first labels are looked at for all pairs, the others for those alone that may be among them yet.
    """
    columns, first = np.ascontiguousarray(others.T), 3 * most
    counts = np.zeros((len(words), len(others)), dtype=np.uint8)
    for label in seen[:first]:
        counts += columns[words[:, label]] != words[:, others[:, label]]
    w, c = np.nonzero(counts <= most)
    counts = counts[w, c]
    for label in seen[first:]:
        counts += others[c, words[w, label]] != words[w, others[c, label]]
        within = counts <= most
        w, c, counts = w[within], c[within], counts[within]
    w, c = w[counts > 0], c[counts > 0]
    found, at = np.nonzero(others[c[:, None], words[w][:, seen]] != words[w[:, None], others[c][:, seen]])
    moved = np.full((len(w), most), -1, dtype=np.int32)
    moved[found, np.arange(len(found)) - np.searchsorted(found, found)] = seen[at]
    return np.stack([w, c], axis=1), moved
