"""A scene on paper: which ink each panel gets, and all of them laid on as one collection in painter's order."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

import numpy as np
from matplotlib.axes import Axes
from matplotlib.collections import PolyCollection

from oddswap.showing.canvas import INCHES, write
from oddswap.showing.outline import stripes, within
from oddswap.showing.palette import BODY, CUT, HIGHLIGHT, PAPER, UNKNOWN, ink_on, mix
from oddswap.showing.scene import Panel, Scene

HATCHES: Mapping[str, float] = MappingProxyType({"twins": 45.0, "hidden turns": -45.0})
"""The way of the stripes, in degrees, that tells the lookalikes of an x-ray; what is both is crossed."""
FADED = 0.62
LIGHT = np.array([0.35, 0.85, 0.4])


@dataclass(frozen=True, eq=False)
class Inks:
    """How to ink the panels of a scene.

    ``colours`` of the paints; ``hatched`` gives for a piece the keys of `HATCHES`; ``highlight`` are slots whose
    outlines are coloured; with ``lifted``, all but the slabs that turn are faded; ``letters`` names each sticker's colour by
    its facet.
    """

    colours: Mapping[str, str]
    hatched: Mapping[int, tuple[str, ...]] = field(default_factory=dict)
    highlight: frozenset[int] = frozenset()
    lifted: bool = False
    letters: bool = False


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


def paint(ax: Axes, seen: Scene, inks: Inks, spot: Spot, *, zorder: float = 2.0, size: float = 8.0) -> None:
    """Lay a scene on a sheet; ``size`` is that of letters and question marks in points."""
    panels, polygons, faces = [], [], []
    for panel in seen.panels:
        for vertices, ink in _layers(panel, inks):
            panels.append(panel)
            polygons.append(vertices)
            faces.append(ink)
    outlines = _outlines(seen, polygons, spot)
    edges = [_edge(face, panel, inks) for face, panel in zip(faces, panels, strict=True)]
    ax.add_collection(
        PolyCollection(outlines, facecolors=faces, edgecolors=edges, linewidths=0.5, zorder=zorder, joinstyle="round"),
        autolim=False,
    )
    for i, panel in enumerate(panels):
        text = _letter(panel, inks) if polygons[i] is panel.vertices else ""
        if text and _has_room(outlines, i, size / 72 / INCHES / 2):
            at = outlines[i].mean(axis=0)
            write(ax, *at, text, size=size, color=ink_on(faces[i]), rotation=spot.tilt, zorder=zorder + 0.1)


def letter_of(facet: str) -> str:
    """A facet's name as it fits on a sticker: side7 as 7, and no name longer than three letters."""
    return facet.removeprefix("side")[:3]


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
        ink = _shaded(panel.vertices)
    elif panel.paint is None:
        ink = UNKNOWN
    else:
        ink = inks.colours[panel.paint]
        ink = ink_on(ink) if panel.role == "mark" else ink
    return mix(ink, PAPER, FADED) if inks.lifted and not panel.moving else ink


def _shaded(vertices: np.ndarray) -> str:
    """The ink of a cut face: the more it looks away from the light, the darker."""
    area = np.cross(vertices[1] - vertices[0], vertices[2] - vertices[0])
    return mix(CUT, BODY, 0.5 - 0.5 * float(area @ LIGHT) / float(np.linalg.norm(area)))


def _outlines(seen: Scene, polygons: list[np.ndarray], spot: Spot) -> list[np.ndarray]:
    ends = np.cumsum([len(polygon) for polygon in polygons])[:-1]
    return np.split(spot.place(seen.camera.project(np.concatenate(polygons))), ends)


def _edge(face: str, panel: Panel, inks: Inks) -> str:
    """Every body and cut face is outlined, in black unless it is highlighted; neighbours so leave no gap between them."""
    if panel.role == "cut":
        return mix(BODY, PAPER, FADED) if inks.lifted and not panel.moving else BODY
    return face if panel.role == "body" else "none"


def _letter(panel: Panel, inks: Inks) -> str:
    if panel.role != "sticker":
        return ""
    return "?" if panel.paint is None else letter_of(panel.paint) if inks.letters else ""


def _has_room(outlines: list[np.ndarray], i: int, half: float) -> bool:
    """Whether a text of half height ``half`` fits in the middle of outline i with nothing later laid over it."""
    around = outlines[i].mean(axis=0) + half * np.array([[0, 0], [1, 0], [0, 1], [-1, 0], [0, -1]])
    return bool(within(outlines[i], around).all()) and not any(within(later, around).any() for later in outlines[i + 1 :])
