"""What breaks which law: a position however its free pieces are called, and turns that a copy does not make."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from itertools import islice
from typing import TYPE_CHECKING

import numpy as np

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.budget import Finding
from oddswap.reasoning.laws.law import Law
from oddswap.reasoning.laws.law_book import LawBook, law_book
from oddswap.reasoning.laws.sectors import by_orbits, keeps
from oddswap.reasoning.verdicts.mending import into_orbits, steady_laws
from oddswap.values.position import Arrangement

if TYPE_CHECKING:
    from oddswap.puzzles.boxes.box import BoxPuzzle

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
    inside = into_orbits(book, permutation, free)
    if inside is None:
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
    if home is None or keeps(book.sectors, home) is not None:
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


def smallest_turn(puzzle: Puzzle, box: BoxPuzzle, start: Arrangement, turns: tuple[str, ...]) -> SmallestTurn | None:
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


def _moved(box: BoxPuzzle, state: Arrangement, name: str) -> Counter[str]:
    """How many coloured pieces of each family a turn takes to another slot, or turns, in that state."""
    image, found = box.turns[name].permutation, Counter()
    for slot, (piece, twist) in enumerate(zip(state.pieces, state.twists, strict=True)):
        label = int(box.base_label[slot]) + twist
        if _coloured(box, piece) and image[label] != label:
            found[box.kind_of[piece].family] += 1
    return found


def _coloured(puzzle: Puzzle, piece: int) -> bool:
    return not puzzle.leaves_outline or bool(puzzle.filled[piece] and not puzzle.blank_inside[piece])
