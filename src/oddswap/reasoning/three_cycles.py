"""Three-cycles: short sequences that move three pieces of one kind in a circle and nothing else that shows.

They are mined as commutators of short words with single turns, such as ``[A, C]``, ``[[A: B], C]``, and
carried to any three slots, with any twists, by set-up turns: ``S⁻¹ T S`` does to the images of the slots what T does to the
slots. A three-cycle is kept as three labels x, y, z: what is at x goes to y, from y to z, from z to x.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import product

import numpy as np

from oddswap.errors import NotationError, UnknownMove
from oddswap.puzzles.puzzle import Kind, Puzzle

Triple = tuple[int, int, int]
SHAPES = ("a", "a b a'", "a b", "a b a' b'")
"""What W is in the commutators ``[W, C]``: later shapes are tried for kinds that earlier ones leave without a tool."""


MOST = 40
"""So many tools are kept for a kind; set-up turns carry them everywhere else."""


@dataclass(frozen=True, eq=False)
class Cycles:
    """All three-cycles of a kind that were found: ``setups[triple]`` are the turns S, ``tools`` the words T by number."""

    kind: Kind
    tools: tuple[tuple[str, ...], ...]
    setups: dict[Triple, tuple[int, tuple[str, ...]]]

    def word(self, puzzle: Puzzle, triple: Triple) -> tuple[str, ...] | None:
        """The turns of the three-cycle x → y → z → x; ``None`` if it was not found."""
        found = self.setups.get(normal(self.kind, triple))
        if found is None:
            return None
        tool, setup = found
        return (*undone(puzzle, setup), *self.tools[tool], *setup)


def undone(puzzle: Puzzle, word: tuple[str, ...]) -> tuple[str, ...]:
    """The turns of a word undone, by name."""
    return tuple(str(puzzle.turns[name].step.inverse()) for name in reversed(word))


def normal(kind: Kind, triple: Triple) -> Triple:
    """One name for a three-cycle: its first slot the least, with twist 0; all three twisted alike is the same."""
    m, first = kind.twist, kind.first
    at = min(range(3), key=lambda i: (triple[i] - first) // m)
    turned = triple[at:] + triple[:at]
    shift = (turned[0] - first) % m
    x, y, z = (first + (label - first) // m * m + (label - first - shift) % m for label in turned)
    return x, y, z


@lru_cache(maxsize=16)
def three_cycles(puzzle: Puzzle) -> dict[str, Cycles]:
    """The three-cycles of every kind of at least five slots that shows more than one look, by the kind's name."""
    kinds = [kind for kind in puzzle.kinds if len(kind.slots) >= 5 and _shows(puzzle, kind)]
    tools: dict[str, dict[Triple, tuple[str, ...]]] = {kind.name: {} for kind in kinds}
    for shape in SHAPES:
        missing = {name for name, found in tools.items() if not found}
        if missing:
            for triple, kind, word in _mined(puzzle, shape):
                if kind.name in missing and len(tools[kind.name]) < MOST:
                    tools[kind.name].setdefault(triple, word)
    for kind in kinds:
        for mine in (_meeting_once, _among_powers):
            if not tools[kind.name]:
                tools[kind.name] = dict(mine(puzzle, kind))
    return {kind.name: _carried(puzzle, kind, tools[kind.name]) for kind in kinds}


def _shows(puzzle: Puzzle, kind: Kind) -> bool:
    return len(set(puzzle.looks[list(kind.labels)].tolist())) > 1


def _visible(puzzle: Puzzle) -> np.ndarray:
    """The base labels of the kinds that show anything."""
    return np.array([puzzle.base_label[s] for s, kind in enumerate(puzzle.kind_of) if _shows(puzzle, kind)])


def _units(puzzle: Puzzle) -> list[tuple[str, ...]]:
    """What a commutator is made of: single turns, and on an odd axis all slabs but the middle one turned alike."""
    units: list[tuple[str, ...]] = [(name,) for name in puzzle.turns]
    if puzzle.alphabet.middles:
        for word in ("M", "M'", "M2", "E", "E'", "E2", "S", "S'", "S2"):
            try:
                turns, _ = puzzle.settled(word)
            except (UnknownMove, NotationError):
                continue
            units.append(tuple(turn.name for turn in turns if not turn.whole))
    return units


def _mined(puzzle: Puzzle, shape: str) -> Iterator[tuple[Triple, Kind, tuple[str, ...]]]:
    """Pure three-cycles among the commutators ``[W, C]``, C a unit and W made of units a, b in the given shape."""
    units = _units(puzzle)
    perms = np.array([_image(puzzle, unit) for unit in units])
    backs = np.argsort(perms, axis=1)
    seen = _visible(puzzle)
    for a, first in enumerate(units):
        for b, second in enumerate(units):
            if (shape == "a") != (a == b):
                continue
            word = tuple(
                name
                for letter in shape.split()
                for name in {
                    "a": first, "b": second, "a'": undone(puzzle, first), "b'": undone(puzzle, second)
                }[letter]
            )
            left = _image(puzzle, word)
            right = np.argsort(left)[perms[:, left]]
            products = np.take_along_axis(backs, right, axis=1)
            for c in np.flatnonzero((products[:, seen] != seen).sum(axis=1) == 3):
                whole = (*word, *units[c], *undone(puzzle, word), *undone(puzzle, units[c]))
                yield from _as_triple(puzzle, whole)


def _meeting_once(puzzle: Puzzle, kind: Kind) -> Iterator[tuple[Triple, tuple[str, ...]]]:
    """Commutators ``[V, W]`` of words that move one slot in common, of this kind: these are always three-cycles.

    V and W are commutators of turns, as they are and carried on by a turn; the shortest pairs are given.
    """
    names = [(name,) for name in puzzle.turns]
    words = [(*a, *b, *undone(puzzle, a), *undone(puzzle, b)) for a in names for b in names if a != b]
    images = {word: _image(puzzle, word) for word in words}
    words = [word for word, image in images.items() if (image != np.arange(puzzle.degree)).any()]
    seen = _visible(puzzle)
    supports = np.array([images[word][seen] != seen for word in words], dtype=np.float32)
    own = np.array([label in kind.labels for label in seen], dtype=np.float32)
    some = words[:: max(1, len(words) // 400)]
    turned = [(*undone(puzzle, x), *y, *x) for x in names for y in names]
    carried = [(*undone(puzzle, x), *word, *x) for x in names for word in some]
    twice = [(*undone(puzzle, x), *word, *x) for x in names for word in turned[:: max(1, len(turned) // 400)]]
    for others in (turned, words, twice, carried):
        table = np.array([_image(puzzle, word)[seen] != seen for word in others], dtype=np.float32)
        common, in_kind = supports @ table.T, (supports * own) @ table.T
        pairs = np.argwhere((common == 1) & (in_kind == 1))
        for v, w in pairs[:20]:
            whole = (*words[v], *others[w], *undone(puzzle, words[v]), *undone(puzzle, others[w]))
            yield from ((triple, word) for triple, _, word in _as_triple(puzzle, whole))
        if len(pairs):
            return


def _among_powers(puzzle: Puzzle, kind: Kind) -> Iterator[tuple[Triple, tuple[str, ...]]]:
    """Three-cycles of a kind among the powers of words of two, three and four turns; the first that comes."""
    seen = _visible(puzzle)
    for length in (2, 3, 4):
        for word in product(puzzle.turns, repeat=length):
            image = power = _image(puzzle, word)
            for times in range(2, 13):
                power = image[power]
                if (power[seen] != seen).sum() == 3:
                    for triple, found, whole in _as_triple(puzzle, word * times):
                        if found is kind:
                            yield triple, whole
                            return


def _image(puzzle: Puzzle, word: tuple[str, ...]) -> np.ndarray:
    image = np.arange(puzzle.degree)
    for name in word:
        image = puzzle.turns[name].permutation[image]
    return image


def _as_triple(puzzle: Puzzle, word: tuple[str, ...]) -> Iterator[tuple[Triple, Kind, tuple[str, ...]]]:
    image = _image(puzzle, word)
    moved = [int(label) for label in _visible(puzzle) if image[label] != label]
    if len(moved) != 3:
        return
    x = moved[0]
    y, z = int(image[x]), int(image[image[x]])
    kind = next(k for k in puzzle.kinds if x in k.labels)
    slots = {(label - kind.first) // kind.twist for label in (x, y, z)}
    if len(slots) == 3 and image[z] == x and all(label in kind.labels for label in (y, z)):
        yield normal(kind, (x, y, z)), kind, word


def _carried(puzzle: Puzzle, kind: Kind, tools: dict[Triple, tuple[str, ...]]) -> Cycles:
    """Breadth first from the tools, by turns that move slots of the kind."""
    words = tuple(tools.values())
    setups: dict[Triple, tuple[int, tuple[str, ...]]] = {}
    by_length: dict[int, list[tuple[Triple, int, tuple[str, ...]]]] = {}
    for number, (triple, word) in enumerate(tools.items()):
        by_length.setdefault(len(word), []).append((triple, number, ()))
    turns = [(name, turn.permutation) for name, turn in puzzle.turns.items() if any(s in turn.slots for s in kind.places)]
    while by_length:
        length = min(by_length)
        for triple, number, setup in by_length.pop(length):
            if triple in setups:
                continue
            setups[triple] = (number, setup)
            for name, permutation in turns:
                following = normal(kind, tuple(int(permutation[label]) for label in triple))
                if following not in setups:
                    by_length.setdefault(length + 2, []).append((following, number, (*setup, name)))
    return Cycles(kind, words, setups)
