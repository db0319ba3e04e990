"""Three-cycles: short sequences that move three pieces of one kind in a circle and nothing else that shows.

They are mined as commutators, and carried to any three slots, with any twists, by set-up turns: ``S⁻¹ T S`` does to the
images of the slots what T does to the slots. A three-cycle is kept as three labels x, y, z, counted from the first of the
kind: what is at x goes to y, from y to z, from z to x; its code is ``(x L + y) L + z`` for a kind of L labels.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from oddswap.puzzles.base.puzzle import Kind, Puzzle
from oddswap.reasoning.budget import Clock, cached
from oddswap.reasoning.ways import commutators
from oddswap.reasoning.ways.commutators import Word, Words, longer, shows, tidied, undone

MOST_WORDS = 300_000
"""Tables of more words than this are not made."""
NONE = 10_000
"""The length of a three-cycle that was not found."""


@dataclass(frozen=True, eq=False)
class Cycles:
    """All three-cycles of a kind that were found, by code.

    ``length`` (L³) is at most so many turns, `NONE` where none was found; ``tool`` the number of the word T in ``tools``;
    ``turn`` the number of the last set-up turn or -1, and ``before`` the code that it came from.
    """

    kind: Kind
    tools: tuple[Word, ...]
    names: Word
    length: np.ndarray
    tool: np.ndarray
    turn: np.ndarray
    before: np.ndarray

    def word(self, puzzle: Puzzle, triple: tuple[int, int, int]) -> Word | None:
        """The turns of the three-cycle x → y → z → x of labels of the puzzle; ``None`` if it was not found."""
        code = int(codes(self.kind, np.array([triple]) - self.kind.first)[0])
        if self.length[code] == NONE:
            return None
        tool, setup = self.tools[self.tool[code]], []
        while self.turn[code] >= 0:
            setup.append(self.names[self.turn[code]])
            code = self.before[code]
        setup.reverse()
        return tidied(puzzle, (*undone(puzzle, tuple(setup)), *tool, *setup))

    def triple(self, code: int) -> tuple[int, int, int]:
        """The labels of the puzzle that a code stands for."""
        x, y, z = _triple(code, len(self.kind.labels))
        return x + self.kind.first, y + self.kind.first, z + self.kind.first


def codes(kind: Kind, triples: np.ndarray) -> np.ndarray:
    """The codes of triples (n, 3): the least slot first, with twist 0; all three twisted alike is the same three-cycle."""
    m, labels = kind.twist, len(kind.labels)
    first = np.argmin(triples // m, axis=1)
    turned = np.take_along_axis(triples, (first[:, None] + np.arange(3)) % 3, 1)
    x, y, z = (turned // m * m + (turned - turned[:, :1]) % m).T
    return (x * labels + y) * labels + z


def three_cycles(puzzle: Puzzle, clock: Clock) -> dict[str, Cycles]:
    """The three-cycles of every kind that shows more than one look, by the kind's name; they move nothing else that shows.

    >>> from oddswap.puzzles.catalogue import load
    >>> from oddswap.reasoning.budget import Budget
    >>> corners = three_cycles(load("cube:3"), Budget().start())["corners"]
    >>> int(corners.length.min()), len(corners.word(load("cube:3"), (0, 3, 6)))
    (8, 9)
    """
    kinds = tuple(kind.name for kind in cycled(puzzle))
    found = {name: mined(puzzle, name, kinds, clock) for name in kinds}
    return {name: cycles for name, cycles in found.items() if cycles is not None}


def three_cycles_in_order(puzzle: Puzzle, clock: Clock) -> dict[str, Cycles]:
    """The same where kinds go home in order, so that a kind's three-cycles may move all kinds after it: these are shorter."""
    kinds = tuple(kind.name for kind in cycled(puzzle))
    found = {name: mined(puzzle, name, kinds[: i + 1], clock) for i, name in enumerate(kinds)}
    return {name: cycles for name, cycles in found.items() if cycles is not None}


def cycled(puzzle: Puzzle) -> list[Kind]:
    """The kinds that show anything and have more than one slot."""
    return [kind for kind in puzzle.kinds if len(kind.slots) > 1 and shows(puzzle, kind)]


@cached(128)
def mined(puzzle: Puzzle, name: str, kept: tuple[str, ...], clock: Clock) -> Cycles | None:
    """The three-cycles of the kind ``name`` that move only three pieces of the kinds ``kept``; None: no tool, or no time."""
    kind = next(kind for kind in puzzle.kinds if kind.name == name)
    if len(kind.slots) < 3 or clock.spent:
        return None
    singles = {k.name for k in puzzle.kinds if len(k.slots) == 1 and shows(puzzle, k)}
    seen = np.array([puzzle.base_label[s] for s, k in enumerate(puzzle.kind_of) if k.name in singles or k.name in kept])
    tools: dict[int, Word] = {}
    for number, (words, others) in enumerate(_tables(puzzle, seen, clock)):
        for code, word in _new(puzzle, kind, commutators.few_movers(words, others, seen, 3, clock)).items():
            if code not in tools or len(word) < len(tools[code]):
                tools[code] = word
        if clock.spent or (number >= 2 and tools):
            break
    return _carried(puzzle, kind, tools, clock) if tools else None


def _tables(puzzle: Puzzle, seen: np.ndarray, clock: Clock) -> Iterator[tuple[Words, Words]]:
    """What W and C are in the commutators ``[W, C]``: tables after the third are for kinds that these leave without a tool."""
    one = commutators.single(puzzle)
    turned = commutators.conjugates(one)
    yield one, one
    yield turned, one
    two = longer(one, one)
    yield two, one
    if len(one.letters) ** 3 < MOST_WORDS:
        yield longer(two, one), one
        yield two, two
        yield longer(turned, one), turned
    few = commutators.small(one, seen, 3000, clock)
    yield few, few


def _new(puzzle: Puzzle, kind: Kind, finds: commutators.Finds) -> dict[int, Word]:
    """The pure three-cycles of a kind among the finds: the shortest word for each code."""
    own = ((finds.moved >= kind.first) & (finds.moved < kind.labels.stop)).all(axis=1)
    mine = commutators.Finds(finds.words, finds.others, finds.rows[own], finds.moved[own])
    if not len(mine.rows):
        return {}
    x = mine.moved[:, :1].astype(np.intp)
    y = mine.images(x)
    z = mine.images(y)
    triples = np.hstack([x, y, z]) - kind.first
    slots = triples // kind.twist
    pure = (mine.images(z) == x)[:, 0] & (np.diff(np.sort(slots, axis=1), axis=1) > 0).all(axis=1)
    rows = np.flatnonzero(pure)
    lengths = (mine.words.letters[mine.rows[rows, 0]] != commutators.PAD).sum(axis=1)
    order = rows[np.argsort(lengths, kind="stable")]
    _, first = np.unique(codes(kind, triples[order]), return_index=True)
    return {int(codes(kind, triples[[row]])[0]): tidied(puzzle, mine.word(puzzle, row)) for row in order[first]}


def _carried(puzzle: Puzzle, kind: Kind, tools: dict[int, Word], clock: Clock) -> Cycles:
    """Breadth first from the tools and the tools undone, by turns that move slots of the kind, the shortest words first."""
    labels = len(kind.labels)
    names = tuple(name for name, turn in puzzle.turns.items() if any(s in turn.slots for s in kind.places))
    own = slice(kind.first, kind.labels.stop)
    images = np.array([puzzle.turns[name].permutation[own] - kind.first for name in names])
    length, tool = np.full(labels**3, NONE), np.zeros(labels**3, np.int32)
    turn, before = np.full(labels**3, -1, np.int16), np.zeros(labels**3, np.int32)
    both = dict(tools)
    for code, word in tools.items():
        x, y, z = _triple(code, labels)
        back = int(codes(kind, np.array([[x, z, y]]))[0])
        if back not in both or len(word) < len(both[back]):
            both[back] = undone(puzzle, word)
    words = tuple(both.values())
    waiting: dict[int, list[tuple[np.ndarray, ...]]] = {}
    for number, (code, word) in enumerate(both.items()):
        start = (np.array([code]), np.array([number]), np.array([-1]), np.array([0]))
        waiting.setdefault(len(word), []).append(start)
    while waiting and not clock.spent:
        at = min(waiting)
        code, number, last, came = (np.concatenate(column) for column in zip(*waiting.pop(at), strict=True))
        fresh = np.unique(np.where(length[code] == NONE, code, -1), return_index=True)
        rows = fresh[1][fresh[0] >= 0]
        code, number, last, came = code[rows], number[rows], last[rows], came[rows]
        length[code], tool[code], turn[code], before[code] = at, number, last, came
        triples = np.stack(_triple(code, labels), 1)
        for t, image in enumerate(images):
            following = codes(kind, image[triples])
            new = length[following] == NONE
            if new.any():
                entry = (following[new], number[new], np.full(new.sum(), t), code[new])
                waiting.setdefault(at + 2, []).append(entry)
    return Cycles(kind, words, names, length, tool, turn, before)


def _triple(code, labels: int):
    return code // labels**2, code // labels % labels, code % labels
