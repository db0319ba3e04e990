"""Solids: facets where they should be, and half-spaces from a file read or refused."""

import numpy as np
import pytest

from oddswap.errors import BadSolid
from oddswap.puzzles.base.mechanism import DIRECTIONS
from oddswap.puzzles.solids.shapes import Facet, Solid, corner_axis, cuboid_solid, prism_solid, solid_from_file

CUBE = cuboid_solid((1.0, 1.0, 1.0))


def toml(*half_spaces) -> str:
    return "".join(f'[[half_space]]\nname = "{n}"\nnormal = {list(v)}\noffset = {o}\n' for n, v, o in half_spaces)


SIX = [(name, normal.tolist(), 1.0) for name, normal in DIRECTIONS.items()]


@pytest.fixture
def read(tmp_path):
    def from_text(text):
        path = tmp_path / "solid.toml"
        path.write_text(text, "utf-8") if isinstance(text, str) else path.write_bytes(text)
        return solid_from_file(path)

    return from_text


@pytest.mark.parametrize("half_sides", [(1, 1, 1), (1, 2, 3), (0.5, 1, 0.25)])
def test_a_box_has_its_sides(half_sides):
    body = cuboid_solid(half_sides).body()
    assert np.isclose(body.volume, 8 * np.prod(half_sides))
    assert np.allclose(np.abs(body.vertices).max(axis=0), half_sides)
    for face in body.faces:
        assert np.allclose(face.normal, DIRECTIONS[face.facet])


@pytest.mark.parametrize("sides", range(3, 13))
def test_a_prism_is_regular_with_a_side_at_f(sides):
    """Area of a regular polygon of inradius 1: n tan(π / n)."""
    solid = prism_solid(sides)
    body = solid.body()
    assert np.isclose(body.volume, 2 * sides * np.tan(np.pi / sides))
    normals = {facet.name: facet.normal for facet in solid.facets}
    assert len(normals) == sides + 2 and np.allclose(normals["F"], DIRECTIONS["F"])
    for name in normals.keys() & DIRECTIONS.keys():
        assert np.allclose(normals[name], DIRECTIONS[name])
    for name in normals.keys() & {"FL", "BL", "BR", "FR"}:
        assert np.allclose(normals[name], (DIRECTIONS[name[0]] + DIRECTIONS[name[1]]) / 2**0.5)


def test_prisms_name_their_sides_clockwise_from_above():
    assert [f.name for f in prism_solid(8).facets[2:]] == ["F", "FL", "L", "BL", "B", "BR", "R", "FR"]
    assert [f.name for f in prism_solid(4).facets[2:]] == ["F", "L", "B", "R"]
    assert [f.name for f in prism_solid(3).facets[2:]] == ["F", "side2", "side3"]
    assert prism_solid(3).facets[3].normal[0] < 0


@pytest.mark.parametrize("sides", [-1, 0, 2, 13])
def test_other_prisms_are_refused(sides):
    with pytest.raises(BadSolid, match="from 3 to 12"):
        prism_solid(sides)


def test_turning_is_clockwise_and_keeps_the_names():
    turned = {f.name: f.normal for f in CUBE.turned(DIRECTIONS["U"], 90).facets}
    assert np.allclose(turned["F"], DIRECTIONS["L"]) and np.allclose(turned["U"], DIRECTIONS["U"])


def test_shifting_moves_every_corner():
    shift = np.array([0.1, -0.2, 0.3])
    before, after = CUBE.body(), CUBE.shifted(shift).body()
    assert np.isclose(before.volume, after.volume)
    assert np.allclose(before.vertices.max(axis=0) + shift, after.vertices.max(axis=0))
    assert np.allclose(before.vertices.min(axis=0) + shift, after.vertices.min(axis=0))


def test_facets_painted_together_have_the_colour_of_the_first():
    paints = {f.name: f.paint for f in CUBE.painted([["R", "U"], ["F", "B", "L"]]).facets}
    assert paints == {"U": "R", "R": "R", "D": "D", "F": "F", "B": "F", "L": "F"}
    with pytest.raises(BadSolid, match="`X`"):
        CUBE.painted([["U", "X"]])


@pytest.mark.parametrize(
    "name, direction",
    [("U", (0, 1, 0)), ("L", (-1, 0, 0)), ("UR", (1, 1, 0)), ("DB", (0, -1, -1)), ("URF", (1, 1, 1)), ("BLD", (-1, -1, -1))],
)
def test_an_axis_is_named_by_faces_that_meet(name, direction):
    assert np.allclose(corner_axis(name), np.array(direction) / np.linalg.norm(direction))


@pytest.mark.parametrize("name", ["", "X", "u", "UD", "UU", "LR", "UFD", "UUF", "URFB"])
def test_other_axes_are_refused(name):
    with pytest.raises(BadSolid, match="such as U, UR or URF|such as URF"):
        corner_axis(name)


def test_a_file_is_read_with_normals_of_any_length(read):
    scaled = [(name, [3 * x for x in normal], 3 * offset) for name, normal, offset in SIX]
    body = read(toml(*scaled)).body()
    assert np.isclose(body.volume, 8) and {f.facet for f in body.faces} == set(DIRECTIONS)


@pytest.mark.parametrize(
    "text, reason",
    [
        ("half_space = [", "is not TOML"),
        (b"\xff\xfe", "is no text in UTF-8 from line 1 on"),
        ("", "give 4 to 60"),
        ("half_space = 3", "give 4 to 60"),
        ("half_space = [1, 2, 3, 4]", "number 1 needs a name"),
        (toml(*SIX[:3]), "give 4 to 60"),
        (toml(*SIX[:4], ("G", (0, 0, 0), 1)), "number 5 needs a name"),
        (toml(*SIX[:4], ("G", (1, 0), 1)), "number 5 needs a name"),
        (toml(*SIX[:4], ("G", (1, 0, 0), "nan")), "number 5 needs a name"),
        (toml(*SIX[:4], ("G", (1, 0, 0), "inf")), "number 5 needs a name"),
        (toml(*SIX) + "[[half_space]]\nname = 'G'\noffset = 1\n", "number 7 needs a name"),
        (toml(*SIX, SIX[0]), "share a name"),
    ],
)
def test_a_file_that_gives_no_half_spaces_is_refused(read, text, reason):
    with pytest.raises(BadSolid, match=reason):
        read(text)


@pytest.mark.parametrize("name", ["no such file.toml", ".", "\0.toml", "a" * 5000])
def test_a_file_that_cannot_be_read_is_refused(tmp_path, name):
    with pytest.raises(BadSolid, match="cannot be read"):
        solid_from_file(tmp_path / name)


@pytest.mark.parametrize(
    "half_spaces, reason",
    [
        (SIX[:5], "do not close"),
        ([("a", (1, 0, 0), 1), ("b", (-1, 0, 0), 1), ("c", (0, 1, 0), 1), ("d", (0, -1, 0), 1)], "do not close"),
        ([*SIX, ("G", (1, 1, 0), -2)], "leave nothing"),
        ([("U", (0, 1, 0), -1.5), *SIX[1:]], "leave nothing"),
        ([*SIX, ("G", (1, 1, 1), 2)], "`G` cuts nothing off"),
        ([*SIX, ("G", (1, 1, 1), 3**0.5)], "`G` cuts nothing off"),  # it touches a corner
        ([*SIX, ("G", (1, 1, 0), 2**0.5)], "`G` cuts nothing off"),  # it touches an edge
        ([*SIX, ("G", (0, 1, 0), 1)], "`G` cuts nothing off"),
        ([*SIX, ("G", (0, 1, 0), 0.5)], "`U` cuts nothing off"),
    ],
)
def test_half_spaces_that_give_no_solid_are_refused(half_spaces, reason):
    facets = (Facet(n, np.array(v) / np.linalg.norm(v), o, n) for n, v, o in half_spaces)
    with pytest.raises(BadSolid, match=reason):
        Solid(tuple(facets)).body()
