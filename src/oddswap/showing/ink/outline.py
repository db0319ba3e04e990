"""Small constructions on one convex polygon in space: smaller by an even margin, corners rounded, hatched."""

from collections.abc import Sequence

import numpy as np


def inset(polygon: np.ndarray, normal: np.ndarray, margin: float) -> np.ndarray:
    """The convex polygon (k, 3) with every side moved inwards by ``margin``, or by less where that leaves too little.

    >>> square = np.array([[-1.0, -1, 0], [1, -1, 0], [1, 1, 0], [-1, 1, 0]])
    >>> inset(square, np.array([0.0, 0, 1]), 0.25)[0]
    array([-0.75, -0.75,  0.  ])
    """
    sides = np.roll(polygon, -1, axis=0) - polygon
    inwards = np.cross(normal, sides)
    inwards /= np.linalg.norm(inwards, axis=1, keepdims=True)
    before = np.roll(inwards, 1, axis=0)
    step = (inwards + before) / (1 + (inwards * before).sum(axis=1, keepdims=True))
    while True:
        smaller = polygon + margin * step
        shrunk = np.roll(smaller, -1, axis=0) - smaller
        if ((shrunk * sides).sum(axis=1) > 0.25 * (sides * sides).sum(axis=1)).all():
            return smaller
        margin *= 0.7


def bridged(polygon: np.ndarray, sides: list[int], by: float) -> np.ndarray:
    """The polygon (k, 3) with these sides moved outwards by ``by`` along those that meet them; side i begins at corner i."""
    moved, k = polygon.copy(), len(polygon)
    for i in sides:
        for corner, before in ((i, i - 1), ((i + 1) % k, (i + 2) % k)):
            along = polygon[corner] - polygon[before]
            moved[corner] += by * along / np.linalg.norm(along)
    return moved


def rounded(polygon: np.ndarray, radius: float | np.ndarray = 0.07, points: int = 4) -> np.ndarray:
    """The polygon (k, 3) with its corners replaced by ``points`` points of a parabola, at most ``radius``, for each corner one
    (k, 1) or one for all, from them.
    """
    before, after = np.roll(polygon, 1, axis=0) - polygon, np.roll(polygon, -1, axis=0) - polygon
    shares = (np.minimum(radius / np.linalg.norm(leg, axis=1, keepdims=True), 0.4) for leg in (before, after))
    start, end = (polygon + leg * share for leg, share in zip((before, after), shares, strict=True))
    t = np.linspace(0, 1, points)[None, :, None]
    bends = (1 - t) ** 2 * start[:, None] + 2 * t * (1 - t) * polygon[:, None] + t**2 * end[:, None]
    return bends.reshape(-1, 3)


def stripes(polygon: np.ndarray, way: float, spacing: float = 0.15, width: float = 0.024) -> list[np.ndarray]:
    """Hatching of a convex polygon (k, 3): thin quadrilaterals (4, 3) on it, ``way`` degrees from its most level line."""
    centre = polygon.mean(axis=0)
    normal = np.cross(polygon - centre, np.roll(polygon, -1, axis=0) - centre).sum(axis=0)
    normal /= np.linalg.norm(normal)
    level, across = level_on(normal)
    along = np.cos(np.radians(way)) * level + np.sin(np.radians(way)) * across
    beside = np.cross(normal, along)
    heights = (polygon - centre) @ beside
    middles = spacing * np.arange(np.ceil(heights.min() / spacing), np.floor(heights.max() / spacing) + 1)
    strips = (band(band(polygon, beside, centre, m + width / 2), -beside, centre, width / 2 - m) for m in middles)
    return [strip for strip in strips if len(strip) > 2]


def level_on(normal: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Two unit vectors on a plane of this unit normal: its most level one, and that which runs upwards."""
    level = np.cross([0.0, 1.0, 0.0], normal)
    level = level / np.linalg.norm(level) if np.linalg.norm(level) > 1e-6 else np.array([1.0, 0.0, 0.0])
    return level, np.cross(normal, level)


def band(polygon: np.ndarray, normal: np.ndarray, origin: np.ndarray, height: float) -> np.ndarray:
    """The part of a convex polygon (k, 3) on which ``normal . (x - origin) <= height``; (0, 3) when there is none."""
    if not len(polygon):
        return polygon
    above = (polygon - origin) @ normal - height
    kept = []
    for i, point in enumerate(polygon):
        j = (i + 1) % len(polygon)
        if above[i] <= 0:
            kept.append(point)
        if above[i] * above[j] < 0:
            kept.append(point + above[i] / (above[i] - above[j]) * (polygon[j] - point))
    return np.array(kept).reshape(-1, 3)


def within(outline: np.ndarray, spots: np.ndarray) -> np.ndarray:
    """Which of the points (..., 2) lie inside a convex outline (k, 2) that runs anticlockwise."""
    sides = np.roll(outline, -1, axis=0) - outline
    gaps = spots[..., None, :] - outline
    return (sides[:, 0] * gaps[..., 1] - sides[:, 1] * gaps[..., 0] > 0).all(axis=-1)


def rims_of(polygons: Sequence[np.ndarray], inside: float = 0.045) -> list[np.ndarray]:
    """The rims round polygons (k, 2) that share whole sides, each drawn in by a share of the way to its middle.

    >>> square = np.array([[0.0, 0], [1, 0], [1, 1], [0, 1]])
    >>> [len(rim) for rim in rims_of([square, square + (1.0, 0.0)])]
    [6]
    """
    points = {}
    sides = {}
    for polygon in polygons:
        keys = [tuple(point.round(5)) for point in polygon]
        points |= dict(zip(keys, polygon, strict=True))
        sides |= dict.fromkeys(zip(keys, [*keys[1:], keys[0]], strict=True))
    after = {one: other for one, other in sides if (other, one) not in sides}
    found = []
    while after:
        rim = [next(iter(after))]
        while (following := after.pop(rim[-1], None)) is not None and following != rim[0]:
            rim.append(following)
        outline = np.array([points[key] for key in rim])
        found.append(outline + inside * (outline.mean(axis=0) - outline))
    return found
