"""Maps: what a puzzle's facets and slots are called; shapes and the turns between them; a walk with its distance from home."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from oddswap.errors import BadOption
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.shape_tree import STAGES, around_home
from oddswap.puzzles.base.shapes import Shaped
from oddswap.reasoning.teaching.shape_map import ShapeMap, shape_map
from oddswap.showing.ink.camera import Camera, cameras, reach
from oddswap.showing.ink.canvas import INCHES, sheet, text_size, wrapped, write
from oddswap.showing.ink.cards import MARGIN
from oddswap.showing.ink.flat import colours_by_paint, draw_ground, lay_flat, lay_shapes, placed, spot_within
from oddswap.showing.ink.outline import within
from oddswap.showing.ink.painting import Inks, Spot, box_of, paint
from oddswap.showing.ink.palette import BACKDROP, BODY, CUT, FAINT_INK, INK, PAPER, colours_for
from oddswap.showing.ink.scene import Scene, scene
from oddswap.showing.pictures.strip import states_along
from oddswap.values.numbers import Measure
from oddswap.values.position import Arrangement
from oddswap.words.pictures import distance_words, map_heading, map_key, names_words

SMALL_SIDE, SIDE, GAP, EDGE, HEAD, FOOT = 1.9, 3.3, 0.12, 0.22, 0.34, 0.3
ROOMY = 1.1
"""How much broader a picture is than the solid on it."""
SIZES = np.arange(9.0, 4.0, -0.25)
"""Sizes of a slot's name that are tried, in points."""
CLEAR = 6.0
"""A smaller name is written only on the picture where it can be written largest."""
BADGE = {"boxstyle": "round,pad=0.25", "facecolor": PAPER, "edgecolor": BODY, "linewidth": 0.8}

Name = tuple[np.ndarray, str, float]
"""Where on the sheet a name stands, the name, and its size in points."""


def draw_names(puzzle: Puzzle, *, ax: Axes | None = None) -> Figure:
    """The solved puzzle with the names of its facets, and paler with the names of its slots wherever there is room.

    What has no solid is seen from above, with the names of its slots.

    >>> from oddswap import draw
    >>> figure = draw.draw_names("tetrahedron")
    """
    if puzzle.geometry is None:
        return _draw_places(puzzle, ax)
    width = 2 * EDGE + 2 * SIDE + GAP
    ax = sheet(width, 2 * EDGE + 2 * HEAD + SMALL_SIDE + SIDE + FOOT, ax)
    top = ax.get_ylim()[1] - EDGE
    seen = [scene(puzzle, puzzle.solved, camera).open() for camera in cameras(puzzle)]
    colours, every = colours_for(puzzle), frozenset(range(len(puzzle.slots)))
    write(ax, EDGE, top - HEAD / 2, f"Facets of the {puzzle.title}", ha="left", size=11, weight="bold")
    for one, spot in zip(seen, _lay_row(ax, seen, Inks(colours), top - HEAD, SMALL_SIDE), strict=True):
        for at, text, size in _facet_names(puzzle, one.camera, spot):
            write(ax, *at, text, size=size, color=INK, weight="bold", bbox=BADGE, zorder=3.0)
    top -= HEAD + SMALL_SIDE
    write(ax, EDGE, top - HEAD / 2, "and its slots", ha="left", size=11, weight="bold")
    spots = _lay_row(ax, seen, Inks(colours, faded=every), top - HEAD, SIDE)
    names = [name for one, spot in zip(seen, spots, strict=True) for name in _slot_names(puzzle, one, spot)]
    largest: dict[str, float] = {}
    for _, text, size in names:
        largest[text] = max(size, largest.get(text, 0.0))
    for at, text, size in names:
        if size >= min(CLEAR, largest[text]):
            write(ax, *at, text, size=size, color=INK, zorder=3.0)
    words = names_words(any("." in slot for slot in puzzle.slots), len(puzzle.slots) - len(puzzle.void) - len(largest))
    write(ax, width / 2, EDGE + FOOT / 3, words, size=8, color=FAINT_INK)
    return ax.figure


def _lay_row(ax: Axes, seen: list[Scene], inks: Inks, top: float, side: float) -> list[Spot]:
    """Pictures beside each other in the middle of the sheet, in squares below ``top``; returns where they stand."""
    wide = max(np.abs(np.concatenate(one.outlines())).max() for one in seen)
    spots = []
    for i, one in enumerate(seen):
        spot = Spot(ax.get_xlim()[1] / 2 + (i - 0.5) * (side + GAP), top - side / 2, side / 2 / (ROOMY * wide))
        ax.add_patch(Rectangle((spot.x - side / 2, spot.y - side / 2), side, side, facecolor=BACKDROP, lw=0))
        paint(ax, one, inks, spot)
        spots.append(spot)
    return spots


def _facet_names(puzzle: Puzzle, camera: Camera, spot: Spot) -> Iterator[Name]:
    """The names of the facets that look towards the eye, in their middles."""
    bodies = puzzle.geometry.bodies
    for facet, normal in puzzle.geometry.facets.items():
        faces = [face for body in bodies for face in body.faces if face.facet == facet]
        areas = np.array([face.area for face in faces])
        middle = areas @ np.array([face.centre for face in faces]) / areas.sum()
        if (camera.eye - middle) @ normal > 0:
            yield spot.place(camera.project(middle)), facet, 9.0


def _slot_names(puzzle: Puzzle, seen: Scene, spot: Spot) -> Iterator[Name]:
    """The name of each slot that shows, on that of its stickers where it can be written largest."""
    largest: dict[int, Name] = {}
    for panel, outline in zip(seen.panels, seen.outlines(), strict=True):
        if panel.role == "sticker":
            outline, name = spot.place(outline), puzzle.slots[panel.slot]
            at = outline.mean(axis=0)
            size = next((size for size in SIZES if within(outline, box_of(at, name, size)).all()), 0.0)
            if size > (largest[panel.slot][2] if panel.slot in largest else 0.0):
                largest[panel.slot] = at, name, float(size)
    return iter(largest.values())


def _draw_places(puzzle: Puzzle, ax: Axes | None) -> Figure:
    layout = puzzle.flat
    spot, width, height = placed(layout)
    ax = sheet(width, height, ax)
    draw_ground(ax, layout, spot)
    room = np.ptp(layout.outline[:, 0]) * 0.8 * spot.scale * 72 * INCHES
    for slot, at in zip(puzzle.slots, spot.place(layout.positions), strict=True):
        lay_shapes(ax, Spot(*at, spot.scale), [layout.outline], [PAPER], BODY, 2.0)
        across, up = text_size(slot)
        write(ax, *at, slot, size=min(room / across, room / 2 / up), color=INK, zorder=3.0)
    return ax.figure


PER_ROW, LONGEST = 6, 11
"""So many places stand beside each other, and a walk has at most so many turns."""
APART, DOWN, LINE = 0.16, 0.36, 0.14
"""What lies between pictures and between rows, and from line to line, in shares of a picture's side."""
SMALL, UP = 7.5, 0.42
"""Points of the small print of a map, in shares as well; how much higher a walk stands for each turn from home."""

Told = Callable[[Puzzle, Arrangement], str]
"""What to say of a puzzle and an arrangement whose shape is home."""


def draw_map(puzzle: Shaped, levels: int = 2, *, side: Measure = 1.25, ax: Axes | None = None) -> Figure:
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
    images = list(map(puzzle.permutation, states_along(puzzle, start or puzzle.solved, zip(turns))))
    shapes = around_home(puzzle, STAGES[0])
    numbers = shapes.find(np.array([puzzle.shape_of(image) for image in images]))
    levels = np.where(numbers < 0, len(shapes.levels), np.searchsorted(np.cumsum(shapes.levels), numbers, side="right"))
    foot = 0.5
    ax = sheet(2 * MARGIN + 1.4 * len(images) - 0.4, 2 * MARGIN + 1 + foot + UP * levels.max() + 0.2, ax)
    spots = [(MARGIN + 0.5 + 1.4 * i, MARGIN + foot + 1 + UP * level) for i, level in enumerate(levels)]
    inks = Inks(colours_by_paint(puzzle))
    ax.apply_aspect()
    broad = 1.3 * ax.get_position().width * ax.figure.get_figwidth() / INCHES / ax.get_xlim()[1]
    ax.plot([0, ax.get_xlim()[1]], [MARGIN + foot] * 2, lw=1.2, color=CUT, zorder=1)
    for (x, y), (to, high), turn in zip(spots, spots[1:], turns, strict=False):
        ax.plot([x + 0.5, to - 0.5], [y - 0.5, high - 0.5], lw=2, color=CUT, zorder=1)
        write(ax, (x + to) / 2, (y + high) / 2 - 0.32, turn.name, size=12, weight="bold")
    for (x, y), image, level in zip(spots, images, levels, strict=True):
        state = puzzle.arrangement(image)
        _lay(ax, puzzle, state, inks, (x, y), 1.0, 0.0)
        words = distance_words(int(level)) if level or told is None else told(puzzle, state)
        clear = {"facecolor": ax.figure.get_facecolor(), "lw": 0, "pad": 1}  # of the line at home, where the words are low
        write(ax, x, y - 1.06, wrapped(words, broad, 9.5), va="top", size=9.5, color=FAINT_INK, linespacing=1.25, bbox=clear)
    return ax.figure


def _lay(ax: Axes, puzzle: Puzzle, state: Arrangement, inks: Inks, at: tuple[float, float], side: float, foot: float) -> None:
    """A paper card whose upper edge has its middle ``at`` some place, with a picture on it."""
    x, top = at
    ax.add_patch(Rectangle((x - side / 2, top - side - foot), side, side + foot, facecolor=PAPER, lw=0, zorder=1.5))
    ax.add_patch(Rectangle((x - side / 2, top - side), side, side, facecolor=BACKDROP, lw=0, zorder=1.6))
    middle = top - side / 2
    if puzzle.geometry is None:
        lay_flat(ax, puzzle, state, inks, spot_within(puzzle, (x - 0.46 * side, middle - 0.46 * side, 0.92 * side, 0.92 * side)))
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
