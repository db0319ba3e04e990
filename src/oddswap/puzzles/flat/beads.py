"""Beads: pieces with a single way round, in slots that are numbered from 1; equal letters look alike."""

from collections.abc import Mapping, Sequence

import numpy as np

from oddswap.errors import BadOption, quoted
from oddswap.puzzles.base.named import LIMIT, NamedPuzzle, named_puzzle, whole
from oddswap.puzzles.base.puzzle import Kind
from oddswap.puzzles.base.space import BEAD, FlatLayout, Token, circle
from oddswap.values.orbits import numbered


def bead_puzzle(
    name: str,
    title: str,
    moves: Mapping[str, Sequence[int]],
    letters: str | None,
    paints: Sequence[str],
    positions: np.ndarray,
    grooves: Sequence[np.ndarray] = (),
    plates: Sequence[np.ndarray] = (),
) -> NamedPuzzle:
    """The puzzle of these moves, each a permutation of n slots.

    ``letters`` is the option ``beads``. Without it all beads differ, and are drawn in these ``paints``, one for each.
    """
    n = len(positions)
    if n > LIMIT:
        raise BadOption(f"{quoted(name)} has {n} beads: at most {LIMIT} are offered")
    names = tuple(str(i + 1) for i in range(n))
    shown = names if letters is None else told_apart("beads", letters, n)
    tokens = [Token(text, paint) for text, paint in zip(shown, paints if letters is None else shown, strict=True)]
    flat = FlatLayout(positions, circle(BEAD), tuple(tokens), tuple(grooves), tuple(plates))
    return named_puzzle(name, title, [Kind("beads", "beads", names, 1, 0, 0)], moves, numbered(shown), flat)


def told_apart(option: str, text: str, n: int) -> tuple[str, ...]:
    """One letter for each of n pieces, from letters (``aabbcd``) or from counts (``2+2+1+1``); `BadOption` otherwise.

    >>> told_apart("beads", "2+1", 3)
    ('a', 'a', 'b')
    """
    letters = list(text)
    if "+" in text or text.isdigit():
        counts = [whole(f"a count in {option}={quoted(text, 20)}", part, 1, n) for part in text.split("+")]
        if len(counts) > 26:
            raise BadOption(f"{option} has {len(counts)} counts: give at most 26, one for each letter")
        letters = [chr(ord("a") + i) for i, count in enumerate(counts) for _ in range(count)]
    if not all(c.isalpha() for c in letters):
        raise BadOption(f"{option} is {quoted(text)}: write one letter for each piece, or counts such as 3+2")
    if len(letters) != n:
        raise BadOption(f"{option} describes {len(letters)} pieces, but there are {n}")
    return tuple(letters)
