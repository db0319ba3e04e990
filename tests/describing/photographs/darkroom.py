"""Photographs made for tests: rays cast at a solid of half-spaces, under measured lights, of stickers with measured spectra.

Nothing here is the package's own drawing. A ray is followed to where it enters the solid (Cyrus and Beck's clipping); the cell
is read off the cut planes there. Spectra are those of ISO 17321-1's chart, lights those of CIE 15, and the camera's filters
the CIE 1931 observer taken to sRGB (IEC 61966-2-1): tables of the package colour-science. Then come glare, fingers, blur,
noise of the sensor, and JPEG.

The rules. A solid of 450 pixels in a picture of 620. Two lamps of different spectra, from 12 half-edges away, and light from
all round; each channel's white balance is off by 13 % as a rule. Each colour has faded by up to 12 % towards grey, one
sticker in five by more or less than its kin, and all differ by 6 % in brightness. A finger in three photographs of ten, up to
two glares, blur of up to 2.5 pixels, noise of up to 3 %, a contrast that is off by up to a tenth, JPEG of quality 60 to 92.
Corners are marked up to ``off`` pixels amiss. A sticker is hidden if a finger, or glare above a twelfth of white, lies on a
third of it. Without ``harsh`` hardly any of this.
"""

import io
import sys
import warnings
import zlib
from dataclasses import dataclass
from functools import cache
from unittest.mock import MagicMock

import numpy as np
from PIL import Image, ImageFilter

FACES = {"U": (0, 1, 0), "D": (0, -1, 0), "F": (0, 0, 1), "B": (0, 0, -1), "L": (-1, 0, 0), "R": (1, 0, 0)}
ABOVE = {"U": "B", "D": "F", "F": "U", "B": "U", "L": "U", "R": "U"}
"""Which face lies towards the top when a face is read row by row."""
STICKERS = {
    "white": "white 9.5 (.05 D)",
    "yellow": "yellow",
    "orange": "orange",
    "red": "red",
    "green": "green",
    "blue": "blue",
    "magenta": "magenta",
    "teal": "cyan",
    "gray": "neutral 5 (.70 D)",
}
"""What a visitor calls some patches of the chart."""
LIGHTS = "A", "D50", "D65", "FL2", "FL11", "LED-B3", "LED-B5"
XYZ_TO_SRGB = np.array([[3.2406, -1.5372, -0.4986], [-0.9689, 1.8758, 0.0415], [0.0557, -0.2040, 1.0570]])
SIDE, SIZE, GAP = 620, 450, 0.035


@cache
def spectra():
    """Reflectances by patch (81,), powers by light (81,), and filters (81, 3), from 380 to 780 nm."""
    with warnings.catch_warnings(), np.printoptions():  # it prints numbers its own way from then on
        warnings.simplefilter("ignore")  # parts that are not used here ask for more packages
        import colour

    for name in [name for name, module in sys.modules.items() if isinstance(module, MagicMock)]:
        del sys.modules[name]  # it lays mocks in place of packages that are missing, and others would take them for real
    waves = np.arange(380, 781, 5)

    def at(table):
        return np.array([np.interp(waves, table.wavelengths, column) for column in np.atleast_2d(table.values.T)]).T

    patches = {name: at(table)[:, 0] for name, table in colour.SDS_COLOURCHECKERS["ISO 17321-1"].items()}
    lights = {name: at(colour.SDS_ILLUMINANTS[name])[:, 0] for name in LIGHTS}
    lights = {name: power / power.sum() for name, power in lights.items()}
    return patches, lights, at(colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"]) @ XYZ_TO_SRGB.T


@dataclass(frozen=True)
class Solid:
    """Half-spaces by name, and how far out the cut planes lie along x, y and z."""

    sides: dict[str, tuple[tuple[float, float, float], float]]
    cuts: tuple[tuple[float, ...], tuple[float, ...], tuple[float, ...]]


def box(x: int, y: int, z: int) -> Solid:
    """A box of so many cubes, the longest side from -1 to 1."""
    counts, longest = (x, y, z), max(x, y, z)
    sides = {face: (way, sum(n for n, w in zip(counts, way, strict=True) if w) / longest) for face, way in FACES.items()}
    return Solid(sides, tuple(tuple((2 * k - n) / longest for k in range(1, n)) for n in counts))


def octagon() -> Solid:
    """A prism on eight sides about y with inradius and half height 1, cut as far out as its sides are half wide."""
    names = ["F", "FR", "R", "BR", "B", "BL", "L", "FL"]
    around = {name: ((np.sin(np.pi * i / 4), 0, np.cos(np.pi * i / 4)), 1.0) for i, name in enumerate(names)}
    cut = float(np.tan(np.pi / 8))
    return Solid({"U": (FACES["U"], 1.0), "D": (FACES["D"], 1.0)} | around, ((-cut, cut),) * 3)


def vertices(solid: Solid) -> dict[str, np.ndarray]:
    """Where three sides of a solid meet, by their names."""
    names, found = list(solid.sides), {}
    for i, a in enumerate(names):
        for j, b in enumerate(names[:i]):
            for c in names[:j]:
                normals = np.array([solid.sides[n][0] for n in (a, b, c)], float)
                if abs(np.linalg.det(normals)) < 1e-6:
                    continue
                point = np.linalg.solve(normals, [solid.sides[n][1] for n in (a, b, c)])
                if all(np.dot(n, point) < o + 1e-9 for n, o in solid.sides.values()):
                    found["-".join((c, b, a))] = point
    return found


@dataclass(frozen=True)
class Shot:
    """A picture's file, where some corners lie in it, and the stickers of which a finger or glare hides a third and more."""

    data: bytes
    corners: dict[str, tuple[float, float]]
    hidden: frozenset[tuple[str, tuple[int, int, int]]]


def draw_lamps(rng) -> list[np.ndarray]:
    """The powers of two lamps of a room, and of what comes from everywhere in it."""
    lights = spectra()[1]
    one, other = (lights[name] for name in rng.choice(LIGHTS, 2))
    share = rng.uniform(0.2, 0.8)
    return [one, other * rng.uniform(0.3, 1.2), share * one + (1 - share) * other]


def expose(solid: Solid, shown, palette: list[str], towards, lamps, rng, off: float = 8.0, harsh: bool = True) -> Shot:
    """A photograph from about ``towards`` (3,) by ``lamps``; ``shown(side, cell)`` is the number of the sticker in ``palette``.

    Corners are marked up to ``off`` pixels amiss.
    """
    eye, frame, focal = _camera(solid, np.array(towards, float), rng)
    x, y = np.meshgrid(np.arange(SIDE) + 0.5 - SIDE / 2, np.arange(SIDE) + 0.5 - SIDE / 2)
    rays = (np.stack([x, y, np.full_like(x, focal)], -1).reshape(-1, 3) @ frame).astype(np.float32)
    names, normals = list(solid.sides), np.array([n for n, _ in solid.sides.values()], np.float32)
    offsets = np.array([o for _, o in solid.sides.values()], np.float32)
    slope, height = rays @ normals.T, (offsets - normals @ eye).astype(np.float32)
    with np.errstate(divide="ignore"):
        when = height / slope
    enter, leave = np.where(slope < 0, when, -np.inf), np.where(slope > 0, when, np.inf).min(axis=1)
    side = enter.argmax(axis=1)
    first = enter.max(axis=1)
    hit = np.flatnonzero(first < leave)
    points, side = eye + first[hit, None] * rays[hit], side[hit]
    inside = offsets - points @ normals.T
    inside[np.arange(len(hit)), side] = 9
    rim = inside.min(axis=1)
    cell = np.zeros((len(hit), 3), int)
    for axis, cuts in enumerate(solid.cuts):
        for cut in cuts:
            far = points[:, axis] - cut
            cell[:, axis] += far > 0
            rim = np.where(np.abs(normals[side, axis]) > 0.99, rim, np.minimum(rim, np.abs(far)))
    seen_by, bright = _lighting(lamps, rng, harsh)
    towards_lights = [light_at - points for light_at in bright]
    parts = [
        np.maximum((normals[side] * way).sum(axis=1), 0) / (way**2).sum(axis=1) ** 1.5 * (light_at**2).sum()
        for way, light_at in zip(towards_lights, bright, strict=True)
    ]
    parts.append(np.full(len(hit), rng.uniform(0.25, 0.6)))
    ids = np.full(len(hit), -1)
    stuck = rim > GAP
    codes = side * 1000 + cell @ (100, 10, 1)
    patches = [np.full(81, 0.02)]
    fading = np.random.default_rng(zlib.crc32(" ".join(palette).encode())).uniform(0, 0.12 if harsh else 0.01, len(palette))
    for code in np.unique(codes[stuck]):
        where = stuck & (codes == code)
        number = shown(*_sticker(names, code))
        fresh = spectra()[0][STICKERS[palette[number]]]
        faded = fading[number] * (rng.uniform(0.7, 1.6) if rng.random() < 0.2 else 1)
        ids[where] = len(patches)
        patches.append((fresh * (1 - faded) + 0.55 * faded) * rng.uniform(0.94, 1.06))
    ids[~stuck] = 0
    table = np.array(patches)
    pixels = np.tile(rng.uniform(0.1, 0.5) * np.ones(3), (SIDE * SIDE, 1))
    pixels[hit] = sum(part[:, None] * (table @ (spd[:, None] * seen_by))[ids] for part, spd in zip(parts, lamps, strict=True))
    image = pixels.reshape(SIDE, SIDE, 3)
    corners = {name: _project(point, eye, frame, focal) for name, point in vertices(solid).items()}
    visible = {
        n: c for n, c in corners.items() if any(np.dot(solid.sides[s][0], eye) > solid.sides[s][1] + 0.05 for s in n.split("-"))
    }
    hidden = frozenset()
    if harsh:
        over = _fingers_and_glare(image, visible, lamps, seen_by, rng).ravel()[hit]
        each = {code: stuck & (codes == code) for code in np.unique(codes[stuck])}
        hidden = frozenset(_sticker(names, code) for code, where in each.items() if over[where].mean() > 1 / 3)
    exposure = rng.uniform(0.6, 0.92) / max(np.quantile(image.max(axis=2).ravel()[hit], 0.97), 1e-6)
    data = _developed(image * exposure, rng, harsh)
    marked = {}
    for name, corner in visible.items():
        angle, far = rng.uniform(0, 2 * np.pi), off * np.sqrt(rng.random())
        marked[name if any(len(s) > 1 for s in name.split("-")) else name.replace("-", "")] = (
            float(corner[0] + far * np.cos(angle)),
            float(corner[1] + far * np.sin(angle)),
        )
    return Shot(data, marked, hidden)


def _sticker(names: list[str], code: int):
    return names[code // 1000], (int(code // 100 % 10), int(code // 10 % 10), int(code % 10))


def _camera(solid: Solid, towards, rng):
    corners = np.array(list(vertices(solid).values()))
    way = towards / np.linalg.norm(towards) + rng.normal(0, 0.13, 3)
    way /= np.linalg.norm(way)
    focal = SIDE * rng.uniform(1.0, 2.0)
    spread = 2 * np.linalg.norm(corners, axis=1).max()
    eye = way * focal * spread / SIZE
    ahead = -way
    right = np.cross(ahead, rng.normal(size=3))
    right /= np.linalg.norm(right)
    frame = np.array([right, np.cross(ahead, right), ahead])
    aim = rng.normal(0, 0.02, 3) * np.linalg.norm(eye)
    return eye + aim - (aim @ ahead) * ahead, frame, focal


def _project(point, eye, frame, focal):
    x, y, z = frame @ (point - eye)
    return np.array([focal * x / z + SIDE / 2, focal * y / z + SIDE / 2])


def _lighting(lamps, rng, harsh: bool):
    """The filters with the white balance in them, and where the lamps are."""
    filters = spectra()[2]
    balance = np.exp(rng.normal(0, 0.13 if harsh else 0.03, 3)) / (lamps[2] @ filters)
    way = rng.normal(size=(2, 3))
    way[:, 1] = np.abs(way[:, 1]) + 0.3
    far = rng.uniform(12, 40, (2, 1))  # a lamp 30 cm to 1 m from a cube of 5 cm
    return filters * balance, way / np.linalg.norm(way, axis=1, keepdims=True) * far


def _fingers_and_glare(image, corners, light, seen_by, rng) -> np.ndarray:
    """Lay them over the image; returns where they hide it."""
    y, x = np.indices(image.shape[:2])
    over = np.zeros(image.shape[:2], bool)
    if rng.random() < 0.3:
        skin = spectra()[0][rng.choice(["light skin", "dark skin"])]
        tip = list(corners.values())[rng.integers(len(corners))]
        way = tip - SIDE / 2
        way = way / (np.linalg.norm(way) + 1e-9)
        tip = tip - way * rng.uniform(10, 70)
        along = (x - tip[0]) * way[0] + (y - tip[1]) * way[1]
        across = np.abs(-(x - tip[0]) * way[1] + (y - tip[1]) * way[0])
        wide = rng.uniform(25, 42)
        covered = (across < wide) & (along > np.minimum(0, -np.sqrt(np.maximum(wide**2 - across**2, 0))))
        over |= covered
        image[covered] = (skin * (light[0] + 0.5 * light[2])) @ seen_by * rng.uniform(0.5, 1.1)
    for _spot in range(rng.integers(0, 3)):
        at = rng.uniform(0.25 * SIDE, 0.75 * SIDE, 2)
        size = rng.uniform(8, 28)
        glare = np.exp(-((x - at[0]) ** 2 + (y - at[1]) ** 2) / (2 * size**2)) * rng.uniform(0.3, 2.0)
        over |= glare > 0.08
        image += glare[..., None] * (light[0] @ seen_by)
    return over


def _developed(linear, rng, harsh: bool) -> bytes:
    """From linear light to the file: blur, shot and read noise, sRGB, a little contrast, JPEG."""
    top = np.clip(linear, 0, 1)
    encoded = np.where(top <= 0.0031308, 12.92 * top, 1.055 * np.maximum(top, 1e-9) ** (1 / 2.4) - 0.055)
    image = Image.fromarray((255 * encoded).round().astype(np.uint8))
    image = image.filter(ImageFilter.GaussianBlur(rng.uniform(0.3, 2.5 if harsh else 0.8)))
    noisy = np.asarray(image) / 255
    noisy = noisy + rng.normal(size=noisy.shape) * (rng.uniform(0.005, 0.03) if harsh else 0.005)
    noisy = np.clip(noisy, 0, 1) ** rng.uniform(0.92, 1.1)
    file = io.BytesIO()
    Image.fromarray((255 * noisy).round().astype(np.uint8)).save(file, "JPEG", quality=int(rng.integers(60, 93)))
    return file.getvalue()
