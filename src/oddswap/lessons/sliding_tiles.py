"""The chequering of a board, and the blank's walk over it: each slide takes the blank to a slot of the other colour.

How far a puzzle spreads: how many of its arrangements can be reached by one slide, by two, and so on until no more come.

Exercises about tiles: arrangements that slides reach, swaps that sort a row, cycles of a given length.
"""

import re
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import FancyArrowPatch
from matplotlib.patheffects import withStroke

from oddswap.errors import BadOption, quoted
from oddswap.lessons.machinery.exercises import parts, written
from oddswap.puzzles.base.space import rounded_box
from oddswap.puzzles.catalogue import load
from oddswap.puzzles.flat.graphs import GraphPuzzle
from oddswap.reasoning.laws.law_book import law_book
from oddswap.showing.ink.arrows import slid
from oddswap.showing.ink.canvas import FONT, INCHES, lay_polygons, sheet, write
from oddswap.showing.ink.palette import BODY, FAINT_INK, HIGHLIGHT, INK, PALETTE, PAPER, TABLE, ink_on
from oddswap.showing.ink.widgets import Hint, Note, kindly
from oddswap.showing.pictures.strings import crossings, describe_crossings, row_of
from oddswap.values.grammar import counted, listed
from oddswap.values.position import Arrangement

LIGHT, DARK = "#F7F4EC", "#6B7480"
"""The two colours of slots: the blank's home is light."""
STEP, MARGIN = 0.62, 0.3


def chequers(puzzle: GraphPuzzle) -> tuple[int, ...]:
    """For each slot 0 if it has the colour of the blank's home, else 1, so that no two neighbours agree.

    `BadOption` where no such colouring exists: where a walk of an odd number of slides comes back.

    >>> from oddswap import load
    >>> chequers(load("tiles:2x3"))
    (1, 0, 1, 0, 1, 0)
    """
    colour = {puzzle.blank: 0}
    for slot in (queue := [puzzle.blank]):
        for other in puzzle.neighbours[slot]:
            if other not in colour:
                colour[other] = 1 - colour[slot]
                queue.append(other)
    for one, other in puzzle.edges:
        if colour[one] == colour[other]:
            raise BadOption(f"{puzzle.name} cannot be chequered: {puzzle.slots[one]} and {puzzle.slots[other]} would agree")
    return tuple(colour[slot] for slot in range(len(puzzle.slots)))


def draw_chequers(puzzle: GraphPuzzle, moves: str = "") -> Figure:
    """The slots of a board of tiles in two colours, and the blank's walk by ``moves`` from its home.

    Each slot bears the numbers of slides after which the blank was there.

    >>> from oddswap import lessons
    >>> figure = lessons.draw_chequers("tiles:3x3", "r3c2 r2c2 r2c3 r3c3")
    """
    walk = blank_walk(puzzle, moves)
    low, high = puzzle.flat.positions.min(axis=0) - 0.5, puzzle.flat.positions.max(axis=0) + 0.5
    size = STEP * (high - low) + 2 * MARGIN
    ax = sheet(*size)
    at = MARGIN + STEP * (puzzle.flat.positions - low)
    inks = [(LIGHT, DARK)[colour] for colour in chequers(puzzle)]
    cell = STEP * rounded_box(1.0, 1.0, 0.02)
    lay_polygons(ax, [cell + middle for middle in at], facecolors=inks, edgecolors=BODY, linewidths=1.0)
    for one, other in pairwise(walk):
        _arrow(ax, at[one], at[other])
    for slot, middle in enumerate(at):
        numbers = [str(i) for i, there in enumerate(walk) if there == slot]
        text = "\n".join(", ".join(numbers[i : i + 2]) for i in range(0, len(numbers), 2))
        write(ax, *middle, text, size=72 * INCHES * STEP * (0.3 if len(numbers) < 3 else 0.2), color=ink_on(inks[slot]), zorder=4)
    return ax.figure


def blank_walk(puzzle: GraphPuzzle, moves: str) -> tuple[int, ...]:
    """The slots where the blank is, from its home on, after each of the moves."""
    return puzzle.blank, *(origin for origin, _ in slid(puzzle, puzzle.solved, puzzle.settled(moves)[0]))


def _arrow(ax: Axes, one: np.ndarray, other: np.ndarray) -> None:
    """From the rim of the number in one cell to that in the next, a little to the left of the straight way."""
    along = (other - one) / np.linalg.norm(other - one)
    aside = 0.13 * STEP * np.array([-along[1], along[0]])
    ends = one + 0.3 * STEP * along + aside, other - 0.3 * STEP * along + aside
    style = {"arrowstyle": "-|>", "mutation_scale": 11, "shrinkA": 0, "shrinkB": 0, "zorder": 3}
    cased = [withStroke(linewidth=4.5, foreground=PAPER)]
    ax.add_patch(FancyArrowPatch(*ends, color=HIGHLIGHT, lw=2.0, path_effects=cased, **style))


def draw_levels(counts: Sequence[int], of: int, upto: int | None = None) -> Figure:
    """``counts[d]`` arrangements need d slides; those up to ``upto`` slides (all, when left out) are coloured and added up.

    ``of`` is how many positions there would be if tiles could also be lifted.

    >>> from oddswap import lessons
    >>> figure = lessons.draw_levels([1, 2, 3, 5], 720, 2)
    """
    upto = len(counts) - 1 if upto is None else upto
    figure = Figure(figsize=(7.0, 3.3), facecolor=TABLE)
    ax = figure.add_axes((0.08, 0.17, 0.89, 0.57), facecolor=TABLE)
    inks = [PALETTE["sky blue"] if d <= upto else PAPER for d in range(len(counts))]
    ax.bar(range(len(counts)), counts, color=inks, edgecolor=BODY, linewidth=0.8, width=0.86)
    ax.set_xlim(-0.7, max(len(counts), upto + 1) - 0.3)
    ax.set_xticks(range(0, len(counts), 1 + len(counts) // 24))
    ax.spines[["top", "right"]].set_visible(False)
    ax.tick_params(labelsize=8, colors=INK)
    for label in (*ax.get_xticklabels(), *ax.get_yticklabels()):
        label.set_family(FONT)
    write(ax, 0.5, -0.24, "fewest slides that lead there", size=8.5, color=FAINT_INK, transform=ax.transAxes)
    write(ax, 0.0, 1.25, levels_words(counts, of, upto), size=11, weight="bold", ha="left", transform=ax.transAxes)
    return figure


def levels_words(counts: Sequence[int], of: int, upto: int) -> str:
    """What up to so many slides reach, in words.

    >>> levels_words([1, 2, 3, 5], 720, 2)
    'after at most 2 slides: 6 arrangements of 720'
    """
    return f"after at most {counted(upto, 'slides')}: {counted(sum(counts[: upto + 1]), 'arrangements')} of {of}"


BLANK = "-"
BLANKS = ("-", "–", "−", "_", ".", "blank")
"""How the blank may be written."""
MOST = 200
"""So many swaps are read at most."""


@kindly
def check_places(answer: str, one: str, other: str, *, name: str = "tiles:3x3") -> Note:
    """Whether an arrangement has these two in each other's places and slides reach it.

    The tiles are written slot after slot, with ``-`` for the blank.

    >>> check_places("2 1 3 4 5 6 7 8 -", "1", "2")
    Not yet. Your strings have 1 crossing: odd. The blank is in a light slot, which asks for
    an even number, so no slides lead there. One more swap would make it even.
    """
    puzzle = load(name)
    state = _read(answer, puzzle)
    home, row = row_of(puzzle, puzzle.solved), row_of(puzzle, state)
    for tile, place in ((one, other), (other, one)):
        if row[home.index(place)] != tile:
            return Note(f"Not yet. Tile {tile} should be where tile {place} belongs, in slot {puzzle.slots[home.index(place)]}.")
    if not law_book(puzzle).reaches(state):
        colour = chequers(puzzle)[state.pieces.index(puzzle.blank)]
        wanted, shade = ("even", "odd")[colour], ("light", "dark")[colour]
        told = f"Your strings have {describe_crossings(crossings(home, row))}. The blank is in a {shade} slot, which asks for"
        return Note(f"Not yet. {told} an {wanted} number, so no slides lead there. One more swap would make it {wanted}.")
    return Note(f"Yes: {one} and {other} have changed places, and slides lead there.")


@kindly
def check_sorting(answer: str, row: str, count: int) -> Note:
    """Whether exactly ``count`` swaps (pairs of tiles, separated by commas) sort a ``row`` of different numbers.

    >>> check_sorting("1 2", "3 2 1", 3)
    Not yet. After your 1 swap the row is 3 1 2.
    """
    tiles = row.split()
    pairs = [pair.split() for pair in parts(answer, "pairs of tiles such as: 1 3, 2 5")]
    if len(pairs) > MOST:
        return Note(f"These are {len(pairs)} swaps: at most {MOST} are read.")
    for pair in pairs:
        if len(pair) != 2 or pair[0] == pair[1] or not set(pair) <= set(tiles):
            wrong = quoted(" ".join(pair))
            return Note(f"Each swap names two different tiles of {row}, as in: 1 3. In your answer there is {wrong}.")
    now = list(tiles)
    for one, other in pairs:
        a, b = now.index(one), now.index(other)
        now[a], now[b] = other, one
    goal, many = sorted(tiles, key=int), counted(len(pairs), "swaps")
    if now != goal:
        wrong = (len(pairs) - crossings(goal, tiles)) % 2
        law = f" And no {'odd' if len(pairs) % 2 else 'even'} number of swaps can ever sort it: look at its crossings."
        return Note(f"Not yet. After your {many} the row is {' '.join(now)}.{law * wrong}")
    if len(pairs) != count:
        why = "one alone can never be added, because every swap changes the number of crossings by an odd number"
        told = "A swap that the next one undoes adds two at a time"
        return Note(f"Sorted, but by {many} where {count} are asked for. {told}; {why}.")
    start = f"At the start there were {describe_crossings(crossings(goal, tiles))}"
    return Note(f"Yes: sorted by {many}. {start}. The two numbers are always odd together or even together.")


def _read(answer: object, puzzle: GraphPuzzle) -> Arrangement:
    """The arrangement that is written; `Hint` on what is missing."""
    home = [word or BLANK for word in row_of(puzzle, puzzle.solved)]
    text = re.sub(r"[\s,;/|]+", " ", "" if answer is None else str(answer))
    such = f"the tiles row by row, with {BLANK} for the blank, such as: {' '.join(home)}"
    words = [BLANK if word in BLANKS else word for word in written(text, such).split()]
    if strangers := [word for word in words if word not in home]:
        tiles = " ".join(word for word in home if word != BLANK)
        raise Hint(f"There is no tile {quoted(strangers[0])} on this tray. Its tiles are {tiles}; write {BLANK} for the blank.")
    twice, missing = [w for w in home if words.count(w) > 1], [w for w in home if w not in words]
    if twice or missing:
        wrong = [f"{told} {listed(them)}" for told, them in (("too often", twice), ("missing", missing)) if them]
        raise Hint(f"Write each tile once, and {BLANK} for the blank: {', and '.join(wrong)}.")
    return replace(puzzle.solved, pieces=tuple(home.index(word) for word in words))
