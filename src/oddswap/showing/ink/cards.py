"""Cards: small pictures of puzzles with a headline and some words each, side by side in rows."""

import textwrap
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.showing.ink.camera import Camera
from oddswap.showing.ink.canvas import write
from oddswap.showing.ink.keys import KEY_LINE, draw_hatch_key, meanings_of
from oddswap.showing.ink.palette import FAINT_INK, INK
from oddswap.showing.ink.paper_card import MARGIN, PaperCard
from oddswap.values.position import Arrangement

SIDE, PAD, HEAD, LINE = 2.0, 0.09, 0.3, 0.145
LETTERS = 39
"""How many letters of the words fit on a line."""


@dataclass(frozen=True, eq=False)
class Card:
    """One picture with its words. Its inks are as `Inks` has them; without ``camera`` it is seen as on the first print."""

    puzzle: Puzzle
    shown: Arrangement
    headline: str
    words: str = ""
    hatched: Mapping[int, tuple[str, ...]] = field(default_factory=dict)
    highlight: frozenset[int] = frozenset()
    camera: Camera | None = None
    letters: bool = False

    @property
    def lines(self) -> list[str]:
        return [line for part in self.words.split("\n") for line in textwrap.wrap(part, LETTERS)]


def draw_cards(cards: Sequence[Card], *, per_row: int = 3, ax: Axes | None = None) -> Figure:
    """The cards in rows, and beneath them the key of the hatching, if there is any."""
    used = dict.fromkeys(keys for card in cards for keys in card.hatched.values())
    hatched = dict(enumerate(used))
    keys = KEY_LINE * len(meanings_of(hatched)) + (MARGIN / 2 if hatched else 0.0)
    foot = HEAD + LINE * max(len(card.lines) for card in cards) + PAD * any(card.lines for card in cards)
    paper = PaperCard(SIDE, PAD, foot)
    ax, corners = paper.in_rows(len(cards), per_row, 0.2, ax, below=keys)
    for card, (left, low) in zip(cards, corners, strict=True):
        inks = {"hatched": card.hatched, "highlight": card.highlight, "letters": card.letters}
        spot = paper.picture(ax, (left, low), card.puzzle, card.shown, card.camera, **inks)
        write(ax, spot.x, low + foot - HEAD / 2, card.headline, size=10, weight="bold", color=INK)
        style = {"size": 8.5, "color": FAINT_INK, "va": "top", "linespacing": 1.25}
        write(ax, spot.x, low + foot - HEAD, "\n".join(card.lines), **style)
    if hatched:
        draw_hatch_key(ax, hatched, ax.get_xlim()[1] / 2, MARGIN / 2 + KEY_LINE / 2)
    return ax.figure
