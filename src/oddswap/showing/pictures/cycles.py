"""What a permutation does to the pieces, cycle by cycle, with its twists; and what moves do to the laws: a tally."""

from dataclasses import dataclass

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Circle, Polygon, Rectangle

from oddswap.puzzles.base.puzzle import Kind, Puzzle
from oddswap.puzzles.base.space import on_circle
from oddswap.reasoning.laws.tally import Tally
from oddswap.showing.ink.arrows import ribbon
from oddswap.showing.ink.canvas import INCHES, lay_polygons, sheet, text_size, write
from oddswap.showing.ink.palette import BACKDROP, BODY, FAINT_INK, HIGHLIGHT, INK, PAPER, mix
from oddswap.values.numbers import AtLeastOne
from oddswap.values.orbits import gathered
from oddswap.values.permutation import cycles, inverse
from oddswap.values.position import Arrangement
from oddswap.words.laws import rows_in_words

NODE = 0.19
SPACING = 0.72
"""From one node of a cycle to the next, along the cycle."""
TAG = 0.06
"""How far outside its arrow a twist is written."""
ROW = 5.6
"""How wide a row of cycles may become."""
MARGIN, TITLE, GAP = 0.2, 0.42, 0.4


@dataclass(frozen=True)
class Cycle:
    """A cycle: the piece at home in ``slots[i]`` sits in ``slots[i + 1]`` with ``twists[i]`` (in words, or empty)."""

    slots: tuple[str, ...]
    twists: tuple[str, ...]

    @property
    def radius(self) -> float:
        n = len(self.slots)
        return 0.0 if n == 1 else max(SPACING / 2 / np.sin(np.pi / n), 0.36)

    @property
    def reach(self) -> float:
        """Half the breadth that the cycle takes on the sheet."""
        return self.radius + NODE + 0.16


@dataclass(frozen=True)
class FamilyCycles:
    """The cycles of the kinds that share a family, and a line of words about them."""

    title: str
    words: str
    cycles: tuple[Cycle, ...]


def draw_cycles(puzzle: Puzzle, arrangement: Arrangement, *, ax: Axes | None = None) -> Figure:
    """The cycles of the displaced pieces, each family beside the next: an arrow leads from a piece's home to where it sits now.

    Words on an arrow say how the piece is twisted there, as `Arrangement` counts it: clockwise is seen from outside.

    >>> from oddswap import draw
    >>> figure = draw.draw_cycles("cube:3", "R U R' U'")
    """
    groups = groups_of(puzzle, arrangement) or [FamilyCycles("every piece is at home", "", ())]
    columns = [(group, _rows(group.cycles)) for group in groups]
    widths = [_width(group, lines) for group, lines in columns]
    height = TITLE + max(sum(2 * max(cycle.reach for cycle in row) for row in lines) for _, lines in columns)
    ax = sheet(sum(widths) + GAP * (len(columns) - 1) + 4 * MARGIN, height + 3.5 * MARGIN, ax)
    top, left = ax.get_ylim()[1] - 2 * MARGIN, 2 * MARGIN
    ax.add_patch(Rectangle((MARGIN, MARGIN), ax.get_xlim()[1] - 2 * MARGIN, top, facecolor=PAPER, lw=0))
    for (group, lines), width in zip(columns, widths, strict=True):
        _draw_group(ax, group, lines, left, top)
        left += width + GAP
    return ax.figure


def groups_of(puzzle: Puzzle, arrangement: Arrangement) -> list[FamilyCycles]:
    """The displaced pieces as cycles, by family in the order of the kinds, each piece in exactly one cycle."""
    families = gathered(puzzle.kinds, lambda kind: kind.family)
    groups = []
    for family, kinds in families.items():
        found = [cycle for kind in kinds for cycle in _cycles(puzzle, arrangement, kind)]
        if found:
            groups.append(FamilyCycles(family, _words(puzzle, arrangement, kinds, found), tuple(found)))
    return groups


def _cycles(puzzle: Puzzle, arrangement: Arrangement, kind: Kind) -> list[Cycle]:
    sits_in, twists = inverse(arrangement.pieces), arrangement.twists
    turned = [(slot,) for slot in kind.places if sits_in[slot] == slot and twists[slot]]
    paths = sorted([*turned, *(path for path in cycles(sits_in) if path[0] in kind.places)])
    return [
        Cycle(tuple(puzzle.slots[p] for p in path), tuple(twist_words(twists[sits_in[p]], kind.twist) for p in path))
        for path in paths
    ]


def twist_words(twist: int, order: int) -> str:
    """A twist in words, as seen from outside: nothing, flipped, a turn one way or the other, a half turn.

    >>> [twist_words(t, 3) for t in range(3)], twist_words(1, 2), twist_words(2, 4)
    (['', 'cw', 'ccw'], 'flip', 'half')
    """
    if not twist:
        return ""
    if 2 * twist == order:
        return "flip" if order == 2 else "half"
    return {1: "cw", order - 1: "ccw"}.get(twist, f"+{twist}")


def _words(puzzle: Puzzle, arrangement: Arrangement, kinds, cycles: list[Cycle]) -> str:
    even_cycles = sum(len(cycle.slots) % 2 == 0 for cycle in cycles)
    words = ["an odd permutation" if even_cycles % 2 else "an even permutation"]
    order = kinds[0].twist
    if order > 1 and all(kind.twist == order for kind in kinds):
        total = sum(arrangement.twists[slot] for kind in kinds for slot in kind.places) % order
        words.append(f"{'flips' if order == 2 else 'twists'} add up to {total} (mod {order})")
    if puzzle.blank in arrangement.displaced():
        words.append(f"the blank, at home in {puzzle.slots[puzzle.blank]}, counts as a piece")
    return " · ".join(words)


def _rows(cycles: tuple[Cycle, ...]) -> list[list[Cycle]]:
    rows: list[list[Cycle]] = []
    for cycle in sorted(cycles, key=lambda cycle: -len(cycle.slots)):
        if not rows or sum(2 * r.reach for r in rows[-1]) + 2 * cycle.reach > ROW:
            rows.append([])
        rows[-1].append(cycle)
    return rows


def _width(group: FamilyCycles, lines: list[list[Cycle]]) -> float:
    """How wide the column of a family is: as its widest row of cycles, or as its words."""
    words = max(text_size(group.words)[0] * 7.5, text_size(group.title)[0] * 10.5) / 72 / INCHES
    return max([words, *(sum(2 * cycle.reach for cycle in row) for row in lines)])


def _draw_group(ax: Axes, group: FamilyCycles, lines: list[list[Cycle]], left: float, top: float) -> None:
    write(ax, left, top - 0.05, group.title, ha="left", size=10.5, weight="bold")
    write(ax, left, top - 0.24, group.words, ha="left", size=7.5, color=FAINT_INK)
    y = top - TITLE
    for row in lines:
        y -= max(cycle.reach for cycle in row)
        x = left
        for cycle in row:
            _draw_cycle(ax, cycle, np.array([x + cycle.reach, y]))
            x += 2 * cycle.reach
        y -= max(cycle.reach for cycle in row)


def _draw_cycle(ax: Axes, cycle: Cycle, middle: np.ndarray) -> None:
    n = len(cycle.slots)
    nodes = on_circle(np.arange(n) / n, cycle.radius, middle)
    for i, (node, twist) in enumerate(zip(nodes, cycle.twists, strict=True)):
        path = _around(node, twist) if n == 1 else _along(middle, cycle.radius, i, n)
        lay_polygons(ax, [ribbon(path, 0.03)], facecolors=BODY, zorder=2)
        if twist:
            at = path[len(path) // 2]
            at = at + TAG * (at - middle) / np.linalg.norm(at - middle)
            box = {"boxstyle": "round,pad=0.18", "facecolor": PAPER, "edgecolor": HIGHLIGHT, "linewidth": 0.9}
            write(ax, *at, twist, size=6.5, color=HIGHLIGHT, weight="bold", bbox=box, zorder=4)
    for node, slot in zip(nodes, cycle.slots, strict=True):
        ax.add_patch(Circle(node, NODE, facecolor=BACKDROP, edgecolor=BODY, lw=1.0, zorder=3))
        write(ax, *node, slot, size=7.5 if len(slot) < 4 else 5.5, color=INK, zorder=3.5)


def _along(middle: np.ndarray, radius: float, i: int, n: int) -> np.ndarray:
    """The arc of a cycle from the rim of the i-th node to the rim of the next, clockwise."""
    skip = np.arcsin(min((NODE + 0.02) / (2 * radius), 1.0)) / np.pi
    return on_circle(np.linspace(i / n + skip, (i + 1) / n - skip, 24), radius, middle)


def _around(node: np.ndarray, twist: str) -> np.ndarray:
    """A loop about a node that stays where it is, the way round that its twist says."""
    way = -1 if twist == "ccw" else 1
    return on_circle(way * np.linspace(-145 / 360, 145 / 360, 36), NODE + 0.06, node)


LINE, BETWEEN = 0.28, 0.24
Rows = list[tuple[str, tuple[str, ...]]]
LETTER = 0.066
"""About the width of a letter of the table, on the sheet."""


def draw_tally(tally: Tally, *, per_row: AtLeastOne = 12, ax: Axes | None = None) -> Figure:
    """The tally as a table, ``per_row`` columns to a block; a changed value is bold, tinted and has a marked corner.

    >>> import oddswap
    >>> figure = oddswap.draw_tally(oddswap.tally("cube:3", "R U2"))
    """
    heads, rows = ["start", *tally.moves], rows_in_words(tally)
    names = LETTER * max((len(name) for name, _ in rows), default=0) + 0.25
    texts = [*heads, *(text for _, row in rows for text in row)]
    column = max(LETTER * max(map(len, texts)) + 0.2, 0.42)
    blocks = [range(at, min(at + per_row, len(heads))) for at in range(0, len(heads), per_row)]
    height = LINE * (len(rows) + 1)
    width = 4 * MARGIN + names + column * len(blocks[0])
    ax = sheet(width, len(blocks) * (height + BETWEEN) - BETWEEN + 4 * MARGIN, ax)
    top = ax.get_ylim()[1] - 2 * MARGIN
    ax.add_patch(Rectangle((MARGIN, MARGIN), width - 2 * MARGIN, top, facecolor=PAPER, lw=0))
    for block in blocks:
        _draw_block(ax, rows, heads, block, 2 * MARGIN + names, column, top)
        top -= height + BETWEEN
    return ax.figure


def _draw_block(ax: Axes, rows: Rows, heads: list[str], block: range, left: float, column: float, top: float):
    right = left + column * len(block)
    for place, j in enumerate(block):
        middle = left + column * (place + 0.5)
        write(ax, middle, top - LINE / 2, heads[j], size=8.5, weight="bold" if j else "normal", color=INK)
    for i, (law, row) in enumerate(rows):
        y = top - LINE * (i + 1)
        ax.add_line(Line2D([2 * MARGIN, right], [y, y], color=BACKDROP, lw=0.8, zorder=1))
        write(ax, left - 0.15, y - LINE / 2, law, ha="right", size=8, color=FAINT_INK)
        for place, j in enumerate(block):
            changed = j > 0 and row[j] != row[j - 1]
            x = left + column * place
            if changed:
                _mark(ax, x, y, column)
            weight = "bold" if changed else "normal"
            write(ax, x + column / 2, y - LINE / 2, row[j], size=8.5, color=INK, weight=weight, zorder=3)


def _mark(ax: Axes, x: float, y: float, column: float) -> None:
    """A tint and a corner in the colour of what the text speaks of."""
    tint = mix(HIGHLIGHT, PAPER, 0.86)
    ax.add_patch(Rectangle((x + 0.02, y - LINE + 0.02), column - 0.04, LINE - 0.04, facecolor=tint, lw=0, zorder=2))
    corner = [(x + 0.02, y - 0.02), (x + 0.12, y - 0.02), (x + 0.02, y - 0.12)]
    ax.add_patch(Polygon(corner, facecolor=HIGHLIGHT, lw=0, zorder=2.1))
