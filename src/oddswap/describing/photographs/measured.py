"""The colour of each facet in a photograph, robust against small glare, fingers at the rim and the gaps between pieces."""

from dataclasses import dataclass

import numpy as np

from oddswap.describing.photographs.outside import Outside
from oddswap.describing.photographs.picture import Picture
from oddswap.describing.photographs.standing import Standing
from oddswap.errors import BadPhotograph

INNER = 0.75
"""The part of a facet, seen from its middle, that is looked at: the rest is rim."""
GRID = 6
SLANT = 0.15
"""The cosine of the flattest angle at which a facet is looked at."""
SMALLEST = 12.0
"""Square pixels below which a facet is too small."""
ALIKE, ENOUGH = 13, 0.5
"""Levels within which points show one colour, and the part of a facet's points that must show it."""
FLOOR = 0.004
"""Stray linear light, from 0 to 1: what is darker looks alike."""
BASIS = np.array([[1, 1, 1], [1, 0, -1], [1, -2, 1]]) / np.sqrt([[3], [2], [6]])
"""Brightness, red against blue, and both against green: across these, light and noise hardly depend on one another."""
_LINEAR = np.arange(256) / 255
LIGHT = np.where(_LINEAR <= 0.04045, _LINEAR / 12.92, ((_LINEAR + 0.055) / 1.055) ** 2.4)
"""Linear light for each byte of sRGB (IEC 61966-2-1)."""


@dataclass(frozen=True, eq=False)
class Measured:
    """``places`` (n,) are numbers of facets, ``colours`` (n, 3) logarithms of their linear light and `FLOOR`."""

    places: np.ndarray
    colours: np.ndarray


def measure(solid: Outside, picture: Picture, standing: Standing) -> Measured:
    """The facets that the camera sees well enough. `BadPhotograph` where all is dark."""
    centres = np.array([polygon.mean(axis=0) for polygon in solid.polygons])
    towards = standing.eye - centres
    slant = (solid.normals * towards).sum(axis=1) / np.linalg.norm(towards, axis=1)
    pixels = _smoothed(picture.pixels)
    places, colours, bright = [], [], []
    for number in np.flatnonzero(slant > SLANT):
        polygon = solid.polygons[number]
        spots = standing.project(_inside(polygon)).reshape(-1, 2) / picture.scale
        if _area(standing.project(polygon) / picture.scale) * INNER**2 < SMALLEST:
            continue
        x, y = np.round(spots - 0.5).astype(int).T
        within = (x >= 0) & (y >= 0) & (x < pixels.shape[1]) & (y < pixels.shape[0])
        levels = pixels[y[within], x[within]]
        levels = levels[levels.min(axis=1) < 253]
        alike = (np.abs(levels[:, None] - levels).max(axis=2) < ALIKE) if len(levels) else np.zeros((1, 1))
        most = alike[alike.sum(axis=1).argmax()]
        if most.sum() < ENOUGH * len(spots):
            continue
        level = levels[most].mean(axis=0)
        places.append(number)
        colours.append(np.log(np.interp(level, np.arange(256), LIGHT) + FLOOR))
        bright.append(level.max())
    if not places:
        raise BadPhotograph("no facet is seen well enough: take the photograph from nearer, with no glare")
    if np.quantile(bright, 0.8) < 24:
        raise BadPhotograph("the photograph is too dark to tell colours: take it in more light")
    return Measured(np.array(places), np.array(colours))


def _smoothed(pixels: np.ndarray) -> np.ndarray:
    """The mean of each pixel and its eight neighbours."""
    padded = np.pad(pixels.astype(np.float32), ((1, 1), (1, 1), (0, 0)), "edge")
    rows = padded[:-2] + padded[1:-1] + padded[2:]
    return (rows[:, :-2] + rows[:, 1:-1] + rows[:, 2:]) / 9


def _inside(polygon: np.ndarray) -> np.ndarray:
    """Points (k, m, 3) spread evenly over the inner part of a convex polygon, in triangles with one side each."""
    middle, ahead = polygon.mean(axis=0), np.roll(polygon, -1, axis=0)
    u, v = ((np.indices((GRID, GRID)).reshape(2, -1) + 0.5) / GRID)[..., None]
    u, v = np.where(u + v > 1, 1 - u, u), np.where(u + v > 1, 1 - v, v)
    return middle + INNER * (u * (polygon - middle)[:, None] + v * (ahead - middle)[:, None])


def _area(outline: np.ndarray) -> float:
    x, y = (outline - outline[0]).T
    return abs(float(x @ np.roll(y, -1) - y @ np.roll(x, -1))) / 2
