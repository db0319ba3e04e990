"""Excursions as two words that meet: every word of n turns is one of ⌈n/2⌉ turns, and one of ⌊n/2⌋ undone.

Where two states have the pieces of each orbit at the same places, going out to the one and back as from the other closes the box
again, and their two classes tell to which family that leads. The second may be held in any way; then the box lies on
another side in the end.
"""

from collections.abc import Iterator

import numpy as np

from oddswap.puzzles.base.whole_turns import holdings, made_before
from oddswap.reasoning.opening.box_levels import BoxLevels
from oddswap.reasoning.opening.excursions import inverses
from oddswap.reasoning.search.levels import Check

PAIRS = 4_000_000
"""About so many pairs of states are looked at together."""


def round_trips(levels: BoxLevels, level: int, check: Check) -> Iterator[tuple[int, tuple[str, ...]]]:
    """Each family that is met, once, and the turns of one excursion to it: out to the edge of ``levels``, and back as from
    ``level``, its outermost or the one before.
    """
    frame = levels.frame
    ahead, classes = _split(levels.edge_keys)
    rows = levels.edge if level == levels.depth else levels.before
    numbers, told = np.unique(frame.classes), set()
    met = np.zeros(len(numbers) ** 2, dtype=bool)
    for names, whole in holdings(frame.box):
        for begin, end, low, high in _stretches(levels, ahead, rows, names, check):
            many = high - low
            there = np.repeat(np.arange(begin, end), many)
            here = np.arange(len(there)) + np.repeat(low - np.cumsum(many) + many, many)
            back = np.searchsorted(numbers, frame.classes[frame.read(_held(levels, rows[begin:end], names))])
            pairs = np.searchsorted(numbers, classes[here]) * len(numbers) + back[there - begin]
            fresh = np.flatnonzero(~met[pairs])
            codes, first = np.unique(pairs[fresh], return_index=True)
            met[codes] = True
            families, one = np.unique(
                frame.between(numbers[codes // len(numbers)], numbers[codes % len(numbers)]), return_index=True
            )
            for family, at in zip(families.tolist(), fresh[first[one]].tolist(), strict=True):
                if family not in told:
                    told.add(family)
                    yield family, _turns(levels, int(here[at]), int(there[at]), level, whole)


def _stretches(levels: BoxLevels, ahead: np.ndarray, rows: np.ndarray, names: tuple[str, ...], check: Check) -> Iterator[tuple]:
    """Stretches of ``rows`` with few enough pairs, and for each row where its partners begin and end in the edge."""
    step = 50_000
    for start in range(0, len(rows), step):
        check()
        sought, _ = _split(levels.frame.keys(_held(levels, rows[start : start + step], names)))
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


def _held(levels: BoxLevels, rows: np.ndarray, names: tuple[str, ...]) -> np.ndarray:
    for name in names:
        rows = levels.frame.labelled.apply(rows, name)
    return rows


def _turns(levels: BoxLevels, here: int, there: int, level: int, whole: np.ndarray) -> tuple[str, ...]:
    """The turns out to one state and back as from another, called as they are once the box has been turned as a whole."""
    box = levels.frame.box
    names, inverse, held = list(box.turns), inverses(levels.frame), made_before(box, np.argsort(whole))
    back = (names[inverse[move]] for move in reversed(levels.word(there, level)))
    return (*(names[move] for move in levels.word(here)), *(held[name] for name in back))
