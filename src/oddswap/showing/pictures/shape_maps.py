"""Shapes as places and turns as lines between them: the map around home, and a walk with its distance from home."""

from __future__ import annotations

from collections.abc import Callable
from itertools import accumulate

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from oddswap.errors import BadOption
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.shape_tree import STAGES, around_home
from oddswap.puzzles.base.shapes import Shaped
from oddswap.reasoning.teaching.shape_map import ShapeMap, shape_map
from oddswap.showing.ink.camera import cameras, reach
from oddswap.showing.ink.canvas import sheet, wrapped, write
from oddswap.showing.ink.cards import MARGIN
from oddswap.showing.ink.flat import centred, colours_by_paint, extent, lay_flat
from oddswap.showing.ink.painting import Inks, Spot, paint
from oddswap.showing.ink.palette import BACKDROP, CUT, FAINT_INK, PAPER
from oddswap.showing.ink.scene import scene
from oddswap.values.position import Arrangement
from oddswap.words.pictures import distance_words, map_heading, map_key

PER_ROW, LONGEST = 6, 11
"""So many places stand beside each other, and a walk has at most so many turns."""
APART, DOWN, LINE = 0.16, 0.36, 0.14
"""What lies between pictures and between rows, and from line to line, in shares of a picture's side."""
SMALL, UP = 7.5, 0.42
"""Points of the small print of a map, in shares as well; how much higher a walk stands for each turn from home."""

Told = Callable[[Puzzle, Arrangement], str]
"""What to say of a puzzle and an arrangement whose shape is home."""


def draw_map(puzzle: Shaped, levels: int = 2, *, side: float = 1.25, ax: Axes | None = None) -> Figure:
    """The shapes at most so many turns from home, one picture for all that are alike, home on top.

    A line leads to a shape that is further from home, by the last of the turns that stand under it. Turns that lead from a shape
    to others on the map are named with their numbers. Pictures are ``side`` wide.

    >>> from oddswap import draw
    >>> figure = draw.draw_map("cuboid:1x3x3,turns=all")
    """
    found = shape_map(puzzle, levels)
    rows, others = _rows(found), [_others(found, number, side) for number in range(len(found.places))]
    foot = side * (0.26 + LINE * max(1 + words.count("\n") for words in others))
    wide, high = side * (1 + APART), side * (1 + DOWN) + foot
    ax = sheet(2 * MARGIN + max(4, *map(len, rows)) * wide, 3 * MARGIN + len(rows) * high + 0.3 * side, ax)
    middle, top = ax.get_xlim()[1] / 2, ax.get_ylim()[1] - MARGIN
    write(ax, middle, top, map_heading(puzzle.title), va="top", size=12 * side, weight="bold")
    top -= MARGIN + 0.3 * side
    spots = [(middle + (i - (len(row) - 1) / 2) * wide, top - j * high) for j, row in enumerate(rows) for i in range(len(row))]
    pale = Inks(colours_by_paint(puzzle), faded=frozenset(range(len(puzzle.slots))))
    for number, place in enumerate(found.places):
        x, y = spots[number]
        if number:
            before, low = spots[found.parents[number]]
            ax.plot([before, x], [low - side - foot, y], lw=1.3 * side, color=CUT, zorder=1)
        _lay(ax, puzzle, puzzle.arrangement(found.shapes.frames(np.array([place.shape]))[0]), pale, (x, y), side, foot)
        write(ax, x - 0.46 * side, y - 0.09 * side, str(number or ""), ha="left", size=8 * side, color=FAINT_INK)
        words = " ".join(place.word) or "home"
        words = f"… {place.word[-1]}" if "\n" in wrapped(words, side, 9 * side, "bold") else words
        write(ax, x, y - 1.12 * side, words, size=9 * side, weight="bold")
        write(ax, x, y - 1.22 * side, others[number], va="top", size=SMALL * side, color=FAINT_INK, linespacing=1.25)
    named = [word for words in others for word in words.split() if "→" in word]
    key = wrapped(map_key(found.shapes.levels, found.shapes.whole, levels, named), 2 * middle - MARGIN, 8 * side)
    write(ax, middle, MARGIN, key, size=8 * side, color=FAINT_INK, linespacing=1.25)
    return ax.figure


def draw_walk(
    puzzle: Shaped, moves: str = "", start: Arrangement | None = None, *, told: Told | None = None, ax: Axes | None = None
) -> Figure:
    """The shapes that one comes to by ``moves`` from ``start`` (solved when left out), higher up the further from home.

    Where the shape is home, ``told`` says something of the arrangement. At most ``LONGEST`` turns: `BadOption`.

    >>> from oddswap import draw
    >>> figure = draw.draw_walk("cuboid:1x3x3,turns=all", "B F' U2 F B'")
    """
    turns = puzzle.settled(moves, start)[0]
    if len(turns) > LONGEST:
        raise BadOption(f"{len(turns)} turns are too many for one picture: write at most {LONGEST}")
    images = list(
        accumulate(turns, lambda image, turn: turn.permutation[image], initial=puzzle.permutation(start or puzzle.solved))
    )
    shapes = around_home(puzzle, STAGES[0])
    numbers = shapes.find(np.array([puzzle.shape_of(image) for image in images]))
    levels = np.where(numbers < 0, len(shapes.levels), np.searchsorted(np.cumsum(shapes.levels), numbers, side="right"))
    foot = 0.5
    ax = sheet(2 * MARGIN + 1.4 * len(images) - 0.4, 2 * MARGIN + 1 + foot + UP * levels.max() + 0.2, ax)
    spots = [(MARGIN + 0.5 + 1.4 * i, MARGIN + foot + 1 + UP * level) for i, level in enumerate(levels)]
    inks = Inks(colours_by_paint(puzzle))
    ax.plot([0, ax.get_xlim()[1]], [MARGIN + foot] * 2, lw=1.2, color=CUT, zorder=1)
    for (x, y), (to, high), turn in zip(spots, spots[1:], turns, strict=False):
        ax.plot([x + 0.5, to - 0.5], [y - 0.5, high - 0.5], lw=2, color=CUT, zorder=1)
        write(ax, (x + to) / 2, (y + high) / 2 - 0.32, turn.name, size=12, weight="bold")
    for (x, y), image, level in zip(spots, images, levels, strict=True):
        state = puzzle.arrangement(image)
        _lay(ax, puzzle, state, inks, (x, y), 1.0, 0.0)
        words = distance_words(int(level)) if level or told is None else told(puzzle, state)
        write(ax, x, y - 1.06, wrapped(words, 1.3, 9.5), va="top", size=9.5, color=FAINT_INK, linespacing=1.25)
    return ax.figure


def _lay(ax: Axes, puzzle: Puzzle, state: Arrangement, inks: Inks, at: tuple[float, float], side: float, foot: float) -> None:
    """A paper card whose upper edge has its middle ``at`` some place, with a picture on it."""
    x, top = at
    ax.add_patch(Rectangle((x - side / 2, top - side - foot), side, side + foot, facecolor=PAPER, lw=0, zorder=1.5))
    ax.add_patch(Rectangle((x - side / 2, top - side), side, side, facecolor=BACKDROP, lw=0, zorder=1.6))
    middle = top - side / 2
    if puzzle.geometry is None:
        lay_flat(ax, puzzle, state, inks, centred(puzzle.flat, x, middle, 0.46 * side / max(extent(puzzle.flat))))
    else:
        paint(ax, scene(puzzle, state, cameras(puzzle)[0]).open(), inks, Spot(x, middle, 0.46 * side / reach(puzzle)))


def _rows(found: ShapeMap) -> list[list[int]]:
    """The places level by level; a long level takes several rows."""
    rows: list[list[int]] = []
    for level in range(found.places[-1].level + 1):
        row = [number for number, place in enumerate(found.places) if place.level == level]
        rows += [part.tolist() for part in np.array_split(row, -(-len(row) // PER_ROW))]
    return rows


def _others(found: ShapeMap, number: int, side: float) -> str:
    """How many shapes a place stands for, and turns from there to others that no line shows, one for each, in lines that fit."""
    shown = found.parents[number], *(b for b, before in enumerate(found.parents) if before == number), number
    links = [f"{turns[0]}→{b}" for (a, b), turns in found.links.items() if a == number and b not in shown]
    alike = found.places[number].alike
    return "\n".join(filter(None, (f"one of {alike}" * (alike > 1), wrapped(" ".join(links), 0.98 * side, SMALL * side))))
