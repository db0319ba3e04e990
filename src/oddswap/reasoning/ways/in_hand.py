"""A way as hands make it that hold the puzzle in their own way throughout."""

from dataclasses import dataclass

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.values.holding import START, Holding, settle
from oddswap.values.notation import write


@dataclass(frozen=True)
class InHand:
    """``moves`` as they are made in the ``holding``, which is one of the puzzle as it is named."""

    moves: str
    holding: Holding


def in_hand(puzzle: Puzzle, moves: str, turned: str, holding: Holding = START) -> InHand:
    """The ``moves`` for somebody who holds the puzzle as in ``holding``, where that has these turns; else for the holding that
    the whole-puzzle rotations ``turned`` lead to, from which the moves are said.

    >>> from oddswap.puzzles.catalogue import load
    >>> in_hand(load("cube:2"), "U' R'", "y'"), in_hand(load("cube:2,turns=R+U"), "U' R'", "y'").holding.own("F")
    (InHand(moves="U' F'", holding=Holding(faces=('U', 'D', 'F', 'B', 'L', 'R'))), 'L')
    """
    if not puzzle.alphabet.is_box:
        return InHand(f"{turned} {moves}".strip(), START)
    steps, from_there = puzzle.read(moves).steps, puzzle.settled(turned)[1]
    own = tuple(settle(steps, puzzle.alphabet.layers, start=from_there)[0]) if turned else steps
    if turned and any(str(step) not in puzzle.turns for step in own):
        return InHand(moves, from_there)
    return InHand(write(holding.moves_by_hand(own)), holding)
