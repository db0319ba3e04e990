"""The colour of each facet in a photograph, robust against small glare, fingers at the rim and the gaps between pieces."""

from dataclasses import dataclass

import numpy as np

from oddswap.describing.photographs.outside import Outside
from oddswap.describing.photographs.picture import Picture
from oddswap.describing.photographs.standing import Standing
from oddswap.errors import BadPhotograph

INNER = 0.62
"""The part of a facet, seen from its middle, that is looked at: the rest is rim."""
GRID = 9
SLANT = 0.2
"""The cosine of the flattest angle at which a facet is looked at."""
SMALLEST = 12.0
"""Square pixels below which a facet is too small."""
ENOUGH = 0.4
"""The part of a facet's points that must be in the picture and not burnt out."""
FLOOR = 0.005
"""Added to linear light, from 0 to 1, before its logarithm: less is noise."""
VEIL = 0.001
"""How much linear light from elsewhere may lie on a facet: the darker it is, the less its colour is known."""
BASIS = np.array([[1, 1, 1], [1, 0, -1], [1, -2, 1]]) / np.sqrt([[3], [2], [6]])
"""Brightness, red against blue, and both against green: across these, light and noise hardly depend on one another."""
_LINEAR = np.arange(256) / 255
LOGS = np.log(np.where(_LINEAR <= 0.04045, _LINEAR / 12.92, ((_LINEAR + 0.055) / 1.055) ** 2.4) + FLOOR)
"""The logarithm of linear light for each byte of sRGB (IEC 61966-2-1)."""


@dataclass(frozen=True, eq=False)
class Measured:
    """``places`` (n,) are numbers of facets, ``colours`` (n, 3) across `BASIS`, ``spread`` (n, 3) how far a part of a facet
    is from the whole."""

    places: np.ndarray
    colours: np.ndarray
    spread: np.ndarray


def measure(solid: Outside, picture: Picture, standing: Standing) -> Measured:
    """The facets that the camera sees well enough. `BadPhotograph` where all is dark."""
    centres = np.array([polygon.mean(axis=0) for polygon in solid.polygons])
    towards = standing.eye - centres
    slant = (solid.normals * towards).sum(axis=1) / np.linalg.norm(towards, axis=1)
    places, colours, spread, bright = [], [], [], []
    for number in np.flatnonzero(slant > SLANT):
        polygon = solid.polygons[number]
        spots = standing.project(_inside(polygon)).reshape(-1, 2) / picture.scale
        if _area(standing.project(polygon) / picture.scale) * INNER**2 < SMALLEST:
            continue
        x, y = np.round(spots - 0.5).astype(int).T
        within = (x >= 0) & (y >= 0) & (x < picture.pixels.shape[1]) & (y < picture.pixels.shape[0])
        levels = picture.pixels[y[within], x[within]]
        kept = levels.min(axis=1) < 253
        if kept.sum() < ENOUGH * len(spots):
            continue
        seen, part = LOGS[levels[kept]] @ BASIS.T, np.flatnonzero(within)[kept] // GRID**2
        middle = np.median(seen, axis=0)
        parts = [np.median(seen[part == k], axis=0) for k in np.unique(part)]
        places.append(number)
        colours.append(middle)
        veil = BASIS**2 @ (VEIL / np.exp(BASIS.T @ middle)) ** 2
        spread.append(np.sqrt(((np.array(parts) - middle) ** 2).max(axis=0) + veil))
        bright.append(levels.max(axis=1).mean())
    if not places:
        raise BadPhotograph("no facet is seen well enough: take the photograph from nearer, with no glare")
    if np.quantile(bright, 0.8) < 24:
        raise BadPhotograph("the photograph is too dark to tell colours: take it in more light")
    return Measured(np.array(places), np.array(colours), np.array(spread))


def _inside(polygon: np.ndarray) -> np.ndarray:
    """Points (k, m, 3) spread evenly over the inner part of a convex polygon, in triangles with one side each."""
    middle, ahead = polygon.mean(axis=0), np.roll(polygon, -1, axis=0)
    u, v = ((np.indices((GRID, GRID)).reshape(2, -1) + 0.5) / GRID)[..., None]
    u, v = np.where(u + v > 1, 1 - u, u), np.where(u + v > 1, 1 - v, v)
    return middle + INNER * (u * (polygon - middle)[:, None] + v * (ahead - middle)[:, None])


def _area(outline: np.ndarray) -> float:
    x, y = (outline - outline[0]).T
    return abs(float(x @ np.roll(y, -1) - y @ np.roll(x, -1))) / 2
