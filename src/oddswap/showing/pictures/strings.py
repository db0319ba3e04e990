"""Crossing strings: pieces on a line before and after, and a string from each to itself.

Two strings cross once if their pieces stand in one order before and in the other after, which is called an inversion;
otherwise they do not cross at all. To be counted, crossings must lie apart: every string is bent a little, by less than
would make or undo a crossing, so that no three meet in one point.
"""

from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from itertools import combinations

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from oddswap.errors import BadOption, quoted
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.space import rounded_box
from oddswap.showing.ink.canvas import INCHES, sheet, write
from oddswap.showing.ink.flat import FIRST, HOLE, lay_shapes, layout_of, token_colours
from oddswap.showing.ink.painting import Spot
from oddswap.showing.ink.palette import BODY, FAINT_INK, HIGHLIGHT, PALETTE, PAPER, ink_on
from oddswap.values.position import Arrangement

STEP, WIDEST = 0.5, 6.6
"""The step from piece to piece on the sheet, unless the whole would then be wider than this."""
DROP, FOOT, MARGIN, SIDE = 1.7, 0.42, 0.16, 0.62
"""From line to line; beneath them; above and to the right; to the left, where the words are."""
BEND = 0.2
"""The farthest that a string is bent, in steps: below 1 / pi, two that cross draw nearer all the way and then apart, and
below 1 / 2 two that do not cross never touch."""
TRIES = 60


def draw_strings(
    before: Sequence[str],
    after: Sequence[str],
    *,
    colours: Mapping[str, str] | None = None,
    highlight: Iterable[str] = (),
    ax: Axes | None = None,
) -> Figure:
    """Pieces by what is written on them, all different; an empty word is the blank, which has a string like any piece.

    ``colours`` (``#rrggbb`` by word) are those of the palette in turn when left out. The strings of ``highlight`` are edged.
    Every crossing bears a dot, and their number is written beneath. `BadOption` unless the same pieces stand in both rows.

    >>> from oddswap import draw
    >>> figure = draw.draw_strings("12345", "52341", highlight="15")
    """
    places = _places(before, after)
    n, step = len(places), min(STEP, WIDEST / len(places))
    colours = {**{w: PALETTE[FIRST[i % len(FIRST)]] for i, w in enumerate(before)}, **(colours or {}), "": HOLE}
    ax = sheet(SIDE + n * step + MARGIN, FOOT + DROP + 2 * step + MARGIN, ax)
    bottom = FOOT + step / 2
    left, top, room = SIDE + step / 2, bottom + DROP + step / 2, step / 2
    fall = np.linspace(top - room, bottom + room, 80)
    marked = set(highlight)
    for i, (word, across) in enumerate(zip(before, strands(places, 80), strict=True)):
        line = {"solid_capstyle": "butt", "zorder": 2 + i / n + 2 * (word in marked)}
        edge = HIGHLIGHT if word in marked else BODY
        ax.plot(left + step * across, fall, color=edge, lw=72 * INCHES * step * 0.13, **line)
        ax.plot(left + step * across, fall, color=colours[word], lw=72 * INCHES * step * 0.08, **line)
        for at, height in ((i, top), (places[i], bottom)):
            _piece(ax, Spot(left + step * at, height, step), word, colours[word], edge)
    points = crossing_points(places)
    ax.plot(
        left + step * points[:, 0],
        top - room + points[:, 1] * (bottom - top + 2 * room),
        "o",
        ms=72 * INCHES * step * 0.12,
        mfc=PAPER,
        mec=BODY,
        mew=0.9,
        zorder=6,
    )
    for words, height in (("before", top), ("after", bottom)):
        write(ax, SIDE - 0.08, height, words, ha="right", size=8.5, color=FAINT_INK)
    write(ax, left + step * (n - 1) / 2, 0.2, describe_crossings(len(points)), size=10.5)
    return ax.figure


def board_strings(puzzle: Puzzle, state: Arrangement, *, highlight: Iterable[str] = (), ax: Axes | None = None) -> Figure:
    """The strings of a flat puzzle, its slots taken as one line: solved before, ``state`` after, in the puzzle's colours.

    >>> from oddswap import draw
    >>> figure = draw.board_strings("tiles:3x3", "r3c2 r2c2")
    """
    tokens, paints = layout_of(puzzle).tokens, token_colours(puzzle.flat)
    colours = {token.text: paints[token.paint] for token in tokens if token}
    return draw_strings(row_of(puzzle, puzzle.solved), row_of(puzzle, state), colours=colours, highlight=highlight, ax=ax)


def row_of(puzzle: Puzzle, state: Arrangement) -> tuple[str, ...]:
    """What is written on the pieces, slot after slot; an empty word for the blank."""
    tokens = [puzzle.flat.tokens[puzzle.base_label[piece]] for piece in state.pieces]
    return tuple(token.text if token else "" for token in tokens)


def crossings(before: Sequence[str], after: Sequence[str]) -> int:
    """How many pairs of pieces stand in one order before and in the other after.

    >>> crossings("abc", "cab")
    2
    """
    return sum(i > j for i, j in combinations(_places(before, after), 2))


def describe_crossings(count: int) -> str:
    """Say a number of crossings, and whether it is odd."""
    return f"{count} crossing{'s' * (count != 1)}: {'odd' if count % 2 else 'even'}"


def strands(places: tuple[int, ...], points: int) -> np.ndarray:
    """Where each string is on its way down, in steps; shape (strings, points). String i goes from i to ``places[i]``."""
    way = np.linspace(0, 1, points)
    ends = np.array(places, dtype=float)[:, None]
    starts = np.arange(len(places))[:, None]
    return starts + (ends - starts) * way + bends(places)[:, None] * np.sin(np.pi * way)


@lru_cache(maxsize=512)
def bends(places: tuple[int, ...]) -> np.ndarray:
    """How far each string is bent: of some seeded draws the one whose crossings lie farthest apart.

    What crosses nothing hangs straight.
    """
    crossed = np.array([any((i - j) * (at - other) < 0 for j, other in enumerate(places)) for i, at in enumerate(places)])
    drawn = np.random.default_rng(1879).uniform(-BEND, BEND, (TRIES, len(places))) * crossed
    return drawn[_room(_crossing_points(places, drawn)).argmax()]


def crossing_points(places: tuple[int, ...]) -> np.ndarray:
    """Where strings cross: how far across, in steps, and which part of the way down. Shape (crossings, 2)."""
    return _crossing_points(places, bends(places)[None])[0]


def _crossing_points(places: tuple[int, ...], bent: np.ndarray) -> np.ndarray:
    """The same for several ways to bend the strings, (ways, strings): shape (ways, crossings, 2); found by halving."""
    pairs = [(i, j) for i, j in combinations(range(len(places)), 2) if places[i] > places[j]]
    one, other = np.array(pairs, dtype=int).reshape(-1, 2).T
    apart, together = other - one, (np.array(places)[one] - np.array(places)[other]) + other - one
    bent_apart = bent[:, one] - bent[:, other]
    low, high = np.zeros(bent_apart.shape), np.ones(bent_apart.shape)
    for _ in range(20):
        middle = (low + high) / 2
        before = together * middle + bent_apart * np.sin(np.pi * middle) < apart
        low, high = np.where(before, middle, low), np.where(before, high, middle)
    across = one + (np.array(places)[one] - one) * low + bent[:, one] * np.sin(np.pi * low)
    return np.stack([across, low], axis=-1)


def _room(points: np.ndarray) -> np.ndarray:
    """For each way the least distance between two crossings, in steps, where a way down counts as three. Shape (ways,)."""
    one, other = np.triu_indices(points.shape[1], 1)
    gaps = np.linalg.norm((points[:, one] - points[:, other]) * (1.0, 3.0), axis=2)
    return gaps.min(axis=1, initial=9.0)


def _places(before: Sequence[str], after: Sequence[str]) -> tuple[int, ...]:
    """The place after of each piece of the row before."""
    if len(set(before)) < len(before) or sorted(before) != sorted(after):
        rows = f"{quoted(' '.join(before))} and {quoted(' '.join(after))}"
        raise BadOption(f"strings join the same pieces, all different, in both rows, but these are {rows}")
    return tuple(list(after).index(word) for word in before)


def _piece(ax: Axes, at: Spot, word: str, colour: str, edge: str) -> None:
    outline = rounded_box(0.86, 0.86, 0.1) if word else rounded_box(0.8, 0.8, 0.1)
    lay_shapes(ax, at, [outline], [colour], edge, 5)
    write(ax, at.x, at.y, word, size=72 * INCHES * at.scale * min(0.4, 0.9 / max(1, len(word))), color=ink_on(colour), zorder=5.1)
