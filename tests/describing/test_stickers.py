import pytest

from oddswap.describing.stickers import paints_of, seen_stickers, stickers
from oddswap.puzzles.catalogue import load
from tests.common import vectors
from tests.describing.rows import FACES, mixed


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
