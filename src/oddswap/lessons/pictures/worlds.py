"""The worlds of a puzzle: what turning can reach from one another, with the smallest changes by hand that lead to each."""

from __future__ import annotations

from itertools import product

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from oddswap.describing.changes import changed
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.laws.law_book import law_book
from oddswap.showing.ink.camera import cameras, reach
from oddswap.showing.ink.canvas import write
from oddswap.showing.ink.painting import Inks, paint
from oddswap.showing.ink.palette import FAINT_INK, HIGHLIGHT, colours_for
from oddswap.showing.ink.paper_card import PaperCard
from oddswap.showing.ink.scene import scene
from oddswap.values.arrangement import Arrangement

CARD = PaperCard(side=1.3, pad=0.07, foot=0.42)
CHANGES = (("", "swap UR UF"), ("", "flip UF"), ("", "twist UFR cw", "twist UFR ccw"))
"""What a hand does at most to come from one world of a cube to any other: one choice of each."""

Values = tuple[int, ...]


def values_seen(puzzle: Puzzle, state: Arrangement) -> Values:
    """The quantity of each law that no lookalike can hide: equal in one world, and 0 where all is solved."""
    permutation = puzzle.homed(puzzle.permutation(state))
    return tuple(law.value(permutation) for law in law_book(puzzle).laws if law.seen)


def worlds(puzzle: Puzzle) -> dict[Values, tuple[str, ...]]:
    """For each world of a cube of two or three slabs: its quantities, and the fewest of `CHANGES` that lead there."""
    families = {kind.family for kind in puzzle.kinds}
    found: dict[Values, tuple[str, ...]] = {}
    for choice in product(*CHANGES):
        changes = tuple(change for change in choice if change)
        if "edges" in families or not any(change.startswith(("swap", "flip")) for change in changes):
            values = values_seen(puzzle, changed(puzzle, changes))
            found[values] = min(found.get(values, changes), changes, key=len)
    return found


def draw_worlds(puzzle: Puzzle, *, ax: Axes | None = None) -> Figure:
    """A small picture of each world, numbered, at most six in a row; the changed pieces are outlined."""
    cards = list(worlds(puzzle).values())
    ax, corners = CARD.in_rows(len(cards), 6, 0.12, ax)
    for i, (changes, (left, base)) in enumerate(zip(cards, corners, strict=True)):
        spot = CARD.lay(ax, left, base, 1.08 * reach(puzzle))
        state = changed(puzzle, changes)
        inks = Inks(colours_for(puzzle), highlight=state.displaced())
        paint(ax, scene(puzzle, state, cameras(puzzle)[0]), inks, spot)
        write(ax, left + 0.16, base + CARD.foot + CARD.side - 0.12, str(i + 1), size=8.5, weight="bold", color=HIGHLIGHT)
        write(ax, spot.x, base + CARD.foot / 2, "\n".join(changes) or "solved", size=7.5, color=FAINT_INK, linespacing=1.25)
    return ax.figure
