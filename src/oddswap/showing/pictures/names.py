"""What a puzzle's facets and slots are called, on a picture: of a solid from the prints' two points of view."""

from collections.abc import Iterator

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.showing.ink.camera import Camera, cameras
from oddswap.showing.ink.canvas import INCHES, sheet, text_size, write
from oddswap.showing.ink.flat import draw_ground, lay_shapes, placed
from oddswap.showing.ink.outline import within
from oddswap.showing.ink.painting import Inks, Spot, box_of, paint
from oddswap.showing.ink.palette import BACKDROP, BODY, FAINT_INK, INK, PAPER, colours_for
from oddswap.showing.ink.scene import Scene, scene
from oddswap.words.pictures import names_words

SMALL_SIDE, SIDE, GAP, MARGIN, HEAD, FOOT = 1.9, 3.3, 0.12, 0.22, 0.34, 0.3
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
    width = 2 * MARGIN + 2 * SIDE + GAP
    ax = sheet(width, 2 * MARGIN + 2 * HEAD + SMALL_SIDE + SIDE + FOOT, ax)
    top = ax.get_ylim()[1] - MARGIN
    seen = [scene(puzzle, puzzle.solved, camera).open() for camera in cameras(puzzle)]
    colours, every = colours_for(puzzle), frozenset(range(len(puzzle.slots)))
    write(ax, MARGIN, top - HEAD / 2, f"Facets of the {puzzle.title}", ha="left", size=11, weight="bold")
    for one, spot in zip(seen, _lay_row(ax, seen, Inks(colours), top - HEAD, SMALL_SIDE), strict=True):
        for at, text, size in _facet_names(puzzle, one.camera, spot):
            write(ax, *at, text, size=size, color=INK, weight="bold", bbox=BADGE, zorder=3.0)
    top -= HEAD + SMALL_SIDE
    write(ax, MARGIN, top - HEAD / 2, "and its slots", ha="left", size=11, weight="bold")
    spots = _lay_row(ax, seen, Inks(colours, faded=every), top - HEAD, SIDE)
    names = [name for one, spot in zip(seen, spots, strict=True) for name in _slot_names(puzzle, one, spot)]
    largest: dict[str, float] = {}
    for _, text, size in names:
        largest[text] = max(size, largest.get(text, 0.0))
    for at, text, size in names:
        if size >= min(CLEAR, largest[text]):
            write(ax, *at, text, size=size, color=INK, zorder=3.0)
    words = names_words(any("." in slot for slot in puzzle.slots), len(puzzle.slots) - len(puzzle.void) - len(largest))
    write(ax, width / 2, MARGIN + FOOT / 3, words, size=8, color=FAINT_INK)
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
