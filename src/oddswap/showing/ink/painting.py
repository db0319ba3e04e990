"""A scene on paper: which pieces are marked, which ink each panel gets, and all laid on in painter's order."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import takewhile
from types import MappingProxyType

import numpy as np
from matplotlib.axes import Axes
from matplotlib.colors import to_rgba

from oddswap.puzzles.base.mechanism import Body, Mark
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.laws.lookalikes import lookalikes
from oddswap.showing.ink.canvas import INCHES, lay_polygons, text_size, write
from oddswap.showing.ink.outline import level_on, rims_of, stripes, within
from oddswap.showing.ink.palette import BODY, CUT, HIGHLIGHT, PAPER, UNKNOWN, ink_on, mix
from oddswap.showing.ink.scene import Panel, Scene
from oddswap.values.position import START, Holding

HATCHES: Mapping[str, float] = MappingProxyType({"twins": 45.0, "hidden turns": -45.0})
"""The way of the stripes, in degrees, that tells the lookalikes of an x-ray; what is both is crossed."""
FADED = 0.62
SIZES = np.array([1.0, 0.87, 0.75, 0.62, 0.54])
"""Sizes of letters that are tried, largest first, in shares of the size that is asked for."""
ASIDE, DASH = 0.55, 22.0
"""How far from the middle of a sticker towards its rim a letter goes when the middle is taken; the points of a dash."""
BOX = np.array([[x, y] for x in (-1, 0, 1) for y in (-1, 0, 1)])
LIGHT = np.array([0.35, 0.85, 0.4])


@dataclass(frozen=True, eq=False)
class Inks:
    """How to ink the panels of a scene.

    ``colours`` of the paints; ``hatched`` gives for a piece the keys of `HATCHES`; ``highlight`` are slots whose
    outlines are coloured, ``marked`` those with a two-tone mark along their outline, which nearer pieces hide, and how strong it
    is (0 to 1); ``faded`` are slots drawn paler, and with ``lifted`` so is all but the slabs that turn; ``letters`` names each
    sticker's colour by its facet, as hands call it that hold the puzzle so, or those of the slots given.
    """

    colours: Mapping[str, str]
    hatched: Mapping[int, tuple[str, ...]] = field(default_factory=dict)
    highlight: frozenset[int] = frozenset()
    lifted: bool = False
    letters: bool | frozenset[int] = False
    faded: frozenset[int] = frozenset()
    marked: Mapping[int, float] = field(default_factory=dict)
    holding: Holding = START

    def pale(self, panel: Panel) -> bool:
        """Whether a panel is drawn paler."""
        return panel.slot in self.faded or self.lifted and not panel.moving

    def lettered(self, slot: int | None) -> bool:
        """Whether the stickers in a slot bear letters."""
        return self.letters if isinstance(self.letters, bool) else slot in self.letters


@dataclass(frozen=True)
class Spot:
    """Where on a sheet a scene goes: its middle, the length of one half-edge, and a tilt in degrees."""

    x: float
    y: float
    scale: float
    tilt: float = 0.0

    def place(self, points: np.ndarray) -> np.ndarray:
        """Picture points (..., 2) to the sheet."""
        c, s = np.cos(np.radians(self.tilt)), np.sin(np.radians(self.tilt))
        return self.scale * points @ np.array([[c, s], [-s, c]]) + (self.x, self.y)


def fitting(points: np.ndarray, middle: Sequence[float], side: float, tilt: float = 0.0) -> Spot:
    """Where a scene goes so that these points (k, 2) of its picture fill a square of this side round ``middle``."""
    low, high = points.min(axis=0), points.max(axis=0)
    spot = Spot(*middle, side / float((high - low).max()), tilt)
    across, up = spot.place((low + high) / 2) - middle
    return replace(spot, x=middle[0] - across, y=middle[1] - up)


def paint(ax: Axes, seen: Scene, inks: Inks, spot: Spot, *, zorder: float = 2.0, size: float = 8.0, frame: float = 0.0) -> None:
    """Lay a scene on a sheet; ``size`` is that of letters and question marks in points, less where room is scarce.

    ``frame`` is the height of the picture for which marks are drawn, that of the sheet when left out.
    """
    panels, polygons, faces = [], [], []
    for panel in seen.panels:
        for vertices, ink in _layers(panel, inks):
            panels.append(panel)
            polygons.append(vertices)
            faces.append(ink)
    ends = np.cumsum([len(polygon) for polygon in polygons])[:-1]
    outlines = np.split(spot.place(seen.camera.project(np.concatenate(polygons))), ends)
    edges = [_edge(face, panel, inks) for face, panel in zip(faces, panels, strict=True)]
    laid = _with_marks(
        panels, list(zip(outlines, faces, edges, [0.5] * len(faces), strict=True)), inks.marked, frame or ax.get_ylim()[1]
    )
    shapes, fills, rims, widths = zip(*laid, strict=True) if laid else ((), (), (), ())
    lay_polygons(ax, shapes, facecolors=fills, edgecolors=rims, linewidths=widths, zorder=zorder, joinstyle="round")
    layers = Layers.of(outlines)
    for i, panel in enumerate(panels):
        text = _letter(panel, inks) if polygons[i] is panel.vertices else ""
        last = i + sum(1 for _ in takewhile(lambda other, own=panel: other is own, panels[i + 1 :]))
        if text and (found := _room(layers, i, last, text, size)):
            at, fits = found
            patch = {"bbox": {"boxstyle": "square,pad=0.12", "facecolor": faces[i], "linewidth": 0}} if last > i else {}
            write(ax, *at, text, size=fits, color=ink_on(faces[i]), rotation=spot.tilt, zorder=zorder + 0.1, **patch)


def _with_marks(panels: list[Panel], laid: list[tuple], marked: Mapping[int, float], high: float) -> list[tuple]:
    """What is laid, (outline, fill, rim, breadth of the rim) each, with the mark of a slot after the last of its panels.

    A mark is a line H/98 broad in a casing of H/360, on a sheet ``high`` units of an inch.
    """
    last = {panel.slot: i for i, panel in enumerate(panels) if panel.slot in marked}
    found = []
    for i, (panel, shape) in enumerate(zip(panels, laid, strict=True)):
        found.append(shape)
        if last.get(panel.slot) == i:
            faces = [laid[j][0] for j, other in enumerate(panels) if other.slot == panel.slot and other.role == "body"]
            rings = rims_of(faces)
            for ink, broad in mark_lines(high):
                found += [(ring, "none", to_rgba(ink, marked[panel.slot]), broad) for ring in rings]
    return found


def mark_lines(high: float) -> tuple[tuple[str, float], ...]:
    """The lines of a mark, the casing first: their inks, and how broad they are in points."""
    return (PAPER, 72 * (high / 98 + high / 180)), (HIGHLIGHT, 72 * high / 98)


def lay_dashes(ax: Axes, outlines: Sequence[np.ndarray], strength: float, zorder: float) -> None:
    """The mark of a piece behind the puzzle: its outlines (k, 2) in dashes over all before it; none where it is seen."""
    if any(turns_left(outline) for outline in outlines):
        return
    for ink, broad in mark_lines(ax.get_ylim()[1]):
        dashes = (0, (DASH / broad, 0.7 * DASH / broad))
        style = {"edgecolors": [to_rgba(ink, strength)], "linewidths": [broad], "linestyles": [dashes], "capstyle": "butt"}
        lay_polygons(ax, rims_of(outlines), facecolors="none", zorder=zorder, **style)


def turns_left(outline: np.ndarray) -> bool:
    """Whether an outline (k, 2) runs anticlockwise, as those of faces do that look towards the eye."""
    x, y = (outline - outline.mean(axis=0)).T
    return float(x @ np.roll(y, -1) - y @ np.roll(x, -1)) > 0


def box_of(at: np.ndarray, text: str, size: float) -> np.ndarray:
    """The corners, the middles of the sides and the middle (9, 2) of a text's box round ``at`` on a sheet."""
    half = np.array(text_size(text)) * size / 72 / INCHES / 2
    return at + half * BOX


def letter_of(facet: str) -> str:
    """The name of a facet or a paint as it fits on a sticker: side7 as 7, row 2 as 2, and none longer than three letters."""
    return facet.removeprefix("side").rpartition(" ")[2][:3]


def _layers(panel: Panel, inks: Inks):
    """The polygons that a panel becomes, each with its ink."""
    ink = _ink(panel, inks)
    yield panel.vertices, ink
    if panel.role == "sticker" and panel.paint is not None:
        for key in inks.hatched.get(panel.piece, ()):
            for stripe in stripes(panel.vertices, HATCHES[key]):
                yield stripe, ink_on(ink)


def _ink(panel: Panel, inks: Inks) -> str:
    if panel.role == "body":
        ink = HIGHLIGHT if panel.slot in inks.highlight else BODY
    elif panel.role == "cut":
        area = np.cross(panel.vertices[1] - panel.vertices[0], panel.vertices[2] - panel.vertices[0])
        ink = mix(CUT, BODY, 0.5 - 0.5 * float(area @ LIGHT) / float(np.linalg.norm(area)))  # darker away from the light
    elif panel.paint is None:
        ink = UNKNOWN
    else:
        ink = inks.colours[panel.paint]
        ink = ink_on(ink) if panel.role == "mark" else ink
    return mix(ink, PAPER, FADED) if inks.pale(panel) else ink


def _edge(face: str, panel: Panel, inks: Inks) -> str:
    """Every body and cut face is outlined, in black unless it is highlighted; neighbours so leave no gap between them."""
    if panel.role == "cut":
        return mix(BODY, PAPER, FADED) if inks.pale(panel) else BODY
    return face if panel.role == "body" else "none"


def _letter(panel: Panel, inks: Inks) -> str:
    if panel.role != "sticker":
        return ""
    return "?" if panel.paint is None else letter_of(inks.holding.hand(panel.paint)) if inks.lettered(panel.slot) else ""


def _room(layers: Layers, i: int, last: int, text: str, size: float) -> tuple[np.ndarray, float] | None:
    """A place on outline i, the middle if it can be, and a size in points, for a text that nothing after ``last`` lies over."""
    outline = layers.outlines[i]
    middle = outline.mean(axis=0)
    spots = np.concatenate([[middle], middle + ASIDE * (outline - middle)])
    boxes = spots[:, None] + np.array([box_of(np.zeros(2), text, points) for points in SIZES * size])[:, None]
    for shrunk, place in np.argwhere(within(outline, boxes).all(axis=-1)).tolist():
        box = boxes[shrunk, place]
        over = layers.over(last, box.min(axis=0), box.max(axis=0))
        if not any(_meet(box, later) for later in over):
            return spots[place], float(SIZES[shrunk] * size)
    return None


def _meet(box: np.ndarray, outline: np.ndarray) -> bool:
    """Whether a convex outline (k, 2) lies over some of a box (9, 2) whose upright box it meets: no side parts them."""
    sides = np.roll(outline, -1, axis=0) - outline
    gaps = box[:, None] - outline
    return not (sides[:, 0] * gaps[..., 1] - sides[:, 1] * gaps[..., 0] <= 0).all(axis=0).any()


@dataclass(frozen=True, eq=False)
class Layers:
    """Outlines (k, 2) that were laid one over the other, and the corners (n, 2) of the upright boxes round them."""

    outlines: Sequence[np.ndarray]
    low: np.ndarray
    high: np.ndarray

    @classmethod
    def of(cls, outlines: Sequence[np.ndarray]) -> Layers:
        low, high = ([limit(outline, axis=0) for outline in outlines] for limit in (np.min, np.max))
        return cls(outlines, np.array(low).reshape(-1, 2), np.array(high).reshape(-1, 2))

    def over(self, i: int, low: np.ndarray, high: np.ndarray) -> Iterator[np.ndarray]:
        """The outlines laid after the i-th whose boxes meet the box from ``low`` to ``high``."""
        meets = (self.low[i + 1 :] < high).all(axis=1) & (self.high[i + 1 :] > low).all(axis=1)
        return (self.outlines[i + 1 + j] for j in meets.nonzero()[0])


LONG, BROAD, OFF, TILT = 0.36, 0.12, 0.24, 7.0
"""Half the length, half the breadth and the distance from the middle, in shares of the sticker's height; degrees."""
TEETH = 3


def hatched_pieces(puzzle: Puzzle, xray: bool | Iterable[str | int]) -> dict[int, tuple[str, ...]]:
    """For each piece (its home slot) with lookalikes the keys of its hatching.

    ``xray`` is True for all pieces, or names the home slots of those that are meant.
    """
    if xray is False:
        return {}
    alike = lookalikes(puzzle)
    twins = {piece for pieces in alike.twins for piece in pieces}
    chosen = range(len(puzzle.slots)) if xray is True else slot_numbers(puzzle, xray)
    reasons = {p: ("twins",) * (p in twins) + ("hidden turns",) * (p in alike.hidden_turns) for p in chosen}
    return {piece: keys for piece, keys in reasons.items() if keys}


def slot_numbers(puzzle: Puzzle, named: Iterable[str | int]) -> list[int]:
    """The numbers of slots given by name or number; `UnknownSlot` for one that the puzzle has not."""
    every = range(len(puzzle.slots))
    return [slot if slot in every else puzzle.slot(slot) for slot in named]


def with_tape(body: Body) -> Body:
    """The piece with a strip of tape on its largest sticker."""
    sticker = max((i for i, face in enumerate(body.faces) if face.facet), key=lambda i: body.faces[i].area)
    return replace(body, marks=(*body.marks, Mark(sticker, strip(body.faces[sticker].vertices, body.faces[sticker].normal))))


def strip(outline: np.ndarray, normal: np.ndarray) -> np.ndarray:
    """A strip of tape (k, 3) with torn ends, off the middle of a face, so that no turn of the face keeps it in place."""
    level, upwards = level_on(normal)
    size = float(np.ptp(outline @ upwards))
    heights = np.linspace(-BROAD, BROAD, 2 * TEETH + 1)
    right = np.stack([LONG + 0.03 * (-1.0) ** np.arange(2 * TEETH + 1), heights], axis=1)
    points = np.concatenate([right, right[::-1] * (-1, 1)])
    c, s = np.cos(np.radians(TILT)), np.sin(np.radians(TILT))
    points = size * (points @ np.array([[c, s], [-s, c]]) + (0.0, OFF))
    return outline.mean(axis=0) + points[:, :1] * level + points[:, 1:] * upwards
