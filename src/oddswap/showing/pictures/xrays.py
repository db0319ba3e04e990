"""X-rays side by side: on several puzzles, which pieces can turn or change places without a trace."""

from collections import Counter
from collections.abc import Iterable

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.laws.lookalikes import lookalikes
from oddswap.showing.ink.cards import Card, draw_cards
from oddswap.showing.ink.marking import hatched_pieces
from oddswap.values.grammar import counted, listed


def draw_xrays(shapes: Iterable[tuple[str, Puzzle]], *, per_row: int = 3, ax: Axes | None = None) -> Figure:
    """A card for each ``(headline, puzzle)``: the solved puzzle with its lookalikes hatched, and how many of which sort.

    >>> from oddswap import draw, load
    >>> shapes = [(name, load(name)) for name in ("cube:2", "shape-mod:prism8")]
    >>> figure = draw.draw_xrays(shapes)
    """
    cards = [Card(p, p.solved, headline, lookalikes_counted(p), hatched=hatched_pieces(p, True)) for headline, p in shapes]
    return draw_cards(cards, per_row=per_row, ax=ax)


def lookalikes_counted(puzzle: Puzzle) -> str:
    """How many pieces of each family have hidden turns, and how many have twins, on a line each.

    >>> from oddswap.puzzles.catalogue import load
    >>> print(lookalikes_counted(load("shape-mod:prism8")))
    hidden turns: 4 edges and 6 centres
    twins: none
    """
    alike = lookalikes(puzzle)
    sorts = {"hidden turns": alike.hidden_turns, "twins": [piece for pieces in alike.twins for piece in pieces]}
    return "\n".join(f"{sort}: {_families(puzzle, pieces)}" for sort, pieces in sorts.items())


def _families(puzzle: Puzzle, pieces: Iterable[int]) -> str:
    numbers = Counter(puzzle.kind_of[piece].family for piece in sorted(pieces))
    words = [counted(n, family) for family, n in numbers.items()]
    return listed(words) if words else "none"
