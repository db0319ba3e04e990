"""One state held in several ways: what each holding makes of the signs, and whether turns of the slabs alone lead there."""

from __future__ import annotations

from collections.abc import Iterable

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.whole_turns import held_still
from oddswap.reasoning.laws.law_book import law_book
from oddswap.showing.ink.cards import Card, draw_cards
from oddswap.values.arrangement import Arrangement
from oddswap.values.permutation import sign


def always_held(puzzle: Puzzle) -> Puzzle:
    """The same puzzle when it is never held another way: its slabs turn, and that is all.

    >>> from oddswap.puzzles.catalogue import load
    >>> [law.name for law in law_book(always_held(load("cube:3,centres=none"))).laws if law.type == "sign"]
    ['sign of corners and edges']
    """
    return held_still(puzzle)


def signs(puzzle: Puzzle, arrangement: Arrangement) -> dict[str, str]:
    """For each kind of two pieces or more, whether they are rearranged evenly or oddly: ``even`` or ``odd``."""
    kinds = [kind for kind in puzzle.kinds if len(kind.slots) > 1]
    moved = {kind.name: sign([arrangement.pieces[slot] - kind.start for slot in kind.places]) for kind in kinds}
    return {name: "odd" if s < 0 else "even" for name, s in moved.items()}


def draw_holdings(puzzle: Puzzle, arrangement: Arrangement, turns: Iterable[str], *, ax: Axes | None = None) -> Figure:
    """A card for each of ``turns`` of the whole puzzle (empty: none): the state held so, its signs, and what can lead there.

    The pieces that are out of place are outlined.
    """
    astray = {arrangement.pieces[slot] for slot in arrangement.displaced()}
    cards = []
    for turn in turns:
        held = puzzle.follow(turn, arrangement)
        told = ", ".join(f"{kind} {s}" for kind, s in signs(puzzle, held).items())
        reached = law_book(always_held(puzzle)).reaches(held)
        words = f"{told}:\nturns of the slabs {'lead' if reached else 'never lead'} here"
        outlined = frozenset(slot for slot, piece in enumerate(held.pieces) if piece in astray)
        cards.append(Card(puzzle, held, f"after {turn}" if turn else "as it was brought", words, highlight=outlined))
    return draw_cards(cards, per_row=2, ax=ax)
