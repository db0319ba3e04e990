"""Face- and corner-turning polyhedra against published orders, dots on faces, and the bodies that their turns carry."""

from itertools import combinations

import numpy as np
import pytest

from oddswap.puzzles.base.space import turn_matrix
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.law_book import law_book
from tests.common import gap
from tests.common.published import cases
from tests.puzzles.solids import dots

MODELS = {
    "tetrahedron": dots.tetrahedron(tips=True),
    "tetrahedron,tips=no": dots.tetrahedron(tips=False),
    "octahedron": dots.octahedron(),
    "dodecahedron": dots.dodecahedron(),
    "corner-cube": dots.corner_cube(),
}
TWELVE = "ABCDEFGHIJKL"


@pytest.mark.parametrize("name, appearances, index", cases("polyhedra", "puzzle", "appearances", "index"))
def test_published_orders(name, appearances, index):
    book = law_book(load(name))
    assert (str(book.appearances), book.index, book.complete) == (appearances, index, True)


@gap.needs_gap
def test_orders_are_those_of_dots_on_faces():
    """Dots do not show how a piece with a single sticker is turned: five-fold centres, and centres of faces by a half turn."""
    unseen = {"dodecahedron": 5**12, "corner-cube": 2**5}
    said = gap.gap("\n".join(f'Print(Size({gap.group(model.moves())}), "\\n");' for model in MODELS.values()))
    for name, order in zip(MODELS, said, strict=True):
        assert law_book(load(name)).order == int(order) * unseen.get(name, 1)


@pytest.mark.parametrize("name", MODELS)
def test_a_turn_has_the_cycles_of_its_dots(name):
    """By how many slots and by how many labels of stickers it moves: a dot is a piece and one of its faces."""
    puzzle, model = load(name), MODELS[name]
    faces = [sum(face.facet is not None for face in body.faces) for body in puzzle.geometry.bodies]
    assert sum(faces) == len(model.points)
    first = [turn for turn in puzzle.turns.values() if turn.step.amount == 1]
    found = sorted(stickers_moved(puzzle, turn, faces) for turn in first)
    assert found == sorted(int((move != np.arange(len(move))).sum()) for move in model.moves())


def stickers_moved(puzzle, turn, faces):
    """The stickers of the slots that a turn moves, a sticker alone in its slot only if it goes to another."""
    slot_of = np.repeat(np.arange(len(puzzle.slots)), [kind.twist for kind in puzzle.kind_of])
    goes = slot_of[turn.permutation[puzzle.base_label]]
    twisted = turn.permutation[puzzle.base_label] != puzzle.base_label
    return sum(n for slot, n in enumerate(faces) if goes[slot] != slot or (twisted[slot] and n > 1))


@pytest.mark.parametrize("name", MODELS)
def test_a_turn_takes_each_body_to_the_body_of_the_slot_where_it_goes(name):
    puzzle = load(name)
    slot_of = np.repeat(np.arange(len(puzzle.slots)), [kind.twist for kind in puzzle.kind_of])
    corners = [vertices(body) for body in puzzle.geometry.bodies]
    for turn in (*puzzle.turns.values(), *puzzle.rotations.values()):
        matrix = turn_matrix(turn.axis, turn.angle)
        goes = slot_of[turn.permutation[puzzle.base_label]]
        for slot, target in enumerate(goes):
            if slot in turn.slots or turn.whole:
                assert same_points(corners[slot] @ matrix.T, corners[target]), (turn.name, puzzle.slots[slot])
            else:
                assert slot == target


def vertices(body):
    return np.concatenate([face.vertices for face in body.faces])


def same_points(some, others):
    distance = np.linalg.norm(some[:, None] - others[None], axis=2)
    return distance.min(axis=0).max() < 1e-6 and distance.min(axis=1).max() < 1e-6


@pytest.mark.parametrize("name", MODELS)
def test_a_slot_is_called_by_the_facets_that_it_touches(name):
    puzzle = load(name)
    for slot, body in zip(puzzle.slots, puzzle.geometry.bodies, strict=True):
        assert set(slot.partition(".")[0]) == {face.facet for face in body.faces} - {None}


@pytest.mark.parametrize(
    "name, sizes",
    [
        ("tetrahedron", {"tips": [1] * 4, "corners": [1] * 4, "edges": [6]}),
        ("tetrahedron,tips=no", {"corners": [1] * 4, "edges": [6]}),
        ("octahedron", {"corners": [6], "edges": [12], "centres": [12, 12]}),
        ("dodecahedron", {"corners": [20], "edges": [30], "centres": [1] * 12}),
        ("corner-cube", {"corners": [1, 1, 1, 1, 4], "centres": [6]}),
    ],
)
def test_pieces(name, sizes):
    """Counted on the solids by hand."""
    found = {}
    for kind in load(name).kinds:
        found.setdefault(kind.family, []).append(len(kind.slots))
    assert {family: sorted(each) for family, each in found.items()} == {f: sorted(each) for f, each in sizes.items()}


def test_the_dodecahedrons_faces_follow_each_other_clockwise():
    """A on top, B in front, then clockwise as seen from A, L below: whatever A takes along, B goes to the left, to C."""
    puzzle = load("dodecahedron")
    normals = puzzle.geometry.facets
    assert normals["A"] @ [0, 1, 0] > 0.99 and normals["B"][2] > 0.8 and normals["L"] @ [0, -1, 0] > 0.99
    ring = dict(zip("BCDEF", "CDEFB", strict=True))
    state = puzzle.follow("A")
    for before, after in ring.items():
        assert puzzle.slots[state.pieces[puzzle.slot(f"A{after}")]] == f"A{before}"
    beside = {frozenset(pair) for pair in combinations(TWELVE, 2) if np.isclose(normals[pair[0]] @ normals[pair[1]], 5**-0.5)}
    assert {frozenset(slot) for kind in puzzle.kinds if kind.family == "edges" for slot in kind.slots} == beside


def test_each_turn_of_the_dodecahedron_turns_what_touches_its_face():
    puzzle = load("dodecahedron")
    for letter in TWELVE:
        assert {puzzle.slots[i] for i in puzzle.turns[letter].slots} == {slot for slot in puzzle.slots if letter in slot}


def test_each_turn_of_the_octahedron_turns_its_face_and_the_layer_beside_it():
    """Slots name the layers that they lie in: in capitals those that they touch."""
    puzzle = load("octahedron")
    for letter in "ABCDEFGH":
        moved = {puzzle.slots[i] for i in puzzle.turns[letter].slots}
        assert moved == {slot for slot in puzzle.slots if letter in slot.upper()}
    assert set(puzzle.rotations) and all(name.startswith("whole") for name in puzzle.rotations)


def test_a_tip_turns_alone_and_its_block_takes_it_along():
    puzzle = load("tetrahedron")
    for block in ("DFL", "DFR", "DLR", "FLR"):
        tip = puzzle.turns[block.lower()]
        assert {puzzle.slots[i] for i in tip.slots} == {f"{block}.tip"}
        moved = {puzzle.slots[i] for i in puzzle.turns[block].slots}
        assert moved == {f"{block}.tip", block, *("".join(pair) for pair in combinations(block, 2))}
    assert sorted(load("tetrahedron,tips=no").turns) == sorted(t for t in puzzle.turns if t[0].isupper())


def test_half_of_the_corner_cube_turns():
    """The corner, its three neighbours, and the three faces that meet there; a clockwise turn takes U to R to F."""
    puzzle = load("corner-cube")
    assert {puzzle.slots[i] for i in puzzle.turns["UFR"].slots} == {"UFR", "UFL", "UBR", "DFR", "U", "F", "R"}
    state = puzzle.follow("UFR")
    assert [puzzle.slots[state.pieces[puzzle.slot(face)]] for face in "RFU"] == ["U", "R", "F"]
