"""How a permutation group moves its points: orbits, and blocks that stay together.

Generators are the rows of an array of shape (k, n), or any sequence of such rows; point j goes to ``row[j]``.
"""

from collections.abc import Callable, Iterable, Sequence
from typing import TypeVar

import numpy as np
from numpy.typing import ArrayLike

from oddswap.errors import BadPermutation


def checked(perms: ArrayLike, degree: int) -> np.ndarray:
    """The rows as an array of shape (k, degree) of the smallest unsigned type, or `BadPermutation`."""
    wanted = f"each permutation needs {degree} whole numbers: where each point goes"
    try:
        rows = np.asarray(perms)
    except ValueError:
        raise BadPermutation(wanted) from None
    if rows.shape[:1] == (0,):
        rows = np.empty((0, degree), dtype=np.uint8)
    if rows.ndim != 2 or rows.shape[1] != degree or rows.dtype.kind not in "iu":
        raise BadPermutation(wanted)
    wrong = np.flatnonzero((np.sort(rows, axis=1) != np.arange(degree)).any(axis=1))
    if wrong.size:
        raise BadPermutation(f"row {wrong[0]} is no permutation: give each of 0 to {degree - 1} once")
    return rows.astype(np.min_scalar_type(max(degree - 1, 0)))


def orbit_labels(gens: ArrayLike, degree: int) -> np.ndarray:
    """For each point the least point of its orbit, shape (degree,).

    >>> orbit_labels([[1, 0, 2, 4, 3]], 5)
    array([0, 0, 2, 3, 3])
    """
    return least_joined(np.arange(degree), checked(gens, degree))


def least_joined(least: np.ndarray, images: Iterable[np.ndarray]) -> np.ndarray:
    """The least number in the orbit of each under the images, where ``least`` joins some already."""
    while True:
        before = least
        for image in images:
            least = np.minimum(least, least[image])
            np.minimum.at(least, image, before)
        least = least[least]
        if (least == before).all():
            return least


def orbits(gens: ArrayLike, degree: int) -> tuple[tuple[int, ...], ...]:
    """The orbits, each in order, by their least points; a fixed point is an orbit of one.

    >>> orbits([[1, 0, 2, 4, 3]], 5)
    ((0, 1), (2,), (3, 4))
    """
    return _classes(orbit_labels(gens, degree))


def block_system(gens: ArrayLike, degree: int, together: tuple[int, int]) -> tuple[tuple[int, ...], ...]:
    """The finest division of the points that every generator keeps and that has two points in one part.

    In a transitive group the parts are blocks, all of one size. Parts are merged until nothing more is
    forced: M. D. Atkinson, An algorithm for finding the blocks of a permutation group, Math. Comp. 29 (1975)
    911-913.

    >>> block_system([[1, 2, 3, 4, 5, 0]], 6, together=(0, 2))
    ((0, 2, 4), (1, 3, 5))
    """
    return _classes(np.array(_merged(checked(gens, degree).tolist(), degree, *together)))


def _merged(rows: Sequence[Sequence[int]], degree: int, a: int, b: int) -> list[int]:
    """For each point the least point of its part."""
    parent = list(range(degree))

    def least(x: int) -> int:
        while parent[x] != x:
            parent[x] = x = parent[parent[x]]
        return x

    def merge(x: int, y: int) -> None:
        x, y = sorted((least(x), least(y)))
        if x != y:
            parent[y] = x
            moved.append(y)

    moved: list[int] = []
    merge(a, b)
    for x in moved:
        for images in rows:
            merge(images[x], images[least(x)])
    return [least(x) for x in range(degree)]


def _classes(labels: np.ndarray) -> tuple[tuple[int, ...], ...]:
    return tuple(tuple(np.flatnonzero(labels == label).tolist()) for label in np.unique(labels))


Thing, Key = TypeVar("Thing"), TypeVar("Key")


def gathered(things: Iterable[Thing], key: Callable[[Thing], Key]) -> dict[Key, list[Thing]]:
    """Those that share a key together, in the order in which keys first come.

    >>> gathered("AbaB", str.lower)
    {'a': ['A', 'a'], 'b': ['b', 'B']}
    """
    found: dict[Key, list[Thing]] = {}
    for thing in things:
        found.setdefault(key(thing), []).append(thing)
    return found


def numbered(values: Iterable[object]) -> list[int]:
    """Equal values get equal numbers, from 0 in the order in which they first come.

    >>> numbered("abca")
    [0, 1, 2, 0]
    """
    numbers: dict[object, int] = {}
    return [numbers.setdefault(value, len(numbers)) for value in values]
