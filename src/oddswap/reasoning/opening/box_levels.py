"""Levels of positions of a box that may open, by number of turns from where they start.

Every turn can be undone, so a turn from one level leads to that level, the one before, or a new one: two levels are enough to
spot new positions. Keys are compared in full, so levels are exact. Positions that the `Frame` does not tell apart count as one.

From a ticket home (`meetings`) levels of states grow around the ticket and around the solved box until they share a state, told
apart as a `Frame` tells them apart. What this leaves is for turns that keep the outline.

Excursions from home and back (`round_trips`) are two words that meet: every word of n turns is one of ⌈n/2⌉ turns, and one of
⌊n/2⌋ undone. Where two states have the pieces of each orbit at the same places, going out to the one and back as from the other
closes the box again, and their two classes tell to which family that leads. The second may be held in any way; then the box
lies on another side in the end.
"""

from collections.abc import Iterator, Mapping

import numpy as np

from oddswap.puzzles.base.whole_turns import holdings, made_before
from oddswap.reasoning.budget import Clock
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


def meetings(frame: Frame, start: np.ndarray, clock: Clock, most: int) -> Iterator[list[int]]:
    """Words of moves from ``start`` to where turns inside the box can finish as far as their laws tell, the shortest first."""
    out, back = BoxLevels(frame, start[None]), BoxLevels(frame, frame.labelled.solved[None])
    inverse = inverses(frame)
    while not clock.spent:
        yield from words_through(out, back, inverse)
        smaller = min((out, back), key=lambda levels: len(levels.edge))
        if not len(smaller.edge) or len(smaller.edge) * len(frame.moves) > most:
            return
        smaller.grow()


def words_through(out: BoxLevels, back: BoxLevels, inverse: list[int]) -> Iterator[list[int]]:
    """The words from a start of ``out`` to one of ``back`` through each state that both edges have."""
    _, here, there = np.intersect1d(out.edge_keys, back.edge_keys, assume_unique=True, return_indices=True)
    for i, j in zip(here.tolist(), there.tolist(), strict=True):
        yield [*out.word(i), *(inverse[move] for move in reversed(back.word(j)))]


def inverses(frame: Frame) -> list[int]:
    """The number of the move that undoes each move."""
    names = list(frame.box.turns)
    return [names.index(str(turn.step.inverse())) for turn in frame.box.turns.values()]


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
            out, home = np.divmod(codes, len(numbers))
            families, one = np.unique(frame.between(numbers[out], numbers[home]), return_index=True)
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
