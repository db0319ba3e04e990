"""The toolbox of a puzzle: short sequences that change few pieces as seen, mined by machine and told by what they do.

Three ways of mining are used: commutators of short words, powers of short words, and words that meet: two words that take
most labels to the same places, one followed by the other undone, change only the rest.
"""

import json
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

import numpy as np

from oddswap.forwards import forwarded
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.symmetry import turn_symmetries
from oddswap.reasoning.budget import Clock, Limit, cached, started
from oddswap.reasoning.laws.as_seen import as_seen, wrong
from oddswap.reasoning.laws.tally import Quantity, quantities
from oddswap.reasoning.search.kept_files import fetch, key_of, store
from oddswap.reasoning.teaching.effects import Effect, awkwardness, changes, effect_of
from oddswap.reasoning.teaching.phases import structured
from oddswap.reasoning.ways import commutators
from oddswap.reasoning.ways.commutators import Word, Words, image_of, longer, spelt, tidied, undone, visible
from oddswap.reasoning.ways.three_cycles import Cycles, three_cycles

KEPT = 50
"""So many tools are kept."""
MOST_PIECES = 8
"""A tool changes at most so many pieces as seen."""
MET = 30_000
"""Words are let meet if there are at most so many of them."""
LONGEST = 20
"""A tool has at most so many turns."""
LOOKED_AT = 1_500
"""So many finds of one table are looked at, spread evenly."""


@forwarded
@dataclass(frozen=True)
class Tool:
    """A short sequence: ``moves`` as written, ``turns`` one by one, and its ``effect`` as seen.

    ``pieces`` is how many pieces it changes as seen, ``order`` how often it is done until all looks as before, ``tally`` each
    quantity that the laws speak of with its change, ``shape`` commutator, conjugate or plain.
    """

    moves: str
    turns: Word
    effect: Effect
    pieces: int
    order: int
    shape: str
    tally: tuple[tuple[Quantity, int | None], ...]

    @property
    def length(self) -> int:
        return len(self.turns)


def toolbox(puzzle: Puzzle, budget: Limit = None) -> tuple[Tool, ...]:
    """The most useful tools, first the shortest of each sort of effect, and of sorts those that change the fewest pieces.

    One stands for all that the symmetries of the puzzle make of it or of it undone. Empty where a blank decides what a move
    does: there no sequence does the same from everywhere.

    >>> from oddswap import load
    >>> box = toolbox(load("cube:2"))
    >>> next((tool.length, tool.shape) for tool in box if tool.words == "cycles three corners")
    (8, 'commutator')
    """
    return _kept(puzzle, started(budget)) if puzzle.steady else ()


@cached(16)
def _kept(puzzle: Puzzle, clock: Clock) -> tuple[Tool, ...]:
    """The tools, from the cache of files if they are there; those that were mined to the end are kept there."""
    turns = (turn.permutation for turn in puzzle.turns.values())
    key = key_of(("toolbox 1", puzzle.name, list(puzzle.turns)), puzzle.looks, *turns)
    data, _ = fetch(key)
    words = [tuple(word) for word in json.loads(bytes(data))] if data is not None else list(_chosen(puzzle, clock))
    if data is None and not clock.spent:
        store(key, json.dumps(words).encode())
    return tuple(_tool(puzzle, word) for word in words)


def _chosen(puzzle: Puzzle, clock: Clock) -> Iterator[Word]:
    """The words of the tools: one for all that symmetry makes of it or of it undone, the handiest of these."""
    symmetric, told, count = symmetric_names(puzzle), set(), 0
    for word in _by_use(puzzle, clock):
        if _signature(puzzle, word) in told:
            continue
        alike = [tuple(names[turn] for turn in word) for names in symmetric]
        alike += [undone(puzzle, other) for other in alike]
        told |= {_signature(puzzle, other) for other in alike}
        yield min(alike, key=lambda other: _handy(puzzle, other))
        count += 1
        if count == KEPT or clock.spent:
            return


def _handy(puzzle: Puzzle, word: Word) -> tuple:
    faces = [puzzle.turns[name].step.stem for name in word]
    return changes(faces), awkwardness(faces), word


def _tool(puzzle: Puzzle, word: Word) -> Tool:
    image = image_of(puzzle, word)
    effect = effect_of(puzzle, as_seen(puzzle, image))
    sequence = structured(puzzle, " ".join(word))
    item = type(sequence.items[0]).__name__.lower()
    shape = item if item in ("commutator", "conjugate") else "plain"
    added = tuple((quantity, quantity.value(image)) for quantity in quantities(puzzle))
    return Tool(str(sequence), word, effect, int(wrong(puzzle, image)), _times(puzzle, image), shape, added)


def _times(puzzle: Puzzle, image: np.ndarray) -> int:
    """How often it is done, from solved, until it looks solved again."""
    power, times = image, 1
    while wrong(puzzle, power):
        power, times = image[power], times + 1
    return times


def _signature(puzzle: Puzzle, word: Word) -> bytes:
    return as_seen(puzzle, image_of(puzzle, word))[visible(puzzle)].tobytes()


def _by_use(puzzle: Puzzle, clock: Clock) -> Iterator[Word]:
    """The words found, in turn one of each sort; among sorts those of few pieces first."""
    best: dict[bytes, tuple[Word, np.ndarray]] = {}
    seen, tried = visible(puzzle), set()
    for word in _mined(puzzle, clock):
        if clock.spent:
            break
        if not 1 < len(word) <= LONGEST or word in tried:
            continue
        tried.add(word)
        image = image_of(puzzle, word)
        if 0 < wrong(puzzle, image) <= MOST_PIECES:
            shown = as_seen(puzzle, image)
            signature = shown[seen].tobytes()
            if signature not in best or len(word) < len(best[signature][0]):
                best[signature] = word, shown
    sorts: dict[Effect, list[Word]] = {}
    for word, shown in best.values():
        if clock.spent:
            break
        sorts.setdefault(effect_of(puzzle, shown), []).append(word)
    for members in sorts.values():
        members.sort(key=lambda word: (len(word), len(set(word)), word))
    ordered = sorted(sorts, key=lambda effect: (effect.pieces, len(sorts[effect][0]), effect))
    for rank in range(max(map(len, sorts.values()), default=0)):
        for effect in ordered:
            if rank < len(sorts[effect]):
                yield sorts[effect][rank]


def _mined(puzzle: Puzzle, clock: Clock) -> Iterator[Word]:
    one, seen = commutators.single(puzzle), visible(puzzle)
    two, turned = longer(one, one), commutators.conjugates(one)
    for words, others in ((one, one), (turned, one), (two, one)):
        for pieces in (3, MOST_PIECES):
            finds = commutators.few_movers(words, others, seen, pieces, clock)
            for row in _spread(len(finds.rows)):
                yield tidied(puzzle, finds.word(puzzle, row))
    plain = Words(one.letters[: len(puzzle.turns)], one.images[: len(puzzle.turns)])
    few, powers = commutators.small(plain, seen, LOOKED_AT, clock), commutators.commuted(plain, 3)
    finds = commutators.few_movers(powers, plain, seen, 4, clock)
    for row in _spread(len(finds.rows)):
        yield tidied(puzzle, finds.word(puzzle, row))
    for letters in (*few.letters, *powers.letters):
        yield tidied(puzzle, spelt(puzzle, letters))
    for cycles in three_cycles(puzzle, clock).values():
        if cycles.kind.twist > 1:
            yield from _there_and_back(puzzle, cycles)
    words = two
    while len(words.letters) * len(one.letters) <= MET and not clock.spent:
        words = longer(words, one)
    yield from _meeting(puzzle, words, seen, clock)


def _there_and_back(puzzle: Puzzle, cycles: Cycles) -> Iterator[Word]:
    """Three slots in a circle and back, twisted otherwise: what stays only turns in its place."""
    m, found = cycles.kind.twist, {}
    short = np.flatnonzero(cycles.length <= LONGEST // 2 + 2)
    for code in short[np.argsort(cycles.length[short], kind="stable")].tolist():
        triple = cycles.triple(code)
        found.setdefault(tuple((label - cycles.kind.first) // m for label in triple), []).append(triple)
    ways = sorted((cycles.word(puzzle, a), cycles.word(puzzle, b)) for same in found.values() for a, b in pairwise(same))
    for first, second in ways[:LOOKED_AT]:
        yield tidied(puzzle, (*first, *undone(puzzle, second)))


def _spread(count: int) -> range:
    return range(0, count, max(1, count // LOOKED_AT))


def _meeting(puzzle: Puzzle, words: Words, seen: np.ndarray, clock: Clock) -> Iterator[Word]:
    """Words u v⁻¹ where u and v take most labels to the same places: all but those of one kind, or of one turn's slots."""
    _, first = np.unique(_as_values(words.images), return_index=True)
    slot_of = {int(label): s for s, label in enumerate(puzzle.base_label)}
    rest = [frozenset(turn.slots) for turn in puzzle.turns.values()] + [frozenset(kind.places) for kind in puzzle.kinds]
    for left in dict.fromkeys(rest):
        if clock.spent:
            return
        kept = np.array([label for label in seen if slot_of[int(label)] not in left], dtype=np.intp)
        if not 0 < len(kept) < len(seen):
            continue
        _, group = np.unique(_as_values(words.images[first][:, kept]), return_inverse=True)
        ordered = first[np.argsort(group, kind="stable")]
        same = np.flatnonzero(np.diff(np.sort(group)) == 0)
        for row in same[_spread(len(same))]:
            u, v = spelt(puzzle, words.letters[ordered[row]]), spelt(puzzle, words.letters[ordered[row + 1]])
            yield tidied(puzzle, (*u, *undone(puzzle, v)))


def _as_values(images: np.ndarray) -> np.ndarray:
    """Each row as one value, in the same order: NumPy sorts these ten times as fast as rows."""
    return np.ascontiguousarray(images, dtype=">u2").view(f"V{2 * images.shape[1]}")[:, 0]


@lru_cache(maxsize=8)
def symmetric_names(puzzle: Puzzle) -> list[dict[str, str]]:
    """What each symmetry calls the turns; only those symmetries under which that is clear."""
    moves = {name: tuple(puzzle.slots_of(turn.permutation[puzzle.base_label]).tolist()) for name, turn in puzzle.turns.items()}
    names = {move: name for name, move in moves.items()}
    found = [{name: name for name in moves}]
    if len(names) == len(moves):
        for to in turn_symmetries(puzzle):
            back = np.argsort(to)
            found.append({name: names[tuple(to[move[s]] for s in back)] for name, move in moves.items()})
    return found
