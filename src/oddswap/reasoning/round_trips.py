"""Excursions as two words that meet: every word of n turns is one of ⌈n/2⌉ turns, and one of ⌊n/2⌋ undone.

Where two states have the pieces of each orbit at the same places, going out to the one and back as from the other closes the box
again, and their two classes tell to which family that leads. The second may be held in any way; then the box lies on
another side in the end.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

import numpy as np

from oddswap.puzzles.boxes import BoxPuzzle
from oddswap.reasoning.excursions import inverses
from oddswap.reasoning.fields import Field
from oddswap.reasoning.search_levels import Check

PAIRS = 4_000_000
"""About so many pairs of states are looked at together."""

Holding = tuple[str, ...]
"""Rotations of the whole box, one after another."""


def round_trips(field: Field, level: int, check: Check) -> Iterator[tuple[int, tuple[str, ...]]]:
    """The family and the turns of one excursion for each pair of classes that meet: out to the edge of ``field``, and back as
    from ``level``, its outermost or the one before.
    """
    frame = field.frame
    ahead, classes = _split(field.edge_keys)
    rows = field.edge if level == field.depth else field.before
    numbers = np.unique(frame.classes)
    met = np.zeros(len(numbers) ** 2, dtype=bool)
    for holding in holdings(frame.box):
        for begin, end, low, high in _stretches(field, ahead, rows, holding, check):
            many = high - low
            there = np.repeat(np.arange(begin, end), many)
            here = np.arange(len(there)) + np.repeat(low - np.cumsum(many) + many, many)
            back = np.searchsorted(numbers, frame.classes[frame.read(_held(field, rows[begin:end], holding))])
            pairs = np.searchsorted(numbers, classes[here]) * len(numbers) + back[there - begin]
            fresh = np.flatnonzero(~met[pairs])
            codes, first = np.unique(pairs[fresh], return_index=True)
            met[codes] = True
            families = frame.between(numbers[codes // len(numbers)], numbers[codes % len(numbers)])
            for family, at in zip(families.tolist(), fresh[first].tolist(), strict=True):
                yield family, _turns(field, int(here[at]), int(there[at]), level, holding)


def _stretches(field: Field, ahead: np.ndarray, rows: np.ndarray, holding: Holding, check: Check) -> Iterator[tuple]:
    """Stretches of ``rows`` with few enough pairs, and for each row where its partners begin and end in the edge."""
    step = 50_000
    for start in range(0, len(rows), step):
        check()
        sought, _ = _split(field.frame.keys(_held(field, rows[start : start + step], holding)))
        low, high = (np.searchsorted(ahead, sought, side=side) for side in ("left", "right"))
        total = np.cumsum(high - low)
        cuts = np.searchsorted(total, np.arange(PAIRS, total[-1] + PAIRS, PAIRS)).tolist()
        for begin, end in zip([0, *cuts], [*cuts, len(sought)], strict=True):
            if end > begin:
                yield start + begin, start + end, low[begin:end], high[begin:end]


def _split(keys: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Keys without their last four bytes, comparable, and the class that stands there."""
    parts = keys.view(np.uint8).reshape(len(keys), keys.itemsize)
    what = np.ascontiguousarray(parts[:, :-4])
    classes = np.ascontiguousarray(parts[:, -4:]).view(np.uint32).ravel()
    return what.view(np.dtype((np.void, what.shape[1]))).ravel(), classes


def _held(field: Field, rows: np.ndarray, holding: Holding) -> np.ndarray:
    for name in holding:
        rows = field.frame.labelled.apply(rows, name)
    return rows


def _turns(field: Field, here: int, there: int, level: int, holding: Holding) -> tuple[str, ...]:
    names, inverse = list(field.frame.box.turns), inverses(field.frame)
    back = (names[inverse[move]] for move in reversed(field.word(there, level)))
    return (*(names[move] for move in field.word(here)), *(as_held(field.frame.box, name, holding) for name in back))


@lru_cache(maxsize=8)
def holdings(box: BoxPuzzle) -> tuple[Holding, ...]:
    """Rotations that lead to each holding of a box, none first."""
    found: dict[bytes, Holding] = {np.arange(box.degree).tobytes(): ()}
    queue = [np.arange(box.degree)]
    for image in queue:
        for name, turn in box.rotations.items():
            further = turn.permutation[image]
            if further.tobytes() not in found:
                found[further.tobytes()] = (*found[image.tobytes()], name)
                queue.append(further)
    return tuple(found.values())


def as_held(box: BoxPuzzle, name: str, holding: Holding) -> str:
    """What a turn is called once the box has been turned round by these rotations.

    >>> from oddswap.puzzles.catalogue import load
    >>> as_held(load("cuboid:2x3x4,turns=all"), "U", ("x2",))
    'D'
    """
    image = box.turns[name].permutation
    for rotation in holding:
        whole = box.rotations[rotation].permutation
        image = whole[image[np.argsort(whole)]]
    return next(name for name, turn in box.turns.items() if (turn.permutation == image).all())
