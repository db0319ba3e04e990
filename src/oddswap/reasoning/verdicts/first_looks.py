"""What somebody sees first: an appearance held so that the fewest slots look wrong, or with its layers turned straight.

What breaks which law is said here, too: of a position, and of turns that a copy does not make.

Where a puzzle's turns do not lead to every holding, a position can be reached if in one of them it can; so each look at it is
given as it is in every holding between which the turns do not lead.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import islice

import numpy as np

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.whole_turns import held_otherwise, holdings
from oddswap.reasoning.budget import Finding
from oddswap.reasoning.laws.as_seen import free_pieces, wrong
from oddswap.reasoning.laws.law_book import LawBook, law_book
from oddswap.reasoning.laws.lookalikes import first_sight
from oddswap.reasoning.laws.sectors import Law, by_orbits, keeps
from oddswap.reasoning.verdicts.mending import into_orbits, is_reachable_as_held, steady_laws
from oddswap.values.position import Appearance, Arrangement


@dataclass(frozen=True, eq=False)
class Look:
    """One first-sight explanation, as a label ``permutation``, in one holding.

    ``rotation`` takes the puzzle from how it is described to how it is held here. ``wrong`` are the slots that look wrong when it
    is held so that they are fewest, as it is here if ``nearest``, and ``free`` the free pieces.
    """

    rotation: np.ndarray
    permutation: np.ndarray
    wrong: frozenset[int]
    free: frozenset[int]
    nearest: bool


def looks_at(book: LawBook, appearance: Appearance) -> Iterator[Look]:
    """The looks at a complete appearance, one where the holding makes no difference; none that no assembly of the pieces has."""
    puzzle = book.puzzle
    for rotation, held in nearest(puzzle, appearance):
        if (sighted := first_sight(puzzle, held)) is None:
            return
        first, wrong = sighted
        free, permutation = free_pieces(puzzle, wrong), puzzle.permutation(first)
        yield Look(rotation, permutation, wrong, free, True)
        for other in book.holdings[1:]:
            turned = np.argsort(other)
            yield Look(turned[rotation], turned[permutation], wrong, free, False)


def straightened(puzzle: Puzzle, appearance: Appearance) -> tuple[Appearance, tuple[str, ...]]:
    """A complete appearance with its layers straight, and the turns that made it so, in order.

    Each leaves the fewest slots that do not look solved, and fewer than before; reachability is not changed. Where the shape
    decides the turns, or no assembly of the pieces looks so, nothing is turned.

    >>> from oddswap.puzzles.catalogue import load
    >>> cube = load("cube:4")
    >>> straightened(cube, cube.appearance(cube.follow("U 2R")))[1]
    ("U'", "2R'")
    """
    sighted = first_sight(puzzle, appearance) if puzzle.steady else None
    if sighted is None:
        return appearance, ()
    names, image = list(puzzle.turns), puzzle.permutation(sighted[0])
    turns, made = np.array([turn.permutation for turn in puzzle.turns.values()]), []
    while True:
        counts = wrong(puzzle, turns[:, image])
        best = int(counts.argmin())
        if counts[best] >= wrong(puzzle, image):
            break
        image = turns[best][image]
        made.append(names[best])
    return (puzzle.appearance(puzzle.arrangement(image)), tuple(made)) if made else (appearance, ())


def is_ordinary(puzzle: Puzzle, appearance: Appearance) -> bool:
    """Whether an explanation that differs from a first-sight one on free pieces only is reachable."""
    if appearance.foreign or not appearance.complete:
        return False
    book = law_book(puzzle)
    return any(is_reachable_as_held(book, look.permutation, look.free) for look in looks_at(book, appearance))


def nearest(puzzle: Puzzle, appearance: Appearance) -> Iterator[tuple[np.ndarray, Appearance]]:
    """The rotations to the holdings in which the fewest slots look wrong, and what is seen in them.

    Where slots are not seen for certain: all holdings in which these can be fewest.

    >>> from oddswap.puzzles.catalogue import load
    >>> cube = load("cube:4")
    >>> [held == cube.appearance(cube.solved) for _, held in nearest(cube, cube.appearance(cube.follow("x y")))]
    [True]
    """
    wrong = _solved_in_every_holding(puzzle) != np.array([min(sight, default=-1) for sight in appearance.sights])
    most = wrong.sum(axis=1)
    for slot in appearance.uncertain:
        most += ~wrong[:, slot]
        wrong[:, slot] = ~np.isin(_solved_in_every_holding(puzzle)[:, slot], list(appearance.sights[slot]))
    for (names, rotation), fewest in zip(holdings(puzzle), wrong.sum(axis=1), strict=True):
        if fewest <= most.min():
            yield rotation, held_otherwise(puzzle, appearance, rotation) if names else appearance


@lru_cache(maxsize=32)
def _solved_in_every_holding(puzzle: Puzzle) -> np.ndarray:
    """What each slot must show to look solved once the puzzle is held otherwise, (holdings, slots)."""
    held = (puzzle.arrangement(np.argsort(rotation)) for _, rotation in holdings(puzzle))
    return np.array([puzzle.appearance(arrangement).looks for arrangement in held])


CLASSES = 100
"""With so many classes of first-sight explanations it is not told which laws all of them break."""


class TurnsBreak(Finding):
    """Each of these turns breaks the orbit law, as so many pieces of each family leave their orbits, or else the ``laws``."""

    turns: tuple[str, ...]
    leaving: tuple[tuple[str, int], ...]
    laws: tuple[Law, ...]


class SmallestTurn(Finding):
    """In the shape that the turns ``after`` give, a turn moves only so many pieces of each family: fewer than any turn inside."""

    after: tuple[str, ...]
    turn: str
    moved: tuple[tuple[str, int], ...]


def broken_laws(book: LawBook, permutation: np.ndarray, free: frozenset[int]) -> tuple[Law, ...]:
    """The laws that a label permutation breaks however the ``free`` pieces are called.

    A law that relabelling these does not change is broken always or never. Where they change several laws together, a
    combination may stay fixed: it is found as a character of the turns and these relabellings together. Other laws can be
    broken by all although relabellings change how: where the classes of explanations are few, each is looked at.
    """
    if (inside := into_orbits(book, permutation, free)) is None:
        return book.broken_at(permutation)
    home, unseen = book.puzzle.homed(inside), book.hidden.generators(free)
    broken = tuple(law for law in book.laws if law.value(home) and not _changed(law, unseen))
    broken = broken or tuple(law for law in steady_laws(book, free) if law.value(home))
    if not broken and not book.by_image and not book.additive:
        classes = list(islice(book.walk(home, unseen), CLASSES))
        broken = tuple(law for law in book.laws if len(classes) < CLASSES and all(law.value(one) for _, one in classes))
    return broken


def wavering_laws(book: LawBook, permutation: np.ndarray, displaced: frozenset[int]) -> tuple[Law, ...]:
    """The laws that some first-sight explanations break, and others do not: those that relabelling ``displaced`` pieces changes.

    None where a label permutation does not keep the orbits. Laws that only other free pieces change are not worth a word.
    """
    home = book.puzzle.homed(permutation)
    if home is None or not keeps(book.sectors, home):
        return ()
    unseen = book.hidden.generators(displaced)
    return tuple(law for law in book.laws if _changed(law, unseen))


def _changed(law: Law, relabellings: list[np.ndarray]) -> bool:
    return any(law.touched_by(relabelling) for relabelling in relabellings)


def broken_by_turns(puzzle: Puzzle, wider: Puzzle, turns: Iterable[str]) -> list[TurnsBreak]:
    """What these turns of ``wider``, the same puzzle with more turns, break of the laws of ``puzzle``, those that break the same
    together; those that break none are left out.

    Where a turn takes pieces out of the orbits in which the turns of ``puzzle`` keep them, that is the orbit law, and the others
    have no sense meanwhile. A turn that leads where another holding leads, too, breaks none.

    >>> from oddswap.puzzles.catalogue import load
    >>> broken_by_turns(load("cuboid:2x2x3,turns=half"), load("cuboid:2x2x3"), ["F", "F'", "F2"])
    [TurnsBreak(turns=('F', "F'"), leaving=(('corners', 4),), laws=())]
    """
    looks = by_orbits(wider, tuple(puzzle.turns)).looks
    found: dict[tuple, list[str]] = {}
    for name in turns:
        image, families = wider.turns[name].permutation, Counter()
        for piece, kind in enumerate(wider.kind_of):
            labels = wider.base_label[piece] + np.arange(kind.twist)
            families[kind.family] += bool(_coloured(wider, piece) and (looks[image[labels]] != looks[labels]).any())
        leaving, open_box = tuple((+families).items()), wider.leaves_outline
        if open_box or not law_book(puzzle).reaches_permutation(image):
            laws = () if leaving or open_box else law_book(puzzle).broken_at(image)
            if leaving or laws:
                found.setdefault((leaving, laws), []).append(name)
    return [TurnsBreak(tuple(names), leaving, laws) for (leaving, laws), names in found.items()]


def smallest_turn(puzzle: Puzzle, box: Puzzle, start: Arrangement, turns: tuple[str, ...]) -> SmallestTurn | None:
    """Which of these turns, one after another from ``start``, moves fewer pieces than any turn of ``puzzle`` does; ``None`` where
    none does.

    >>> from oddswap.puzzles.catalogue import load
    >>> half, box = load("cuboid:2x3x4,turns=half"), load("cuboid:2x3x4,turns=all")
    >>> smallest_turn(half, box, box.solved, ("U", "2F2", "RR2", "2F2", "U'"))
    SmallestTurn(after=('U', '2F2'), turn='RR2', moved=(('corners', 2),))
    """
    inside = min(_moved(box, box.solved, name).total() for name in puzzle.turns)
    state, counts = start, []
    for number, name in enumerate(turns):
        counts.append((_moved(box, state, name), number))
        state = box.follow(name, state)
    least, number = min(counts, key=lambda pair: pair[0].total())
    return SmallestTurn(turns[:number], turns[number], tuple(least.items())) if least.total() < inside else None


def _moved(box: Puzzle, state: Arrangement, name: str) -> Counter[str]:
    """How many coloured pieces of each family a turn takes to another slot, or turns, in that state."""
    image, found = box.turns[name].permutation, Counter()
    for slot, (piece, twist) in enumerate(zip(state.pieces, state.twists, strict=True)):
        label = int(box.base_label[slot]) + twist
        if _coloured(box, piece) and image[label] != label:
            found[box.kind_of[piece].family] += 1
    return found


def _coloured(puzzle: Puzzle, piece: int) -> bool:
    return not puzzle.leaves_outline or bool(puzzle.filled[piece] and not puzzle.blank_inside[piece])
