"""A way home by three-cycles: first the signs and what only turns in its place, then kind by kind.

What counts is what is seen: a piece is at home wherever it looks right, so twins and hidden turns make ways shorter. Each
three-cycle brings one to three pieces home; the one with the fewest turns for each piece is taken, and a few seeded
draws among those that are nearly as good are tried as well.

Where the shape decides the turns (`home_by_loops`), the shape goes home along the tree of shapes, and then the pieces by loops.
The shortest loops at home are the moves of a puzzle without a shape, on which three-cycles, or words along a chain of
stabilisers, lead home; each loop is then made turn by turn.
"""

from functools import lru_cache
from itertools import combinations_with_replacement

import numpy as np

from oddswap.puzzles.base.named import NamedPuzzle, named_puzzle
from oddswap.puzzles.base.puzzle import Kind, Puzzle
from oddswap.puzzles.base.shape_tree import STAGES, Shapes, around_home, explored
from oddswap.puzzles.base.shapes import Shaped
from oddswap.reasoning.budget import Clock
from oddswap.reasoning.groups.chain import moving, sift
from oddswap.reasoning.groups.stabiliser_chain import StabiliserChain
from oddswap.reasoning.laws.as_seen import looks_right, pieces_that_look_right, where, wrong
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.ways.commutators import Word, image_of, shows, tidied, undone
from oddswap.reasoning.ways.findings import BringKindHome, BringShapeHome, GoRound, MakeEven, Parts, SlideLoops, fewest_turns
from oddswap.reasoning.ways.short_words import short_words
from oddswap.reasoning.ways.three_cycles import NONE, Cycles, codes, cycled, three_cycles, three_cycles_in_order
from oddswap.values.permutation import sign
from oddswap.values.position import Arrangement

DRAWS = 4
"""How often a kind is brought home with some chance in it, beside once without."""


def home_by_cycles(puzzle: Puzzle, image: np.ndarray, clock: Clock) -> Parts | None:
    """What each part of the way is for, and its turns, from a label permutation; None where three-cycles do not do it.

    With three-cycles that spare everything else, and with those that spare only the kinds before: the shorter way is given.
    """
    ways = []
    for table in (three_cycles, three_cycles_in_order):
        if ways and clock.spent:
            break
        if (way := _home(puzzle, image, table(puzzle, clock), clock)) is not None:
            ways.append(way)
    return fewest_turns(ways)


def _home(puzzle: Puzzle, image: np.ndarray, cycles: dict[str, Cycles], clock: Clock) -> Parts | None:
    if (opening := _opening(puzzle, image)) is None:
        return None
    image = image_of(puzzle, opening)[image]
    parts: Parts = [(MakeEven(), opening)]
    for kind in cycled(puzzle):
        word = () if _looks_home(puzzle, kind, image) else None
        if word is None and kind.name in cycles:
            rng = np.random.default_rng(0)
            drawn = [_kind_home(puzzle, kind, cycles[kind.name], image, None)]
            drawn += [_kind_home(puzzle, kind, cycles[kind.name], image, rng) for _ in range(DRAWS) if not clock.spent]
            word = min((w for w in drawn if w is not None), key=len, default=None)
        if word is None:
            return None
        image = image_of(puzzle, word)[image]
        parts.append((BringKindHome(kind.name), word))
    return [part for part in parts if part[1]] if not wrong(puzzle, image) else None


def _looks_home(puzzle: Puzzle, kind: Kind, image: np.ndarray) -> bool:
    return bool(pieces_that_look_right(puzzle, image)[list(kind.places)].all())


def _opening(puzzle: Puzzle, image: np.ndarray) -> Word | None:
    """The fewest turns after which no kind is odd, after those that straighten what only turns in its place."""
    single = [kind for kind in puzzle.kinds if len(kind.slots) == 1 and shows(puzzle, kind)]
    spins = {kind.name: [n for n, t in puzzle.turns.items() if t.permutation[kind.first] != kind.first] for kind in single}
    word: Word = ()
    for kind in sorted(single, key=lambda kind: len(spins[kind.name])):
        if not _looks_home(puzzle, kind, image):
            for name in spins[kind.name]:
                following = puzzle.turns[name].permutation[image]
                if _looks_home(puzzle, kind, following):
                    image, word = following, (*word, name)
                    break
    harmless = [n for n, t in puzzle.turns.items() if all(t.permutation[kind.first] == kind.first for kind in single)]
    signed = [kind for kind in cycled(puzzle) if looks_right(puzzle, kind).sum() == len(kind.slots)]  # without lookalikes
    change = {name: _signs(puzzle, signed, puzzle.turns[name].permutation) for name in harmless}
    now = _signs(puzzle, signed, image)
    by_change = {tuple(bits): name for name, bits in reversed(change.items())}
    for count in range(len(signed) + 1):
        for names in combinations_with_replacement(by_change.values(), count):
            if not (now ^ np.bitwise_xor.reduce([now * 0, *(change[name] for name in names)])).any():
                return tidied(puzzle, (*word, *names))
    return None


def _signs(puzzle: Puzzle, kinds: list[Kind], image: np.ndarray) -> np.ndarray:
    """The sign of each kind: 0 even, 1 odd."""
    return np.array([sign((where(puzzle, kind, image) // kind.twist).tolist()) < 0 for kind in kinds], dtype=np.uint8)


def _kind_home(puzzle: Puzzle, kind: Kind, cycles: Cycles, image: np.ndarray, rng) -> Word | None:
    fits, word, m = looks_right(puzzle, kind), (), kind.twist
    at, pieces = where(puzzle, kind, image), np.arange(len(kind.slots))
    for _ in range(3 * len(kind.slots)):
        wrong = np.flatnonzero(~fits[pieces, at])
        if not len(wrong):
            return word
        triples = _candidates(kind, fits, at, wrong)
        length = cycles.length[codes(kind, triples)]
        triples, length = triples[length < NONE], length[length < NONE]
        if not len(triples):
            return None
        gain = fits[pieces, _cycled(m, at[None], triples)].sum(axis=1) - fits[pieces, at].sum()
        cost = np.where(gain > 0, length / np.maximum(gain, 1), NONE + length - NONE * gain).astype(float)
        if rng is not None:
            cost *= rng.uniform(1, 1.3, len(cost))
        best = triples[cost.argmin()]
        step = cycles.word(puzzle, tuple((best + kind.first).tolist()))
        word = tidied(puzzle, (*word, *step))
        at = _cycled(m, at[None], best[None])[0]
    return None


def _candidates(kind: Kind, fits: np.ndarray, at: np.ndarray, wrong: np.ndarray) -> np.ndarray:
    """Three-cycles that bring a wrong piece home; where all are in their slots, those that take two of them out."""
    labels, m = np.arange(len(kind.labels)), kind.twist
    at_home = set((at[fits[np.arange(len(at)), at]] // m).tolist())
    pairs = [
        (int(at[p]), int(h)) for p in wrong for h in np.flatnonzero(fits[p]) if h // m != at[p] // m and h // m not in at_home
    ]
    if not pairs:
        pairs = [(int(at[p]), int(at[q])) for p in wrong[:1] for q in range(len(at)) if q != p]
    grid = np.array([(x, h, t) for x, h in pairs for t in labels if t // m not in (x // m, h // m)])
    return grid.reshape(-1, 3)


def _cycled(m: int, where: np.ndarray, triples: np.ndarray) -> np.ndarray:
    """Where the pieces are after each three-cycle: (n, pieces)."""
    after = np.broadcast_to(where, (len(triples), where.shape[1])).copy()
    for source, target in ((0, 1), (1, 2), (2, 0)):
        x, y = triples[:, source], triples[:, target]
        rows, pieces = np.nonzero(where // m == (x // m)[:, None])
        x, y, at = x[rows], y[rows], np.broadcast_to(where, after.shape)[rows, pieces]
        after[rows, pieces] = y // m * m + (at - x + y) % m
    return after


NEAR, LOOPS = 400, 40
"""Of the loops over so many shapes, the nearest ones, so many of the shortest are used."""

Loop = tuple[int, int, np.ndarray]
"""The numbers of a shape and of the turn that closes the loop there, and the label permutation."""


def home_by_loops(puzzle: Shaped | Puzzle, start: Arrangement, clock: Clock) -> Parts | None:
    """What each part of the way is for, and its turns; None where no way was found.

    >>> from oddswap.puzzles.catalogue import load
    >>> from oddswap.reasoning.budget import Budget
    >>> locked = load("wedges:6")
    >>> home_by_loops(locked, locked.follow("/ (0,1)"), Budget().start())
    [(BringShapeHome(), ('(0,-1)', '/'))]
    """
    image = puzzle.permutation(start)
    sent, (table, walked) = _sent_home(puzzle, image), _looped(puzzle)
    if sent is None or table is None:
        return None
    for name in sent:
        image = puzzle.turns[name].permutation[image]
    image = puzzle.pieces_moved(image)
    cycled = home_by_cycles(table, image, clock)
    words = [] if cycled is None else [tuple(loop for _, part in cycled for loop in part)]
    chained = None if clock.spent else short_words(table, clock).home(image)
    words += [] if chained is None else [chained]
    turns = [tuple(name for loop in word for name in walked[loop]) for word in words]
    if puzzle.blank is not None:
        return fewest_turns([(SlideLoops(), tidied(puzzle, (*sent, *word)))] for word in turns)
    ways = ([(BringShapeHome(), sent), (GoRound(), tidied(puzzle, word))] for word in turns)
    return fewest_turns([part for part in way if part[1]] for way in ways)


def _sent_home(puzzle: Shaped | Puzzle, image: np.ndarray) -> Word | None:
    """Turns that take the shape home: along the tree from home, or along one from here until both meet."""
    for most in STAGES:
        shapes = around_home(puzzle, most)
        (number,) = shapes.find(puzzle.shape_of(image)[None]).tolist()
        if number >= 0 or shapes.whole:
            return undone(puzzle, shapes.word(number)) if number >= 0 else None
    there = explored(puzzle, image, STAGES[1])
    numbers = shapes.find(there.rows)
    met = np.flatnonzero(numbers >= 0)[:1].tolist()
    return next(((*there.word(here), *undone(puzzle, shapes.word(int(numbers[here])))) for here in met), None)


@lru_cache(maxsize=16)
def _looped(puzzle: Shaped | Puzzle) -> tuple[NamedPuzzle | None, dict[str, Word]]:
    """A puzzle whose moves are loops at home, and the turns of each of its moves; None where there is no loop."""
    shapes = around_home(puzzle, STAGES[1])
    moves, walked = {}, {}
    for i, (number, turn, loop) in enumerate(_short_loops(puzzle, shapes)):
        stem, word = f"loop{chr(97 + i // 26)}{chr(97 + i % 26)}", tidied(puzzle, shapes.round_trip(number, turn))
        moves[stem] = loop.tolist()
        walked |= {f"{stem}'": undone(puzzle, word), stem: word}
    if not moves:
        return None, {}
    looks = np.where(puzzle.pieces, puzzle.looks, puzzle.looks.max() + 1 + np.arange(puzzle.degree))
    return named_puzzle(f"{puzzle.name} by loops", puzzle.title, puzzle.kinds, moves, looks.tolist(), puzzle.flat), walked


def _short_loops(puzzle: Puzzle, shapes: Shapes) -> list[Loop]:
    """The shortest loops, and as many more as it takes to generate all of them."""
    near: dict[bytes, Loop] = {}
    for batch in shapes.loops(range(min(NEAR, len(shapes)))):
        for loop in zip(*batch, strict=True):
            near[loop[2].tobytes()] = min(near.get(loop[2].tobytes(), loop), loop, key=lambda one: one[:2])
    found, order = sorted(near.values(), key=lambda one: one[:2])[:LOOPS], law_book(puzzle).proof.order
    for numbers, turns, rows in shapes.loops():
        while (chain := StabiliserChain.from_generators([loop for *_, loop in found], puzzle.degree)).order < order:
            fresh = np.flatnonzero(moving(sift(chain.levels, rows.astype(np.intp))[0]).any(axis=1))
            if not len(fresh):
                break
            nearest = fresh[numbers[fresh].argmin()]
            found.append((numbers[nearest], turns[nearest], rows[nearest]))
        if chain.order == order:
            break
    return found
