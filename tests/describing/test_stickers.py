import random
from itertools import product

import numpy as np
import pytest

from oddswap.describing.stickers import as_named, paints_of, read_faces, seen_stickers, stickers, write_faces
from oddswap.errors import BadRows, BadTicket, UnknownColour
from oddswap.puzzles.catalogue import load
from tests.common import vectors
from tests.common.vectors import VECTORS, quarter, solved
from tests.describing.rows import FACES, mixed, rows_of


def named(puzzle):
    table = stickers(puzzle)
    return {
        face: " / ".join(" ".join(puzzle.slots[table.places[place][0]] for place in row) for row in rows)
        for face, rows in table.grid.items()
    }


def certain(paints):
    return tuple(frozenset((paint,)) for paint in paints)


def seen_in_space(puzzle, state):
    """The colours of the model of integer vectors, place by place."""
    return tuple(state[vectors.position(puzzle.slots[slot]), vectors.VECTORS[face]] for slot, face in stickers(puzzle).places)


def test_faces_are_read_as_a_cube_in_the_hands_is():
    assert named(load("cube:3")) == FACES
    for without, dropped in (("cube:3,centres=none", lambda slot: len(slot) == 1), ("cube:2", lambda slot: len(slot) < 3)):
        for face, rows in named(load(without)).items():
            kept = [[slot for slot in row.split() if not dropped(slot)] for row in FACES[face].split(" / ")]
            assert rows == " / ".join(" ".join(row) for row in kept if row)


@pytest.mark.parametrize("name", ["cube:2", "cube:3"])
def test_the_stickers_of_an_arrangement_agree_with_vectors_in_space(name):
    puzzle = load(name)
    for length in (0, 1, 2, 5, 30):
        for seed in range(6):
            text, state = mixed(int(name[-1]), length, seed)
            arrangement = puzzle.follow(text)
            paints = paints_of(puzzle, arrangement)
            assert paints == seen_in_space(puzzle, state)
            assert seen_stickers(puzzle, certain(paints)).sights == puzzle.appearance(arrangement).sights


def test_a_known_sequence_turns_over_two_edges_and_keeps_two_layers():
    """F R U R' U' F' changes which way up exactly two last-layer edges are: common practice, no source."""
    cube = load("cube:3")
    table, paints = stickers(cube), paints_of(cube, cube.follow("F R U R' U' F'"))
    below = [i for i, (slot, _) in enumerate(table.places) if "U" not in cube.slots[slot]]
    assert all(paints[i] == table.places[i][1] for i in below)
    assert [paints[table.at[cube.slot(edge), "U"]] == "U" for edge in ("UF", "UB", "UL", "UR")].count(False) == 2


def test_what_was_not_seen_leaves_every_piece_that_fits():
    cube = load("cube:3")
    table, colours = stickers(cube), list(certain(paints_of(cube, cube.solved)))
    colours[table.at[cube.slot("UF"), "F"]] = frozenset()
    sights = seen_stickers(cube, tuple(colours)).sights
    assert len(sights[cube.slot("UF")]) == 4  # the pieces with a U sticker, that sticker on U
    colours[table.at[cube.slot("UF"), "F"]] = frozenset("FR")
    assert len(seen_stickers(cube, tuple(colours)).sights[cube.slot("UF")]) == 2
    assert all(len(sight) == 1 for slot, sight in enumerate(sights) if slot != cube.slot("UF"))


@pytest.mark.parametrize(
    "slot, colours",
    [("UF", "UD"), ("UF", "UU"), ("UFR", "URF"), ("UFR", "UFB")],
    ids=["opposite faces", "one colour twice", "a mirrored corner", "faces that never meet"],
)
def test_what_no_piece_shows_is_a_finding(slot, colours):
    cube = load("cube:3")
    table, told = stickers(cube), list(certain(paints_of(cube, cube.solved)))
    for face, colour in zip(slot, colours, strict=True):
        told[table.at[cube.slot(slot), face]] = frozenset(colour)
    assert seen_stickers(cube, tuple(told)).foreign == (cube.slot(slot),)


def test_colours_do_not_tell_how_a_marked_centre_is_turned():
    cube = load("cube:3,centres=marked")
    sights = seen_stickers(cube, certain(paints_of(cube, cube.follow("R U")))).sights
    assert {len(sight) for sight, kind in zip(sights, cube.kind_of, strict=True) if kind.family == "centres"} == {4}
    assert {len(sight) for sight, kind in zip(sights, cube.kind_of, strict=True) if kind.family != "centres"} == {1}


@pytest.mark.parametrize("name", ["shape-mod:prism8", "shape-mod:cube,axis=U,degrees=45", "tetrahedron", "tiles:3x3"])
def test_puzzles_that_are_not_told_by_rows_have_no_sticker_places(name):
    assert stickers(load(name)) is None


CUBE = load("cube:3")
WHOLE = {"x": "R", "y": "U", "z": "F"}
HOLDINGS = ["x", "y'", "z2", "x y", "x2 y'", "z' y2", "x y2 z"]
COLOURS = {"U": "ivory", "D": "tar black", "F": "#3d5a80", "B": "plum", "L": "teal", "R": "gold"}


def whole_turn(words):
    """The matrix of whole-puzzle rotations, which turn as R, U and F do."""
    matrix = np.eye(3, dtype=int)
    for word in words.split():
        amount = {"": 1, "2": 2, "'": 3}[word[1:]]
        matrix = np.linalg.matrix_power(quarter(WHOLE[word[0]]), amount) @ matrix
    return matrix


def moved(state, matrix):
    return {tuple(tuple((matrix @ np.array(v)).tolist()) for v in place): seen for place, seen in state.items()}


@pytest.mark.parametrize("words", ["", *HOLDINGS])
def test_a_puzzle_held_in_another_way_is_turned_back(words):
    text, state = mixed(3, 20, words)
    told, held = as_named(CUBE, read_faces(CUBE, {}, rows_of(moved(state, whole_turn(words)))))
    assert (held == "") == (words == "")
    assert (whole_turn(held) == whole_turn(words)).all()
    assert told == tuple(frozenset(paint) for paint in paints_of(CUBE, CUBE.follow(text)))


def places_in_space(size):
    """The stickers of a box of slabs (along x, y, z), face by face in the order in which they are read."""
    cells = [np.array(cell) for cell in product(*(range(1 - n, n, 2) for n in size))]
    found = {}
    for face, outward in VECTORS.items():
        up = np.array(VECTORS[{"U": "B", "D": "F"}.get(face, "U")])
        right = np.cross(up, outward)
        there = [cell for cell in cells if cell @ np.array(outward) == max(c @ np.array(outward) for c in cells)]
        there.sort(key=lambda cell: (-(cell @ up), cell @ right))
        found[face] = [(tuple(cell.tolist()), outward) for cell in there]
    return found


@pytest.mark.parametrize(
    "name, size, holdings", [("cube:5", (5, 5, 5), HOLDINGS), ("cuboid:3x5x7", (3, 5, 7), ["x2", "y2", "z2"])]
)
def test_boxes_of_more_slabs_are_turned_back_too(name, size, holdings):
    """Each sticker but the centres has a colour of its own here, so that each must come to its own place."""
    puzzle = load(name)
    grid, faces = stickers(puzzle).grid, places_in_space(size)
    at = {sticker: place for face in faces for sticker, place in zip(faces[face], np.ravel(grid[face]), strict=True)}
    colour = {sticker: f"{face}{i}" for face in faces for i, sticker in enumerate(faces[face])}
    for face, there in faces.items():
        colour[there[len(there) // 2]] = face
    for words in holdings:
        told, named = [None] * len(at), [None] * len(at)
        for sticker, seen in colour.items():
            named[at[sticker]] = frozenset((seen,))
        for sticker, seen in moved(colour, whole_turn(words)).items():
            told[at[sticker]] = frozenset((seen,))
        assert as_named(puzzle, tuple(told))[0] == tuple(named) != tuple(told)


def test_there_are_as_many_holdings_as_rotations_of_a_cube():
    found = set()
    for words in product(("", "x", "x2", "x'", "z", "z'"), ("", "y", "y2", "y'")):
        rows = rows_of(moved(solved(3), whole_turn(" ".join(words))))
        found.add(as_named(CUBE, read_faces(CUBE, {}, rows))[1])
    assert len(found) == 24


def centres(**seen):
    rows = {face: ["? ? ?", f"? {colour} ?", "? ? ?"] for face, colour in seen.items()}
    return read_faces(CUBE, {}, rows)


def test_centres_decide_how_it_was_held_as_far_as_they_were_seen():
    assert as_named(CUBE, centres(U="?", F="U|F"))[1] == ""
    assert as_named(CUBE, centres(U="U", F="R"))[1] == "y"
    assert as_named(CUBE, centres(U="F", F="D"))[1] == "x"
    with pytest.raises(BadTicket, match="add a face beside"):
        as_named(CUBE, centres(U="F", D="B"))


def test_centres_that_fit_no_holding_stay_as_they_were_told():
    mirrored = centres(U="U", F="F", L="R", R="L")
    assert as_named(CUBE, mirrored) == (mirrored, "")


def test_where_nothing_fixes_the_holding_nothing_is_turned():
    for name in ("cube:2", "cube:3,centres=none"):
        puzzle = load(name)
        told = tuple(frozenset(paint) for paint in paints_of(puzzle, puzzle.follow("R U x y'")))
        assert as_named(puzzle, told) == (told, "")
        assert seen_stickers(puzzle, told).complete


@pytest.mark.parametrize("name", ["cube:2", "cube:3", "cube:3,centres=none", "cube:4", "cuboid:2x3x4"])
def test_rows_are_written_as_they_are_read(name):
    puzzle = load(name)
    rng = random.Random(name)
    choices = [frozenset(rng.sample("UDFBLR", count)) for count in (0, 1, 1, 1, 2, 6)]
    told = tuple(rng.choice(choices) for _ in stickers(puzzle).places)
    for colours in ({}, COLOURS):
        assert read_faces(puzzle, colours, write_faces(puzzle, colours, told)) == told


def test_words_for_stickers():
    rows = [["ivory", " Tar  BLACK ", "#3D5A80"], "IVORY|gold ? B", ["U", "gold | plum", "R"]]
    told = read_faces(CUBE, COLOURS, {"U": rows})
    seen = [[told[place] for place in row] for row in stickers(CUBE).grid["U"]]
    assert seen == [
        [frozenset("U"), frozenset("D"), frozenset("F")],
        [frozenset("UR"), frozenset(), frozenset("B")],
        [frozenset("U"), frozenset("RB"), frozenset("R")],
    ]
    assert sum(colours is None for colours in told) == 45


@pytest.mark.parametrize(
    "faces, error, words",
    [
        ({"X": []}, BadTicket, "[seen] `X`: cube:3 has no such face, only U, D, F, B, L, R"),
        ({"U": ["U U U"]}, BadRows, "[seen.U] has 1 rows: give 3 from top to bottom"),
        ({"U": ["U U U", "U U", "U U U"]}, BadRows, "[seen.U] row 2 has 2 stickers: give 3 from left to right"),
        ({"U": ["U U U", "U U U", 7]}, BadTicket, "[seen.U] row 3 is of the wrong type"),
        ({"U": [["U", "U", 7], "U U U", "U U U"]}, BadTicket, "[seen.U] row 1 is of the wrong type"),
        ({"U": ["U U U", "U ivor U", "U U U"]}, UnknownColour, "[seen.U] row 2, sticker 2: `ivor` is no colour"),
        ({"U": ["U U U", "U U|? U", "U U U"]}, UnknownColour, "[seen.U] row 2, sticker 2: `?` is no colour"),
        ({"U": ["U U U", "U U U", "U U |"]}, UnknownColour, "[seen.U] row 3, sticker 3: `` is no colour"),
    ],
)
def test_rows_that_cannot_be_used_are_explained(faces, error, words):
    with pytest.raises(error) as caught:
        read_faces(CUBE, COLOURS, faces)
    assert words in str(caught.value)
    if error is UnknownColour:
        assert "U, D, F, B, L, R, ivory, tar black, #3d5a80, plum, teal, gold, or ?" in str(caught.value)


def test_a_puzzle_told_by_shapes_takes_no_rows():
    with pytest.raises(BadTicket, match=r"write \[slots\]"):
        read_faces(load("shape-mod:prism8"), {}, {"U": []})
