"""Colours: one meaning, one colour; the visitor's own where they are named; contrast as WCAG 2.2 counts it.

Lessons use six colours of the Okabe-Ito palette (Okabe and Ito, 2002/2008, made to be told apart by people with any of the
usual kinds of colour vision) for the faces U D F B L R, in an assignment of our own. The further facets, best match
first, take the colour that differs most from those in use, where neighbours must differ more: from what is left of the
palette and white, then from tints, then from shades, as long as one is far enough.
"""

import re
from collections.abc import Mapping, Sequence
from functools import lru_cache
from itertools import permutations, product
from types import MappingProxyType

import numpy as np
from matplotlib.colors import CSS4_COLORS, to_hex, to_rgb

from oddswap.errors import BadOption, ContradictoryTicket, UnknownColour, quoted
from oddswap.puzzles.base.mechanism import Geometry
from oddswap.puzzles.base.puzzle import Puzzle

PALETTE: Mapping[str, str] = MappingProxyType(
    {
        "orange": "#E69F00",
        "sky blue": "#56B4E9",
        "bluish green": "#009E73",
        "yellow": "#F0E442",
        "blue": "#0072B2",
        "vermillion": "#D55E00",
        "reddish purple": "#CC79A7",
    }
)
LESSON: Mapping[str, str] = MappingProxyType(
    {
        "U": PALETTE["sky blue"],
        "D": PALETTE["blue"],
        "F": PALETTE["reddish purple"],
        "B": PALETTE["orange"],
        "L": PALETTE["bluish green"],
        "R": PALETTE["yellow"],
    }
)
"""The two blues lie opposite each other, so that they never meet."""

BODY = "#16181B"
"""What holds the stickers, and every outline."""
CUT = "#565C64"
"""Faces that a cut has made: seen inside a turn, and outside on a scrambled shape."""
UNKNOWN = "#C8CCD2"
"""A sticker that is not known; it also bears a question mark."""
HIGHLIGHT = "#B5006B"
"""The outline of the pieces that the text speaks of, and the cells of a tally that change."""
ARROW = "#16181B"
"""The arrow of the slab that turns, on a casing of ``PAPER``."""
PAPER = "#FFFFFF"
TABLE = "#F3F1EC"
BACKDROP = "#DDE3E8"
INK = "#23272C"
FAINT_INK = "#5A626B"

BLACK, SHADOW = "#000000", "#00000066"
GROUND, GROOVE = "#BCC5CD", "#9AA0A6"
"""What a flat puzzle lies on in the viewer, and the grooves in it."""
LINE, BUTTON = "#8A929B", "#2F343A"
FOCUS, DARK_FOCUS = PALETTE["blue"], PALETTE["yellow"]
"""Round what the keyboard is at, on light and on dark."""
DARK_TABLE, DARK_PAPER, DARK_BACKDROP = "#1D2125", "#30353B", "#454C54"
DARK_INK, DARK_FAINT_INK, DARK_LINE, DARK_HIGHLIGHT = "#F2F4F6", "#C3C9CF", "#9AA2AA", "#FF8FD0"
PAGE, PAGE_FAINT, PAGE_LINE, CODE, LINK, MARKED = "#FBFAF7", "#535B63", "#C9CDD1", "#EFEEEA", "#00507A", "#FDF0C8"
"""Of the course as pages: the ground, lesser words, lines, code, links, and what a search has found."""
DARK_PAGE_FAINT, DARK_PAGE_LINE, DARK_CODE, DARK_LINK, DARK_MARKED = "#B9C0C7", "#4A5158", "#2A2F35", "#8FCDF2", "#4A4222"
TONES = "#FFFFFF", "#D9D9D9", "#B0B0B0", "#8A8A8A", "#666666", "#3C3C3C"
"""Of stickers on sheets that are printed or copied without colour, beside a letter on each."""
PRINT_FAINT, PRINT_LINE = "#444444", "#999999"

CLOSE = 0.1
"""Two colours nearer than this in OKLab are too alike to stand for two facets; neighbours must differ half as much again."""


def coloured(text: str) -> str:
    """A style sheet, script or page with the colours of this file in place of their names; `KeyError` for a name of none.

    >>> coloured("a { color: $LINK; background: $PAPER }")
    'a { color: #00507A; background: #FFFFFF }'
    """
    return re.sub(r"\$([A-Z]+(?:_[A-Z]+)*)", lambda name: globals()[name[1]], text)


@lru_cache(maxsize=1024)
def mix(colour: str, other: str, share: float) -> str:
    """``colour`` with ``share`` (0 to 1) of ``other`` mixed in."""
    return to_hex((1 - share) * np.array(to_rgb(colour)) + share * np.array(to_rgb(other))).upper()


FURTHER: tuple[tuple[str, ...], ...] = (
    (PALETTE["vermillion"], "#FFFFFF"),
    tuple(mix(colour, "#FFFFFF", 0.6) for colour in PALETTE.values()),
    tuple(mix(colour, "#000000", 0.5) for colour in PALETTE.values()),
)
"""The colours of further facets, first choice first: what is left of the palette and white, tints, shades."""


def luminance(colour: str) -> float:
    """Relative luminance, 0 to 1 (WCAG 2.2, definition of that name)."""
    return float(_linear(colour) @ (0.2126, 0.7152, 0.0722))


def _linear(colour: str) -> np.ndarray:
    """The light of red, green and blue (3,), each 0 to 1."""
    share = np.array(to_rgb(colour))
    return np.where(share <= 0.04045, share / 12.92, ((share + 0.055) / 1.055) ** 2.4)


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours, 1 to 21 (WCAG 2.2, definition of that name).

    >>> round(contrast("#0072B2", "white"), 2)
    5.19
    """
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


@lru_cache(maxsize=256)
def ink_on(colour: str) -> str:
    """Black or white, whichever reads better on ``colour``; one of them always reaches 4.5:1."""
    return max("#000000", "#FFFFFF", key=lambda ink: contrast(ink, colour))


def difference(one: str, other: str) -> float:
    """Distance of two colours in OKLab (Ottosson, 2020), 1 from black to white."""
    return float(np.linalg.norm(_oklab(one) - _oklab(other)))


def _oklab(colour: str) -> np.ndarray:
    return _TO_LAB @ np.cbrt(_TO_CONES @ _linear(colour))


_TO_CONES = np.array(
    [
        [0.4122214708, 0.5363325363, 0.0514459929],
        [0.2119034982, 0.6806995451, 0.1073969566],
        [0.0883024619, 0.2817188376, 0.6299787005],
    ]
)
_TO_LAB = np.array(
    [
        [0.2104542553, 0.7936177850, -0.0040720468],
        [1.9779984951, -2.4285922050, 0.4505937099],
        [0.0259040371, 0.7827717662, -0.8086757660],
    ]
)


STICKERS: Mapping[str, str] = MappingProxyType(
    {"red": "#C4302B", "orange": "#F08A24", "yellow": "#F5D327", "green": "#2E9E5B", "blue": "#2461B0"}
)
"""What these names mean on a sticker, where the screen's purest red or green would glare."""


def read_colour(text: str) -> str:
    """A visitor's colour, by its CSS name or as ``#rrggbb``, as ``#RRGGBB``; `UnknownColour` otherwise.

    >>> read_colour("Sky Blue"), read_colour("#56b4e9")
    ('#87CEEB', '#56B4E9')
    """
    clean = "".join(str(text).lower().split())
    try:
        if not clean.startswith("#") and clean not in CSS4_COLORS:
            raise ValueError
        return to_hex(STICKERS.get(clean, clean)).upper()
    except ValueError:
        raise UnknownColour(
            f"{quoted(text)} is not the name of a colour: write a CSS colour name such as orange, or #rrggbb"
        ) from None


def solid(puzzle: Puzzle) -> Geometry:
    """The geometry of a puzzle; `BadOption` where there is none."""
    if puzzle.geometry is None:
        raise BadOption(f"{puzzle.name} is no solid, which this picture is for: draw it flat, with draw_flat or draw_boards")
    return puzzle.geometry


def colours_for(puzzle: Puzzle, own: Mapping[str, str] | None = None) -> dict[str, str]:
    """``#rrggbb`` for every paint of the puzzle: the ``own`` colours by facet name, and lesson colours for the rest.

    A lesson colour too like one of the ``own`` gives way to the free colour that differs most. Raises
    `UnknownColour`, and `ContradictoryTicket` where facets that share a colour are given two.
    """
    paints = solid(puzzle).paints
    chosen: dict[str, str] = {}
    for facet, text in (own or {}).items():
        if facet not in paints:
            raise UnknownColour(f"the puzzle has no facet {quoted(facet)} to colour: its facets are {', '.join(paints)}")
        colour = read_colour(text)
        if chosen.setdefault(paints[facet], colour) != colour:
            raise ContradictoryTicket(
                f"{facet} shares its colour with {paints[facet]} on this puzzle, but they are given two: name one of them"
            )
    if not chosen:
        return dict(_lesson_colours(puzzle))
    clear = {
        paint: colour
        for paint, colour in _lesson_colours(puzzle).items()
        if paint not in chosen and all(difference(colour, taken) >= CLOSE for taken in chosen.values())
    }
    return _completed(puzzle, chosen | clear)


@lru_cache(maxsize=64)
def tones_for(puzzle: Puzzle) -> Mapping[str, str]:
    """A tone of grey for every paint: neighbours well apart, then all others, as far as the ``TONES`` go."""
    near, chosen = neighbours(puzzle), {}

    def apart(paint: str, tone: str) -> tuple[float, ...]:
        gaps = {other: difference(tone, used) for other, used in chosen.items()}
        beside = min((gap for other, gap in gaps.items() if other in near[paint]), default=1.0)
        return min(beside, 2 * CLOSE), min(gaps.values(), default=1.0), beside

    for paint in dict.fromkeys(puzzle.geometry.paints.values()):
        chosen[paint] = max(TONES, key=lambda tone, paint=paint: apart(paint, tone))
    return MappingProxyType(chosen)


@lru_cache(maxsize=64)
def _lesson_colours(puzzle: Puzzle) -> Mapping[str, str]:
    return MappingProxyType(
        _completed(puzzle, {paint: LESSON[paint] for paint in puzzle.geometry.paints.values() if paint in LESSON})
    )


def _completed(puzzle: Puzzle, chosen: dict[str, str]) -> dict[str, str]:
    """The colours ``chosen`` and, one after the other, those of the paints that have none yet."""
    near, paints = neighbours(puzzle), list(dict.fromkeys(puzzle.geometry.paints.values()))
    while rest := [paint for paint in paints if paint not in chosen]:
        paint, colour = _best_pair(rest, chosen, near)
        chosen[paint] = colour
    return {paint: chosen[paint] for paint in paints}


def _best_pair(rest: Sequence[str], used: Mapping[str, str], near: Mapping[str, frozenset[str]]) -> tuple[str, str]:
    """One of the ``rest`` and the colour for it that is farthest from those in use, of the first choice that will do."""

    def gap(pair: tuple[str, str]) -> float:
        distances = (difference(pair[1], c) * (2 / 3 if p in near[pair[0]] else 1.0) for p, c in used.items())
        return round(min(distances, default=1.0), 6)

    best = [max(product(rest, choice), key=gap) for choice in (tuple(LESSON.values()), *FURTHER)]
    return next((pair for pair in best if gap(pair) >= CLOSE), max(best, key=gap))


@lru_cache(maxsize=64)
def neighbours(puzzle: Puzzle) -> Mapping[str, frozenset[str]]:
    """For each paint, the paints that share a piece or an edge of the solid with it."""
    geometry = puzzle.geometry
    near: dict[str, set[str]] = {paint: set() for paint in geometry.paints.values()}
    corners: dict[str, set[tuple[float, ...]]] = {paint: set() for paint in near}
    for body in geometry.bodies:
        shown = geometry.paints_of(body)
        for paint in shown:
            near[paint] |= shown - {paint}
        for face in body.faces:
            if face.facet:
                corners[geometry.paints[face.facet]].update(map(tuple, face.vertices.round(6) + 0.0))
    for one, other in permutations(near, 2):
        if len(corners[one] & corners[other]) > 1:
            near[one].add(other)
    return MappingProxyType({paint: frozenset(others) for paint, others in near.items()})
