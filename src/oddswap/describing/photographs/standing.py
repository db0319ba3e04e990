"""Where a camera stood: from corners of a known solid in a picture to its pose and focal length, by least squares.

Seven unknowns: three for the rotation, two for where the middle of the solid lies, its size, and how strong the perspective is.
Rotations all round are tried with parallel rays first, where size and place follow in closed form; the best few are improved by
Levenberg and Marquardt's method (J. SIAM 11 (1963) 431). A camera's usual range of focal lengths counts as one more, soft,
measurement, so that four corners are enough.
"""

from dataclasses import dataclass

import numpy as np

from oddswap.errors import BadPhotograph
from oddswap.puzzles.base.space import turn_matrix

FOCAL, LOOSE = 1.0, 0.6
"""The usual focal length in diagonals of the picture, and how loosely that is known, as a logarithm."""
AMISS = 0.012
"""How far off a marked corner is by rule, in parts of the distance between the farthest two."""
WORST = 0.035
"""How far off marked corners may be, root mean square, before they belong to another solid."""
STARTS, TRIED, STEPS = 600, 8, 40


@dataclass(frozen=True, eq=False)
class Standing:
    """``rotation`` (3, 3) from the puzzle to the camera (x right, y down, z away); ``middle`` (2,) is where the solid's lies in
    the picture and ``centre`` (2,) its own, in pixels; ``size`` in pixels a half-edge, ``near`` is one over how many half-edges
    the camera is away.
    """

    rotation: np.ndarray
    middle: np.ndarray
    centre: np.ndarray
    size: float
    near: float

    @property
    def eye(self) -> np.ndarray:
        """Where the camera is (3,), in the puzzle's half-edges."""
        return -self.rotation.T @ np.array([*(self.middle - self.centre) / self.size, 1 / self.near])

    @property
    def focal(self) -> float:
        """The focal length in pixels."""
        return self.size / self.near

    def project(self, points: np.ndarray) -> np.ndarray:
        """Points (..., 3) in half-edges to pixels (..., 2)."""
        turned = points @ self.rotation.T
        flat = self.size * turned[..., :2] + self.middle - self.centre
        return self.centre + flat / (1 + self.near * turned[..., 2:])


def find_standing(points: np.ndarray, pixels: np.ndarray, shape: tuple[float, float], sides: list[np.ndarray]) -> Standing:
    """From where corners ``points`` (n, 3) are seen at ``pixels`` (n, 2) of a picture of this ``shape`` (width, height).

    ``sides[i]`` (k, 3) are the outward normals at the i-th corner: one of them must face the camera. `BadPhotograph`.
    """
    if len(points) < 4:
        raise BadPhotograph(f"mark at least 4 corners: {len(points)} is too few to find the camera")
    extent = float(np.linalg.norm(pixels[:, None] - pixels[None], axis=2).max())
    if extent < 40:
        raise BadPhotograph("the marked corners lie within 40 pixels: mark corners of the whole solid, in a larger picture")
    reach = float(np.linalg.norm(points, axis=1).max())
    found = []
    for rotation in _starts(points, pixels)[:TRIED]:
        standing, cost = _improved(rotation, points, pixels, np.array(shape), extent, reach)
        outward = [(normals @ (standing.eye - point)).max() > 0 for normals, point in zip(sides, points, strict=True)]
        if all(outward):
            found.append((cost, len(found), standing))
    best = min(found)[2] if found else None
    if best is None or np.sqrt(((best.project(points) - pixels) ** 2).sum(axis=1).mean()) > WORST * extent:
        raise BadPhotograph(
            "no camera sees these corners so: check which is which, that the picture is not mirrored, and the puzzle"
        )
    return best


def _starts(points: np.ndarray, pixels: np.ndarray) -> list[np.ndarray]:
    """Rotations, best first, by how well they fit with parallel rays."""
    draw = np.random.default_rng(0)
    rotations = np.array([turn_matrix(draw.normal(size=3), draw.uniform(0, np.pi)) for _ in range(STARTS)])
    flat = (rotations @ (points - points.mean(axis=0)).T)[:, :2]
    seen = (pixels - pixels.mean(axis=0)).T
    agree = np.maximum((flat * seen).sum(axis=(1, 2)), 0) ** 2 / (flat**2).sum(axis=(1, 2))
    return list(rotations[np.argsort(-agree)])


def _improved(start: np.ndarray, points: np.ndarray, pixels: np.ndarray, shape: np.ndarray, extent: float, reach: float):
    centre, diagonal = shape / 2, float(np.linalg.norm(shape))

    def standing(p: np.ndarray) -> Standing:
        near = 1 / (reach * (1.3 + np.exp(p[6])))
        return Standing(
            turn_matrix(p[:3] + 1e-12, -np.linalg.norm(p[:3])) @ start,
            p[3:5] * extent,
            centre,
            extent / reach * np.exp(p[5]),
            near,
        )

    def off(p: np.ndarray) -> np.ndarray:
        own = standing(p)
        far = (own.project(points) - pixels).ravel() / (AMISS * extent)
        return np.append(far, (np.log(own.focal / diagonal) - np.log(FOCAL)) / LOOSE)

    at, damping = np.array([0, 0, 0, *pixels.mean(axis=0) / extent, -0.7, 1.0]), 1.0
    now = off(at)
    for _ in range(STEPS):
        slope = np.stack([(off(at + step) - now) / 1e-6 for step in 1e-6 * np.eye(7)], axis=1)
        normal = slope.T @ slope
        step = np.linalg.solve(normal + damping * np.diag(np.diag(normal) + 1e-9), -slope.T @ now)
        then = off(at + np.clip(step, -0.5, 0.5))
        if then @ then < now @ now:
            at, now, damping = at + np.clip(step, -0.5, 0.5), then, damping / 5
            if np.abs(step).max() < 1e-7:
                break
        else:
            damping *= 4
    return standing(at), float(now @ now)
