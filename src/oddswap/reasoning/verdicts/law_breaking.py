"""Which turn breaks which law: what turns that a copy does not make do to what its own turns never change."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

import numpy as np

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.boxes.box import BoxPuzzle
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.orbit_looks import by_orbits
from oddswap.values.arrangement import Arrangement
from oddswap.values.grammar import counted, listed


def broken_by_turns(puzzle: Puzzle, wider: Puzzle, turns: Iterable[str]) -> dict[str, str]:
    """For each of these turns of ``wider``, the same puzzle with more turns, what it breaks of the laws of ``puzzle``.

    Where it takes pieces out of the orbits in which the turns of ``puzzle`` keep them, that is the orbit law, and the others
    have no sense meanwhile; empty words where it breaks none, or leads where another holding leads, too.

    >>> from oddswap.puzzles.catalogue import load
    >>> broken_by_turns(load("cuboid:2x2x3,turns=half"), load("cuboid:2x2x3"), ["F"])
    {'F': 'the orbit law (4 corners leave their orbits)'}
    """
    looks = by_orbits(wider, tuple(puzzle.turns)).looks
    said = {}
    for name in turns:
        image, families = wider.turns[name].permutation, Counter()
        for piece, kind in enumerate(wider.kind_of):
            labels = wider.base_label[piece] + np.arange(kind.twist)
            families[kind.family] += bool(_coloured(wider, piece) and (looks[image[labels]] != looks[labels]).any())
        counts = [counted(n, family) for family, n in families.items() if n]
        if not isinstance(wider, BoxPuzzle) and law_book(puzzle).reaches_permutation(image):
            said[name] = ""
        elif counts:
            said[name] = f"the orbit law ({listed(counts)} leave{'s' if families.total() == 1 else ''} their orbits)"
        elif isinstance(wider, BoxPuzzle):
            said[name] = ""
        else:
            laws = law_book(puzzle).broken_at(image)
            said[name] = listed(law.name for law in laws) if laws else ""
    return said


def smallest_turn(puzzle: Puzzle, box: BoxPuzzle, start: Arrangement, turns: tuple[str, ...]) -> str:
    """Which of these turns, one after another from ``start``, moves fewer pieces than any turn of ``puzzle`` does, in words.

    Empty where none does.

    >>> from oddswap.puzzles.catalogue import load
    >>> half, box = load("cuboid:2x3x4,turns=half"), load("cuboid:2x3x4,turns=all")
    >>> smallest_turn(half, box, box.solved, ("U", "2F2", "RR2", "2F2", "U'"))
    'in the shape that U 2F2 gives, RR2 moves only 2 corners, and no turn inside the box moves so few pieces'
    """
    inside = min(_moved(box, box.solved, name).total() for name in puzzle.turns)
    state, counts = start, []
    for number, name in enumerate(turns):
        counts.append((_moved(box, state, name), number))
        state = box.follow(name, state)
    least, number = min(counts, key=lambda pair: pair[0].total())
    if least.total() >= inside:
        return ""
    pieces = listed(counted(n, family) for family, n in least.items())
    shape = f"in the shape that {' '.join(turns[:number])} gives" if number else "in the shape that it has"
    return f"{shape}, {turns[number]} moves only {pieces}, and no turn inside the box moves so few pieces"


def _moved(box: BoxPuzzle, state: Arrangement, name: str) -> Counter[str]:
    """How many coloured pieces of each family a turn takes to another slot, or turns, in that state."""
    image, found = box.turns[name].permutation, Counter()
    for slot, (piece, twist) in enumerate(zip(state.pieces, state.twists, strict=True)):
        label = int(box.base_label[slot]) + twist
        if _coloured(box, piece) and image[label] != label:
            found[box.kind_of[piece].family] += 1
    return found


def _coloured(puzzle: Puzzle, piece: int) -> bool:
    return not isinstance(puzzle, BoxPuzzle) or bool(puzzle.filled[piece] and not puzzle.blank_inside[piece])


def told_by_turn(broken: dict[str, str]) -> list[str]:
    """The same in sentences, turns that break the same together; those that break nothing by themselves are left out.

    >>> told_by_turn({"F": "the orbit law", "F'": "the orbit law", "U2": ""})
    ["each of the turns F F' breaks the orbit law"]
    """
    groups: dict[str, list[str]] = {}
    for name, words in broken.items():
        if words:
            groups.setdefault(words, []).append(name)
    return [
        f"the turn {names[0]} breaks {words}" if len(names) == 1 else f"each of the turns {' '.join(names)} breaks {words}"
        for words, names in groups.items()
    ]
