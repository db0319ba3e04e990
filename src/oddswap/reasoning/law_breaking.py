"""Which turn breaks which law: what turns that a copy does not make do to what its own turns never change."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

import numpy as np

from oddswap.puzzles.boxes import BoxPuzzle
from oddswap.puzzles.puzzle import Puzzle
from oddswap.reasoning.laws import law_book
from oddswap.reasoning.stages import by_orbits
from oddswap.reasoning.statements import listed


def broken_by_turns(puzzle: Puzzle, wider: Puzzle, turns: Iterable[str]) -> dict[str, str]:
    """For each of these turns of ``wider``, the same puzzle with more turns, what it breaks of the laws of ``puzzle``.

    Where it takes pieces out of the orbits in which the turns of ``puzzle`` keep them, that is the orbit law, and the others
    have no sense meanwhile; empty words where it breaks none.

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
        counts = [f"{n} {family if n > 1 else family.removesuffix('s')}" for family, n in families.items() if n]
        if counts:
            said[name] = f"the orbit law ({listed(counts)} leave{'s' if families.total() == 1 else ''} their orbits)"
        elif isinstance(wider, BoxPuzzle):
            said[name] = ""
        else:
            laws = law_book(puzzle).broken_at(image)
            said[name] = listed(law.name for law in laws) if laws else ""
    return said


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
