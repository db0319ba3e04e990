"""The tally on a picture of a clip: as many of its rows and columns as there is room for."""

from matplotlib.axes import Axes
from matplotlib.patches import Rectangle

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.laws.law import Law
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.tally import Quantity, Tally, tally
from oddswap.showing.ink.canvas import write
from oddswap.showing.ink.palette import FAINT_INK, HIGHLIGHT, PAPER, mix
from oddswap.values.arrangement import Arrangement
from oddswap.words.laws import rows_in_words


def tally_of(puzzle: Puzzle, moves: str, start: Arrangement | None) -> Tally | None:
    """The tally in full, if there are laws and they can be told of what is shown."""
    if start is None or start.puzzle != puzzle.name:
        return None
    if not law_book(puzzle).laws or any(law.alone for law in law_book(puzzle).broken(start)):
        return None
    return tally(puzzle, moves, start).in_full()


def rows_worth(table: Tally, relevant: set[Law], room: int) -> list[int]:
    """The rows that are worth their room: those of the laws that look broken, then what changes, then the rest."""
    wanted = {*relevant, *(Quantity(tuple(part for _, part in law.terms)) for law in relevant)}

    def worth(i: int) -> tuple:
        return (table.laws[i] not in wanted, len(set(table.values[i])) == 1, i)

    return sorted(sorted(range(len(table.laws)), key=worth)[: max(0, room)])


def lay_tally(ax: Axes, table: Tally, made: int, heads: list[str], rows: list[int], x: float, top: float, wide: float) -> None:
    """The tally's columns up to now, below their ``heads``; what has changed stands out."""
    if not rows:
        return
    words = rows_in_words(table)
    named = {i: shortened(words[i][0], int((wide - 2.2) / 0.115)) for i in rows}
    names = 0.115 * max(map(len, named.values())) + 0.3
    cell = 0.115 * max(*(len(text) for i in rows for text in words[i][1]), *map(len, heads)) + 0.35
    columns = max(1, int((wide - names) / max(cell, 0.6)))
    end = min(made, len(table.moves)) + 1
    start = max(0, end - columns)
    write(ax, x, top - 0.2, "the tally", ha="left", size=13, color=FAINT_INK)
    for place, j in enumerate(range(start, end)):
        write(ax, x + names + (place + 0.5) * cell, top - 0.2, heads[j], size=13, color=FAINT_INK)
    for line, i in enumerate(rows, 1):
        y = top - 0.2 - 0.46 * line
        law, texts = isinstance(table.laws[i], Law), words[i][1]
        write(ax, x, y, named[i], ha="left", size=13, weight="bold" if law else "normal")
        for place, j in enumerate(range(start, end)):
            changed = j > 0 and texts[j] != texts[j - 1]
            middle = x + names + (place + 0.5) * cell
            if changed or (law and table.values[i][j]):
                box = ((middle - cell / 2 + 0.03, y - 0.2), cell - 0.06, 0.4)
                ax.add_patch(Rectangle(*box, facecolor=mix(HIGHLIGHT, PAPER, 0.86), lw=0))
            write(ax, middle, y, texts[j], size=13, weight="bold" if changed or law else "normal")


def shortened(text: str, most: int) -> str:
    """A text of at most so many letters, whole words where it is cut.

    >>> shortened("sign of corners and of edges", 20)
    'sign of corners …'
    """
    if len(text) <= most:
        return text
    words = text[: most - 1].split(" ")
    return " ".join(words[:-1] or words) + " …"
