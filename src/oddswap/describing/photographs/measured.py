"""The colour of each facet in a photograph, robust against small glare, fingers at the rim and the gaps between pieces."""

import numpy as np

from oddswap.describing.photographs.outside import Outside
from oddswap.describing.photographs.picture import Picture
from oddswap.describing.photographs.standing import Standing
from oddswap.errors import BadPhotograph

INNER = 0.75
"""The part of a facet, seen from its middle, that is looked at: the rest is rim."""
GRID = 6
SLANT = 0.09
"""The cosine of the flattest angle at which a facet is looked at."""
SMALLEST = 12.0
"""Square pixels below which a facet is too small."""
ALIKE, ENOUGH = 13, 0.6
"""Levels within which points show one colour, and the part of a facet's points that must show it."""
BURNT, DARK = 253, 24
"""The level from which a point says nothing, and the brightest level of a photograph that is too dark."""
COVERED = 0.5
"""The part of a facet's rim that may show its colour, too, where rims of others do not: a finger has no gaps."""
FLOOR = 0.004
"""Stray linear light, from 0 to 1: what is darker looks alike."""
BASIS = np.array([[1, 1, 1], [1, 0, -1], [1, -2, 1]]) / np.sqrt([[3], [2], [6]])
"""Brightness, red against blue, and both against green: across these, light and noise hardly depend on one another."""
_LINEAR = np.arange(256) / 255
LIGHT = np.where(_LINEAR <= 0.04045, _LINEAR / 12.92, ((_LINEAR + 0.055) / 1.055) ** 2.4)
"""Linear light for each byte of sRGB (IEC 61966-2-1)."""


def measure(solid: Outside, picture: Picture, standing: Standing) -> tuple[np.ndarray, np.ndarray, int]:
    """The facets that the camera sees well enough: their numbers (n,), and logarithms (n, 3) of their linear light and `FLOOR`.

    Last, on how many others several colours lie. `BadPhotograph` where all is dark.
    """
    centres = np.array([polygon.mean(axis=0) for polygon in solid.polygons])
    towards = standing.eye - centres
    slant = (solid.normals * towards).sum(axis=1) / np.linalg.norm(towards, axis=1)
    pixels = _smoothed(picture.pixels)

    def levels(points: np.ndarray) -> np.ndarray:
        x, y = np.round(standing.project(points).reshape(-1, 2) / picture.scale - 0.5).astype(int).T
        within = (x >= 0) & (y >= 0) & (x < pixels.shape[1]) & (y < pixels.shape[0])
        return pixels[y[within], x[within]]

    places, colours, rims, mixed = [], [], [], 0
    for number in np.flatnonzero(slant > SLANT):
        polygon, points = solid.polygons[number], _inside(solid.polygons[number])
        own = levels(points)
        own = own[own.min(axis=1) < BURNT]
        x, y = standing.project(polygon).T / picture.scale
        area = abs(float((x - x[0]) @ np.roll(y - y[0], -1) - (y - y[0]) @ np.roll(x - x[0], -1))) / 2
        if area * INNER**2 < SMALLEST or len(own) < ENOUGH * points[..., 0].size:
            continue
        alike = np.abs(own[:, None] - own).max(axis=2) < ALIKE
        most = alike[alike.sum(axis=1).argmax()]
        if most.sum() < ENOUGH * points[..., 0].size:
            mixed += 1
        else:
            places.append(number)
            colours.append(own[most].mean(axis=0))
            rims.append((np.abs(levels(_rim(polygon)) - colours[-1]).max(axis=1) < ALIKE).mean())
    if not places:
        high, wide = (round(picture.scale * pixels) for pixels in picture.pixels.shape[:2])
        check = f"check that the corners are marked within its {wide} by {high} pixels"
        raise BadPhotograph(f"no facet is seen well enough: {check}, or take it from nearer, with no glare")
    if np.quantile(np.max(colours, axis=1), 0.8) < DARK:
        raise BadPhotograph("the photograph is too dark to tell colours: take it in more light")
    bare = (np.array(rims) < COVERED) | (np.median(rims) > COVERED / 2)
    return np.array(places)[bare], np.log(np.interp(colours, np.arange(256), LIGHT) + FLOOR)[bare], mixed


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


def _rim(polygon: np.ndarray) -> np.ndarray:
    """Points (k, m, 3) along the outline of a convex polygon, where gaps lie, and a little to both sides."""
    middle, part = polygon.mean(axis=0), ((np.arange(8) + 0.5) / 8)[:, None, None]
    edges = (polygon * part + np.roll(polygon, -1, axis=0) * (1 - part)).reshape(-1, 3)
    return middle + np.linspace(0.92, 1.08, 5)[:, None, None] * (edges - middle)
