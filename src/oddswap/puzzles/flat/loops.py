"""``loop:n,window=k``: n beads on a closed loop, and a window that turns the k beads in it end over end.

The idea is that of Nash and Randall (arXiv:1612.04476; the abstract was read). Slots are numbered clockwise from the
left end of the window. ``push`` takes every bead one slot on, clockwise; ``swing`` reverses the beads in slots 1 to k.
"""

import numpy as np

from oddswap.puzzles.base.named import LIMIT, NamedPuzzle, whole
from oddswap.puzzles.base.space import circle, on_circle
from oddswap.puzzles.flat.beads import bead_puzzle

WINDOW = 4
"""How many beads are in the window when nothing is said, or all where there are fewer."""
PAINTS = 6
"""Beads that all differ are painted in so many stretches of the loop."""


def loop(name: str, size: str, options: dict[str, str]) -> NamedPuzzle:
    """The loop of that size; it takes ``window`` and ``beads`` out of ``options``.

    >>> loop("loop:5,window=3", "5", {"window": "3"}).follow("push swing").pieces
    (1, 0, 4, 2, 3)
    """
    n = whole("the number of beads on a loop", size, 3, LIMIT)
    k = whole("window", options.pop("window", str(min(n, WINDOW))), 2, n)
    letters = options.pop("beads", None)
    push = [(i + 1) % n for i in range(n)]
    swing = [k - 1 - i if i < k else i for i in range(n)]
    radius = 0.5 / np.sin(np.pi / n)
    title, paints = f"loop of {n} beads with a window on {k} of them", [f"stretch {PAINTS * i // n + 1}" for i in range(n)]
    places, drawn = on_circle((np.arange(n) - (k - 1) / 2) / n, radius), ([circle(radius)], [_window(n, k, radius)])
    return bead_puzzle(name, title, {"push": push, "swing": swing}, letters, paints, places, *drawn)


def _window(n: int, k: int, radius: float) -> np.ndarray:
    """A plate beneath the first k beads, its ends round."""
    if k == n:
        return circle(radius + 0.68)
    half, end = (k - 1) / 2 / n, np.linspace(0, 0.5, 17)
    sweep = np.linspace(-half, half, 8 * k)
    right = on_circle(half + end, 0.62, on_circle([half], radius)[0])
    left = on_circle(0.5 - half + end, 0.62, on_circle([-half], radius)[0])
    return np.concatenate([on_circle(sweep, radius + 0.62), right, on_circle(sweep[::-1], max(radius - 0.62, 0.0)), left])
