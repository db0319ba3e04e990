"""Names of puzzles: what each gives, and a sentence for each that gives none."""

import pickle
import re
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from oddswap.errors import BadOption, BadSolid, OddswapError, UnknownPuzzle
from oddswap.puzzles.base.mechanism import DIRECTIONS
from oddswap.puzzles.base.puzzle_names import FAMILIES, parse_name
from oddswap.puzzles.catalogue import load

CORNERS = [(x, y, z) for x in (1, -1) for y in (1, -1) for z in (1, -1)]


def solid_file(folder, name, half_spaces):
    """A file of half-spaces; `load` remembers what it read, so each test needs a name of its own."""
    lines = (f'[[half_space]]\nname = "{n}"\nnormal = {list(map(float, v))}\noffset = {o}\n' for n, v, o in half_spaces)
    (folder / name).write_text("".join(lines), "utf-8")


@pytest.mark.parametrize(
    "name, slots, labels, holdings",
    [
        ("cube:2", 8, 24, True),
        ("cube:3", 26, 72, False),
        ("cube:3,centres=marked", 26, 72, False),
        ("cube:3,centres=none", 20, 48, True),
        ("shape-mod:cube", 26, 72, False),
        ("shape-mod:prism3", 26, 72, False),
        ("shape-mod:prism8", 26, 72, False),
        ("shape-mod:prism12,cut=0.3,paint=U+D/F+B", 26, 72, False),
        ("shape-mod:cube,axis=UR,degrees=30", 26, 72, False),
        ("shape-mod:cube,shift=0.05/0.1/0.16", 26, 72, False),
    ],
)
def test_each_puzzle_has_its_pieces(name, slots, labels, holdings):
    puzzle = load(name)
    assert (len(puzzle.slots), puzzle.degree, bool(puzzle.rotations)) == (slots, labels, holdings)
    assert puzzle.name == name and eval(repr(puzzle), {"load": load}) is puzzle
    assert str(puzzle) and "\n" not in str(puzzle)


def test_kinds_and_slots_of_the_cube_in_the_agreed_order():
    kinds = load("cube:3").kinds
    assert [(k.name, k.family, k.twist) for k in kinds[:3]] == [
        ("corners", "corners", 3),
        ("edges", "edges", 2),
        ("centre U", "centres", 4),
    ]
    assert kinds[0].slots == ("UFL", "UFR", "UBL", "UBR", "DFL", "DFR", "DBL", "DBR")
    assert kinds[1].slots == ("UF", "UB", "UL", "UR", "DF", "DB", "DL", "DR", "FL", "FR", "BL", "BR")
    assert [k.slots for k in kinds[2:]] == [(face,) for face in "UDFBLR"]


def test_options_change_the_solid():
    assert np.isclose(load("shape-mod:cube,axis=U,degrees=90").geometry.facets["F"] @ DIRECTIONS["L"], 1)
    shifted = load("shape-mod:cube,shift=0.05/0.1/0.16").geometry
    corners = np.concatenate([body.faces[i].vertices for body in shifted.bodies for i in range(len(body.faces))])
    assert np.allclose(corners.max(axis=0), (1.05, 1.1, 1.16)) and set(shifted.paints.values()) == {"U"}
    assert load("shape-mod:prism8,paint=FR+FL").geometry.paints["FL"] == "FR"
    planes = load("shape-mod:cube,cut=0.4").geometry.mechanism.offsets
    assert np.allclose(np.abs(planes), 0.4)


@pytest.mark.parametrize("sides", [6, 7, 8, 9, 10, 12])
def test_by_default_the_facets_beside_f_end_at_the_cuts_of_a_prism(sides):
    """The corners at the ends of side F are at ± tan(π / n): the corner facets just fill the corner columns."""
    offsets = load(f"shape-mod:prism{sides}").geometry.mechanism.offsets
    assert np.allclose(np.abs(offsets), np.tan(np.pi / sides))


@pytest.mark.parametrize(
    "name, error, reason",
    [
        ("", UnknownPuzzle, "choose from cube, "),
        ("sphere:3", UnknownPuzzle, "choose from cube, "),
        (3, UnknownPuzzle, "such as cube:3, not `3`"),
        ("Cubes:4", UnknownPuzzle, "write such as cube:4$"),
        ("tetraeder", UnknownPuzzle, "write such as tetrahedron$"),
        ("cube3", UnknownPuzzle, "write cube:3$"),
        ("4", UnknownPuzzle, "write cube:4$"),
        ("3x3x3", UnknownPuzzle, "write cube:3$"),
        ("3x3x5", UnknownPuzzle, "write cuboid:3x3x5$"),
        ("box:3x3x5", UnknownPuzzle, "write cuboid:3x3x5$"),
        ("box of 3x3x5", UnknownPuzzle, "write cuboid:3x3x5$"),
        ("prism:8", UnknownPuzzle, "write shape-mod:prism8$"),
        ("prism8,turns=half", UnknownPuzzle, "write shape-mod:prism8$"),
        ("wheels.toml", UnknownPuzzle, "write custom:wheels.toml$"),
        ("cube:3,centre=none", BadOption, "write centres "),
        ("octahedron,tips=no", BadOption, "no option `tips`: it knows joined$"),
        *((f, UnknownPuzzle, f"write such as {re.escape(FAMILIES[f].example)}$") for f in FAMILIES if ":" in FAMILIES[f].example),
        ("cube:1", OddswapError, "cube"),
        ("shape-mod:ball", UnknownPuzzle, "prism3 to prism12"),
        ("shape-mod:prism", UnknownPuzzle, "prism3 to prism12"),
        ("shape-mod:prism²", UnknownPuzzle, "prism3 to prism12"),
        ("shape-mod:prism" + "9" * 5000, UnknownPuzzle, "prism3 to prism12"),
        ("shape-mod:prism13", BadSolid, "from 3 to 12 sides"),
        ("cube:3,centres", BadOption, "option=value"),
        ("cube:3,=plain", BadOption, "option=value"),
        ("cube:3,centres=", BadOption, "option=value"),
        ("cube:3,centres=plain,centres=plain", BadOption, "stands twice"),
        ("cube:3,centres=blue", BadOption, "plain, marked or none"),
        ("cube:2,centres=marked", BadOption, "no centres"),
        ("cube:3,cut=0.3", BadOption, "no option `cut`: it knows centres"),
        ("shape-mod:cube,colour=red", BadOption, "no option `colour`: it knows slabs, mechanism, axis, degrees"),
        ("shape-mod:cube,axis=U", BadOption, "go together"),
        ("shape-mod:cube,degrees=10", BadOption, "go together"),
        ("shape-mod:cube,axis=U,degrees=ten", BadOption, "not a number"),
        ("shape-mod:cube,axis=U,degrees=inf", BadOption, "not a number"),
        ("shape-mod:cube,cut=0", BadOption, "between 0 and 1"),
        ("shape-mod:cube,cut=1", BadOption, "between 0 and 1"),
        ("shape-mod:cube,cut=nan", BadOption, "not a number"),
        ("shape-mod:cube,shift=1", BadOption, "three numbers"),
        ("shape-mod:cube,paint=U+G", BadSolid, "`G`"),
    ],
)
def test_a_name_that_gives_no_puzzle_is_refused(name, error, reason):
    with pytest.raises(error, match=reason) as caught:
        load(name)
    assert "\n" not in str(caught.value) and len(str(caught.value)) < 200


def test_every_family_is_known_by_an_example_of_its_names():
    assert all(load(family.example) for family in FAMILIES.values() if "FILE" not in family.example)


@pytest.mark.parametrize("name", ["cube:25,cut=0.3", "shape-mod:prism12,centres=none", "cuboid"])
def test_nothing_is_built_before_a_name_is_checked(name, monkeypatch):
    for family, row in FAMILIES.items():
        monkeypatch.setitem(FAMILIES, family, row._replace(make=None))
    with pytest.raises(OddswapError):
        load(name)


@pytest.mark.parametrize(
    "options, reason",
    [
        ("cube,cut=0.985", "sliver at D?[FB]?"),
        ("cube,cut=0.004", "sliver"),
        ("cube,shift=0.66/0/0", "sliver"),
        ("prism8,cut=0.69", "sliver"),
        ("prism8,cut=0.72", "no piece at BL"),
        ("prism8,cut=0.7071067811865476", "no piece at BL"),  # the corner columns only touch the solid
        ("cube,axis=U,degrees=45,cut=0.9", "no piece at BL"),
        ("cube,shift=0.7/0/0", "no piece at D?F?L"),
        ("cube,shift=5/5/5", "no piece at"),
    ],
)
def test_cuts_that_leave_slivers_or_lose_pieces_are_refused(options, reason):
    with pytest.raises(BadSolid, match=reason):
        load(f"shape-mod:{options}")


def test_a_cut_exactly_through_edges_is_usable():
    """The default cut of an octagonal prism runs through its upright edges: the middle edges' caps show one facet only."""
    puzzle = load("shape-mod:prism8")
    facets = {
        slot: {face.facet for face in body.faces} - {None}
        for slot, body in zip(puzzle.slots, puzzle.geometry.bodies, strict=True)
    }
    assert facets["FL"] == {"FL"} and facets["UFL"] == {"U", "FL"} and facets["UF"] == {"U", "F"} and facets["F"] == {"F"}


def test_a_cut_exactly_through_corners_is_usable(tmp_path, monkeypatch):
    """|x|, |y|, |z| <= 1 and |x| + |y| + |z| <= 1.4 has the corner (1, 0.4, 0), on the plane y = 0.4."""
    monkeypatch.chdir(tmp_path)
    half_spaces = [(name, normal, 1) for name, normal in DIRECTIONS.items()]
    half_spaces += [(f"corner{i}", corner, 1.4) for i, corner in enumerate(CORNERS)]
    solid_file(tmp_path, "corners.toml", half_spaces)
    puzzle = load("shape-mod:corners.toml,cut=0.4")
    assert len(puzzle.slots) == 26
    body = dict(zip(puzzle.slots, puzzle.geometry.bodies, strict=True))["UF"]
    assert np.isclose(volume(body), (0.6**3 - 0.2**3) / 3)  # the integral of (0.6 - |x|)² / 2 over |x| <= 0.4


@pytest.mark.parametrize(
    "half_spaces, reason", [([("U", (0, 1, 0), -2)], "leave nothing"), ([("extra", (1, 1, 1), 9)], "`extra` cuts nothing")]
)
def test_half_spaces_of_a_file_that_give_no_solid_are_refused(half_spaces, reason, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    six = {name: (name, normal, 1) for name, normal in DIRECTIONS.items()} | {h[0]: h for h in half_spaces}
    solid_file(tmp_path, f"{half_spaces[0][0]}.toml", six.values())
    with pytest.raises(BadSolid, match=reason):
        load(f"shape-mod:{half_spaces[0][0]}.toml")


def test_an_open_solid_is_refused(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    solid_file(tmp_path, "open.toml", [(name, DIRECTIONS[name], 1) for name in "UDFBL"])
    with pytest.raises(BadSolid, match="do not close"):
        load("shape-mod:open.toml")


def test_names_are_split_with_spaces_forgiven():
    assert parse_name(" cube:3 , centres = marked ") == ("cube", "3", {"centres": "marked"})


NUMBERS = st.sampled_from(["0", "0.1", "0.33", "1/3", "0.5", "-0.2", "45", "60", "1e-8", "1e999", "x"])
OPTIONS = st.sampled_from(["axis", "degrees", "cut", "shift", "paint", "centres", "", "colour"])
VALUES = NUMBERS | st.sampled_from(["U", "URF", "UD", "0.1/0.2/0.3", "U+D", "U+D/F+B", "marked", "", "\n", "="])
SIZES = st.sampled_from(["2", "3", "cube", "prism5", "prism8", "²", "x.toml", "\0.toml", "/"])


@settings(max_examples=150)
@given(st.sampled_from(["cube", "shape-mod", "x", ""]), SIZES, st.lists(st.tuples(OPTIONS, VALUES), max_size=3))
def test_any_name_is_read_or_refused_in_one_line(family, size, options):
    check_name(",".join([f"{family}:{size}", *(f"{key}={value}" for key, value in options)]))


@given(st.text(max_size=30))
def test_any_text_is_read_or_refused_in_one_line(text):
    check_name(text)


@settings(max_examples=15)
@given(
    st.sampled_from(["cube", "prism3", "prism8"]),
    st.sampled_from(["U", "UR", "URF"]),
    st.floats(0, 360),
    st.floats(0.05, 0.95),
    st.floats(-0.3, 0.3),
)
def test_any_cut_of_any_solid_is_usable_or_refused(solid, axis, degrees, cut, shift):
    name = f"shape-mod:{solid},axis={axis},degrees={degrees},cut={cut},shift={shift}/0/{shift / 3}"
    puzzle = check_name(name)
    if puzzle:
        pieces = [*puzzle.geometry.bodies, *puzzle.geometry.inner]
        whole = {"cube": 8, "prism3": 6 * 3**0.5, "prism8": 16 * np.tan(np.pi / 8)}[solid]
        assert np.isclose(sum(volume(piece) for piece in pieces), whole)


def volume(body):
    """By the divergence theorem."""
    return sum(face.area * (face.normal @ face.centre) for face in body.faces) / 3


def check_name(name):
    try:
        return load(name)
    except OddswapError as error:
        assert str(error) and "\n" not in str(error) and "\0" not in str(error)


@pytest.mark.parametrize("name", ["cube:2", "loop:7,window=3", "tiles:2x2", "cuboid:2x2x4,turns=all"])
def test_a_puzzle_is_pickled_by_its_name_unless_it_was_changed(name):
    puzzle = load(name)
    assert pickle.loads(pickle.dumps(puzzle)) is puzzle
    with pytest.raises(TypeError, match="was changed by hand"):
        pickle.dumps(replace(puzzle, title="another"))
