"""How a puzzle without a solid lies on paper: where its slots are, what is beneath them, and what each piece shows.

Lengths are in steps: neighbouring slots lie about 1 apart. x runs to the right, y up; angles run clockwise from up.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from types import MappingProxyType

import numpy as np

BEAD = 0.43
"""The radius of a round piece."""


@dataclass(frozen=True)
class Token:
    """What a piece shows: the ``text`` on it, its ``paint`` (a name), and ``marks`` at its rim, in parts of a full turn.

    Where the text is the name of the paint, nothing stands on the piece itself.
    """

    text: str
    paint: str
    marks: tuple[float, ...] = ()


@dataclass(frozen=True, eq=False)
class FlatLayout:
    """``positions`` (slots, 2); ``outline`` (k, 2) of a piece about its middle; ``tokens[j]`` for label j.

    A token of ``None`` is nothing at all: the blank. ``plates`` are closed outlines (k, 2) that lie lowest, ``grooves`` lines
    (k, 2) on them. ``colours`` gives paints their ``#rrggbb``, where they are not left to the palette.
    """

    positions: np.ndarray
    outline: np.ndarray
    tokens: tuple[Token | None, ...]
    grooves: tuple[np.ndarray, ...] = ()
    plates: tuple[np.ndarray, ...] = ()
    colours: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))


def on_circle(turns: Sequence[float] | np.ndarray, radius: float = 1.0, centre: Sequence[float] = (0, 0)) -> np.ndarray:
    """Points (n, 2) at these parts of a full turn, clockwise from up.

    >>> on_circle([0, 0.25]).round(3) + 0.0
    array([[0., 1.],
           [1., 0.]])
    """
    angles = 2 * np.pi * np.asarray(turns, dtype=float)
    return radius * np.stack([np.sin(angles), np.cos(angles)], axis=-1) + np.asarray(centre, dtype=float)


def circle(radius: float, centre: Sequence[float] = (0, 0)) -> np.ndarray:
    """A closed circle as a line (97, 2)."""
    return on_circle(np.linspace(0, 1, 97), radius, centre)


def rounded_box(width: float, height: float, bend: float, centre: Sequence[float] = (0, 0)) -> np.ndarray:
    """The outline of a rectangle whose corners are quarter circles of radius ``bend``."""
    quarter = np.linspace(0, 0.25, 9)
    corners = [(1, 1), (1, -1), (-1, -1), (-1, 1)]
    points = [
        on_circle(quarter + i / 4, bend, (x * (width / 2 - bend), y * (height / 2 - bend))) for i, (x, y) in enumerate(corners)
    ]
    return np.concatenate(points) + np.asarray(centre, dtype=float)


def one_step_apart(points: np.ndarray, lines: Iterable[np.ndarray] = ()) -> tuple[np.ndarray, tuple[np.ndarray, ...]]:
    """The points (n, 2), scaled so that the nearest two are 1 apart, and ``lines`` scaled with them."""
    gaps = np.linalg.norm(points[:, None] - points[None], axis=2)
    scale = 1 / gaps[gaps > 0].min() if (gaps > 0).any() else 1.0
    return points * scale, tuple(line * scale for line in lines)
