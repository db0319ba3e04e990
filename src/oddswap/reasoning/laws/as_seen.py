"""A label permutation told as it is seen: pieces that look right count as at home, whichever of their twins they are."""

from functools import lru_cache

import numpy as np

from oddswap.puzzles.base.puzzle import Kind, Puzzle


@lru_cache(maxsize=256)
def looks_right(puzzle: Puzzle, kind: Kind) -> np.ndarray:
    """Whether piece q at label w, both counted within the kind, looks right there; shape (pieces, labels)."""
    m, n = kind.twist, len(kind.slots)
    looks, labels = puzzle.looks[list(kind.labels)], np.arange(n * m)
    shown = looks[np.arange(n)[:, None] * m + labels[None] % m]
    return shown == looks[labels // m * m][None]


def where(puzzle: Puzzle, kind: Kind, image: np.ndarray) -> np.ndarray:
    """The label at which each piece of a kind is, counted within the kind."""
    return image[puzzle.base_label[list(kind.places)]] - kind.first


def as_seen(puzzle: Puzzle, image: np.ndarray) -> np.ndarray:
    """The permutation with lookalikes exchanged until every piece that looks right is at home.

    >>> from oddswap.puzzles.catalogue import load
    >>> cube = load("cube:3")
    >>> turned = as_seen(cube, cube.turns["U"].permutation)
    >>> int((turned != np.arange(cube.degree)).sum())
    20
    """
    base = puzzle.base_label
    away = pieces_that_look_right(puzzle, image) & (image[base] != base)
    if not away.any():
        return image
    image = image.copy()
    for kind in dict.fromkeys(puzzle.kind_of[s] for s in np.flatnonzero(away)):
        m, table = kind.twist, looks_right(puzzle, kind)
        for b in range(len(kind.slots)):
            places = where(puzzle, kind, image)
            p = int(np.flatnonzero(places // m == b)[0])
            if not table[p, places[p]] or places[p] == p * m:
                continue
            twist = int(places[p]) % m
            if p != b:
                other = int(places[b])
                _put(kind, image, p, other // m * m + (other + twist) % m)
            _put(kind, image, b, b * m)
    return image


def wrong(puzzle: Puzzle, images: np.ndarray) -> np.ndarray:
    """How many pieces look wrong after each label permutation, (…, degree) to (…)."""
    return (~pieces_that_look_right(puzzle, images)).sum(axis=-1)


def pieces_that_look_right(puzzle: Puzzle, images: np.ndarray) -> np.ndarray:
    """Whether each piece looks right after each label permutation, (…, degree) to (…, slots)."""
    home, at_home = _homes(puzzle)
    base = puzzle.base_label
    at = images[..., base]
    return puzzle.looks[base + at - home[at]] == at_home[at]


@lru_cache(maxsize=64)
def _homes(puzzle: Puzzle) -> tuple[np.ndarray, np.ndarray]:
    """For each label the base label of its slot, and the look that is right there."""
    home = puzzle.base_label[puzzle.slots_of(np.arange(puzzle.degree))]
    return home, puzzle.looks[home]


def _put(kind: Kind, image: np.ndarray, piece: int, label: int) -> None:
    """Let a piece be at a label, all counted within the kind."""
    m = kind.twist
    ways = np.arange(m)
    image[kind.first + piece * m + ways] = kind.first + label // m * m + (label + ways) % m
