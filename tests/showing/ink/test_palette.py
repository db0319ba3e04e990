"""Colours, against the published palette, the definition in WCAG 2.2, and CIELAB (CIE 1976) as a second opinion."""

import itertools
import re
from pathlib import Path

import numpy as np
import pytest
from matplotlib.colors import to_rgb

from oddswap.errors import ContradictoryTicket, UnknownColour
from oddswap.puzzles.catalogue import load
from oddswap.showing.ink import palette
from oddswap.showing.ink.palette import LESSON, PALETTE, colours_for, contrast, ink_on, neighbours, read_colour

OKABE_ITO = {"000000": 21, "E69F00": 2.25, "56B4E9": 2.31, "009E73": 3.42, "F0E442": 1.32, "0072B2": 5.19}
OKABE_ITO |= {"D55E00": 3.87, "CC79A7": 3.06}
"""Okabe and Ito (2002/2008), hexadecimal as in Wong, Nature Methods 8 (2011) 441; contrast on white by WCAG 2.2."""

JUST_NOTICEABLE = 2.3
"""A difference in CIELAB that people just notice (Mahy, Van Eycken, Oosterlinck 1994; from memory)."""

SOLIDS = [
    "cube:2",
    "cube:3",
    *(f"shape-mod:prism{n}" for n in range(3, 13)),
    "tetrahedron",
    "octahedron",
    "dodecahedron",
    "shape-mod:cube,axis=U,degrees=45",
    "shape-mod:cube,axis=URF,degrees=60",
    "shape-mod:prism8,paint=FR+FL+BR+BL",
]


def cielab(colour):
    """CIE L*a*b* (1976) under D65, from the definition."""
    share = np.array(to_rgb(colour))
    linear = np.where(share <= 0.04045, share / 12.92, ((share + 0.055) / 1.055) ** 2.4)
    to_xyz = np.array([[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]])
    xyz = to_xyz @ linear / (0.95047, 1.0, 1.08883)
    f = np.where(xyz > (6 / 29) ** 3, np.cbrt(xyz), xyz / (3 * (6 / 29) ** 2) + 4 / 29)
    return np.array([116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])])


@pytest.mark.parametrize(("colour", "value"), OKABE_ITO.items())
def test_contrast_on_white(colour, value):
    assert contrast("#" + colour, "white") == pytest.approx(value, abs=0.006)
    assert contrast("white", "#" + colour) == contrast("#" + colour, "white")


def test_the_palette_is_the_published_one_and_lessons_use_six_of_it():
    assert {c.removeprefix("#") for c in PALETTE.values()} == set(OKABE_ITO) - {"000000"}
    assert set(LESSON.values()) <= set(PALETTE.values()) and len(set(LESSON.values())) == 6 == len(LESSON)


def test_no_face_has_the_colour_that_a_customary_cube_has_there():
    """The customary scheme, from memory: white up, yellow down, green front, blue back, orange left, red right."""
    customary = {"D": "yellow", "F": "bluish green", "B": "blue", "L": "orange", "R": "vermillion"}
    assert not any(LESSON[face] == PALETTE[colour] for face, colour in customary.items())
    pairs = {frozenset((LESSON[a], LESSON[b])) for a, b in ("UD", "FB", "LR")}
    for pair in (("bluish green", "blue"), ("orange", "vermillion")):
        assert frozenset(PALETTE[colour] for colour in pair) not in pairs


@pytest.mark.parametrize("name", SOLIDS)
def test_facets_differ_and_those_that_meet_differ_clearly(name):
    puzzle = load(name)
    colours = colours_for(puzzle)
    assert len(set(colours.values())) == len(set(puzzle.geometry.paints.values()))
    for paint, near in neighbours(puzzle).items():
        for other in near:
            assert np.linalg.norm(cielab(colours[paint]) - cielab(colours[other])) > 10 * JUST_NOTICEABLE


def test_letters_can_be_read_on_every_colour():
    every = [*LESSON.values(), *itertools.chain(*palette.FURTHER), *palette.STICKERS.values(), palette.UNKNOWN]
    grid = [f"#{r:02x}{g:02x}{b:02x}" for r, g, b in itertools.product(range(0, 256, 51), repeat=3)]
    assert min(contrast(ink_on(colour), colour) for colour in every + grid) >= 4.5


def test_words_and_graphics_have_the_contrast_of_wcag():
    assert min(contrast(ink, palette.TABLE) for ink in (palette.INK, palette.FAINT_INK)) >= 4.5
    assert contrast(palette.FAINT_INK, palette.PAPER) >= 4.5
    for colour in LESSON.values():
        assert contrast(palette.BODY, colour) >= 3
    for sheet in (palette.PAPER, palette.TABLE, palette.BACKDROP):
        assert contrast(palette.HIGHLIGHT, sheet) >= 3 and contrast(palette.BODY, sheet) >= 3


def test_own_colours_and_lesson_colours_side_by_side():
    puzzle = load("cube:3")
    colours = colours_for(puzzle, {"U": "White", "F": "#56b4e9"})
    assert (colours["U"], colours["F"]) == ("#FFFFFF", "#56B4E9")
    assert list(colours) == list("UDFBLR") and len(set(colours.values())) == 6


def test_a_lesson_colour_gives_way_to_an_own_colour_like_it():
    colours = colours_for(load("cube:3"), {"D": LESSON["U"]})
    assert colours["D"] == LESSON["U"]
    assert min(palette.difference(colours["U"], colours[face]) for face in "DFBLR") >= palette.CLOSE


def test_facets_that_share_a_colour_take_it_from_any_of_them():
    puzzle = load("shape-mod:prism8,paint=FR+FL/U+D")
    assert colours_for(puzzle, {"FL": "silver"})["FR"] == "#C0C0C0"
    assert "FL" not in colours_for(puzzle)


def test_two_colours_for_one_paint_contradict_each_other():
    puzzle = load("shape-mod:prism8,paint=FR+FL")
    assert colours_for(puzzle, {"FR": "red", "FL": "Red"})["FR"] == palette.STICKERS["red"]
    with pytest.raises(ContradictoryTicket, match="FL shares its colour with FR"):
        colours_for(puzzle, {"FR": "red", "FL": "blue"})


@pytest.mark.parametrize("text", ["", "octarine", "#12", "#gggggg", "0.5", "r", "none", "C0", "white; red", "\n"])
def test_what_is_no_colour_is_refused_in_one_line(text):
    with pytest.raises(UnknownColour) as refusal:
        read_colour(text)
    assert "\n" not in str(refusal.value) and "CSS colour name" in str(refusal.value)


def test_a_facet_that_is_not_there_is_refused():
    with pytest.raises(UnknownColour, match="no facet `Q` to colour: its facets are U, D, F, B, L, R"):
        colours_for(load("cube:3"), {"Q": "red"})


SOURCE = Path(palette.__file__).parents[2]
OUTSIDE = {"lessons": "the two greys of a board", "puzzles": "examples", "describing": "examples"}
"""Where a colour may stand by its number, with the reason."""


def by_number(text):
    """Colours written by number, but for those in a doctest or an example."""
    return re.findall(r"""["' ]#(?:[0-9a-fA-F]{3,4}|[0-9a-fA-F]{6}|[0-9a-fA-F]{8})\b(?=["' ;])""", text)


def test_colours_stand_in_one_file():
    files = [path for suffix in ("py", "js", "css", "html") for path in SOURCE.rglob(f"*.{suffix}")]
    ours = {str(path.relative_to(SOURCE)): by_number(path.read_text("utf-8")) for path in files}
    found = {path: wrong for path, wrong in ours.items() if wrong and not path.startswith(tuple(OUTSIDE))}
    assert len(files) > 200 and set(found) == {"showing/ink/palette.py"}


def test_every_name_of_a_colour_in_style_sheets_scripts_and_pages_is_there():
    files = [path for suffix in ("js", "css", "html") for path in SOURCE.rglob(f"*.{suffix}")]
    named = {path.name: re.findall(r"\$[A-Z_]+", path.read_text("utf-8")) for path in files}
    assert {name for name, found in named.items() if found} >= {"page.js", "desk.css", "edition.css", "prompter.html"}
    assert not any(re.search(r"\$[A-Z]", palette.coloured(path.read_text("utf-8"))) for path in files)
    with pytest.raises(KeyError):
        palette.coloured("$NO_SUCH_COLOUR")
