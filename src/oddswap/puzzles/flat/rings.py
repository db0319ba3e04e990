"""``rings:a+b`` and ``rings:a+b+c``: rings of beads that cross; each turns by one place at a time.

**Two rings.** Ring a lies to the left, ring b to the right; they cross twice, at a bead above and a bead below, and both
beads belong to both rings. ``cross=p/q``: going clockwise, ring a passes from the upper crossing to the lower one in p
places, through the inside of ring b; ring b passes from the lower crossing to the upper one in q places, through the
inside of ring a. ``cross=p`` is ``cross=p/p``. There are a + b - 2 beads.

**Three rings.** They lie in a triangle, a and b above, c below; each two cross twice, once inside the third ring and
once outside it, and no bead lies on all three. Going clockwise, every ring enters the next one (a enters b, b enters c,
c enters a), p places on also the other one, g places on it leaves the next one, p places on the other one, and the
rest of it lies outside: ``cross=p,gap=g``. There are a + b + c - 6 beads.

The moves ``a``, ``b``, ``c`` turn a ring clockwise by one place. Slots are numbered: ring a clockwise from its first
crossing (above, of two rings), then clockwise likewise what is left of ring b, then of ring c.

Four beads on each of two rings with ``cross=1`` have a group of order 120, S₅ acting on six beads (as PGL(2, 5); it is
no alternating and no symmetric group on them, as in Wilson, J. Combin. Theory B 16 (1974) 86-96).
"""

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from oddswap.errors import BadOption, UnknownPuzzle, quoted
from oddswap.puzzles.base.named import LIMIT, NamedPuzzle, whole
from oddswap.puzzles.base.space import circle, on_circle, one_step_apart
from oddswap.puzzles.flat.beads import bead_puzzle

LETTERS = "abc"


def rings(name: str, size: str, options: dict[str, str]) -> NamedPuzzle:
    """The rings of these sizes; ``cross``, ``gap`` and ``beads`` are taken out of ``options``.

    >>> rings("rings:4+4,cross=1", "4+4", {"cross": "1"}).follow("a b").pieces
    (0, 5, 1, 2, 3, 4)
    """
    parts = size.split("+")
    if len(parts) not in (2, 3):
        raise UnknownPuzzle(f"{quoted(f'rings:{size}')} is not offered: write two or three sizes, such as rings:7+7")
    sizes = [whole("the number of beads on a ring", part, 3, LIMIT) for part in parts]
    places, points, circles = (_two if len(sizes) == 2 else _three)(sizes, options)
    points, circles = one_step_apart(points, circles)
    moves = {letter: _turned(ring, len(points)) for letter, ring in zip(LETTERS, places, strict=False)}
    on = [[letter for letter, ring in zip(LETTERS, places, strict=False) if i in ring] for i in range(len(points))]
    title = f"{('two', 'three')[len(sizes) - 2]} crossing rings of {' + '.join(parts)} beads"
    paints = ["crossing" if len(letters) > 1 else f"ring {letters[0]}" for letters in on]
    return bead_puzzle(name, title, moves, options.pop("beads", None), paints, points, grooves=circles)


Rings = tuple[list[list[int]], np.ndarray, list[np.ndarray]]
"""For each ring its slots, clockwise; where the slots lie (n, 2); and a line for each ring."""


def _two(sizes: Sequence[int], options: dict[str, str]) -> Rings:
    a, b = sizes
    if "gap" in options:
        raise BadOption("gap says how far apart the crossings of three rings are: leave it out for two")
    first, slash, second = options.pop("cross", str(max(1, min(sizes) // 4))).partition("/")
    p = whole("cross on ring a", first, 1, a - 1)
    q = whole("cross on ring b", second if slash else first, 1, b - 1)
    ring_a = list(range(a))
    ring_b = [p, *range(a, a + q - 1), 0, *range(a + q - 1, a + b - 2)]
    half_a, half_b = (float(np.clip(way / n / 2, 0.08, 0.16)) for way, n in ((p, a), (q, b)))
    small = float(np.sin(2 * np.pi * half_a) / np.sin(2 * np.pi * half_b))
    apart = np.cos(2 * np.pi * half_a) + small * np.cos(2 * np.pi * half_b)
    points = np.zeros((a + b - 2, 2))
    for ring, stops, radius, middle in (
        (ring_a, {0: 0.25 - half_a, p: 0.25 + half_a}, 1.0, 0.0),
        (ring_b, {0: 0.75 - half_b, q: 0.75 + half_b}, small, apart),
    ):
        points[ring] = on_circle(_spread(stops, len(ring)), radius, (middle, 0.0))
    return [ring_a, ring_b], points, [circle(1.0), circle(small, (apart, 0.0))]


def _three(sizes: Sequence[int], options: dict[str, str]) -> Rings:
    least = min(sizes)
    p = whole("cross", options.pop("cross", str(max(1, least // 6))), 1, LIMIT)
    g = whole("gap", options.pop("gap", str(max(1, p // 2))), 1, LIMIT)
    if least <= 2 * p + g:
        raise BadOption(f"a ring of {least} beads is too small for cross={p} and gap={g}: give it {2 * p + g + 1} or more")
    half = float(np.clip((1 + g / p) / 12, 0.105, 0.16))
    angles = (1 / 4 - half, 5 / 12 - half, 1 / 4 + half, 5 / 12 + half)
    apart = 2 * np.cos(2 * np.pi * half)
    middles = on_circle([-1 / 6, 1 / 6, 1 / 2], apart / np.sqrt(3))
    slot_at: dict[tuple[str, int, int], int] = {}
    places, points = [], {}
    for i, n in enumerate(sizes):
        before, after = (i - 1) % 3, (i + 1) % 3
        crossings = [("outer", after), ("inner", before), ("inner", after), ("outer", before)]
        shared = [(depth, *sorted((i, other))) for depth, other in crossings]
        names = dict(zip((0, p, p + g, 2 * p + g), shared, strict=True))
        ring = [slot_at.setdefault(names.get(place, ("own", i, place)), len(slot_at)) for place in range(n)]
        stops = {place: angle + i / 3 for place, angle in zip(names, angles, strict=True)}
        points |= dict(zip(ring, on_circle(_spread(stops, n), 1.0, middles[i]), strict=True))
        places.append(ring)
    return places, np.array([points[slot] for slot in range(len(slot_at))]), [circle(1.0, middle) for middle in middles]


def _spread(stops: dict[int, float], n: int) -> np.ndarray:
    """Parts of a full turn for n places: those of ``stops`` as given, the others evenly between them, clockwise."""
    known = sorted(stops)
    return np.interp(range(n), [*known, n], [*(stops[place] for place in known), stops[known[0]] + 1])


def _turned(ring: Sequence[int], n: int) -> list[int]:
    """The permutation of n slots that takes each slot of a ring to the next one."""
    images = list(range(n))
    for slot, following in pairwise((*ring, ring[0])):
        images[slot] = following
    return images
