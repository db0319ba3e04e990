"""The eight corners of a box, black and white like the squares of a chessboard: two fours, and how each is rearranged.

Half a turn takes a corner diagonally across a face, so from black to black or from white to white; and where it takes four
corners along, it swaps two black ones and two white ones. So the two fours are always rearranged both evenly or both oddly.
"""

from __future__ import annotations

from collections.abc import Mapping

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.boxes.box import BoxPuzzle
from oddswap.showing.ink.cards import Card, draw_cards
from oddswap.values.arrangement import Arrangement
from oddswap.values.permutation import sign

BLACK, WHITE = ("UFL", "UBR", "DFR", "DBL"), ("UFR", "UBL", "DFL", "DBR")
OPEN, MIXED = "out of its outline", "a black corner sits among the white ones"


def signs_of_fours(puzzle: Puzzle, state: Arrangement) -> tuple[str, str] | None:
    """``even`` or ``odd`` for the black corners and for the white; ``None`` where they are not all among their own.

    >>> from oddswap.puzzles.catalogue import load
    >>> box = load("cuboid:2x3x4")
    >>> signs_of_fours(box, box.follow("U2")), signs_of_fours(box, box.follow("U2 L2"))
    (('odd', 'odd'), ('even', 'even'))
    """
    found = []
    for four in (BLACK, WHITE):
        slots = [puzzle.slot(name) for name in four]
        pieces = [state.pieces[slot] for slot in slots]
        if set(pieces) != set(slots):
            return None
        found.append("odd" if sign([slots.index(piece) for piece in pieces]) < 0 else "even")
    return found[0], found[1]


def told_fours(puzzle: Puzzle, state: Arrangement) -> str:
    """One line about the two fours, or why nothing can be said of them."""
    if isinstance(puzzle, BoxPuzzle) and not puzzle.closed(state):
        return OPEN
    signs = signs_of_fours(puzzle, state)
    return MIXED if signs is None else f"black corners {signs[0]}, white corners {signs[1]}"


def draw_fours(puzzle: Puzzle, states: Mapping[str, Arrangement], *, per_row: int = 3, ax: Axes | None = None) -> Figure:
    """A card for each state, under its headline, with the black corners outlined and what is said of the two fours."""
    black = {puzzle.slot(name) for name in BLACK}
    cards = []
    for headline, state in states.items():
        outlined = frozenset(slot for slot, piece in enumerate(state.pieces) if piece in black)
        cards.append(Card(puzzle, state, headline, told_fours(puzzle, state), highlight=outlined))
    return draw_cards(cards, per_row=per_row, ax=ax)
