from itertools import permutations, product

import pytest

from oddswap.describing.naming import NamedSlot, aim, read_slot, say_where, steps
from oddswap.describing.stickers import stickers
from oddswap.errors import BadTicket, NotationError, UnknownSlot
from oddswap.puzzles.catalogue import load

CUBE = load("cube:3")


def spellings(slot):
    return ["".join(letters) for letters in permutations(slot)]


def test_every_order_of_the_faces_names_the_same_slot_and_the_first_face_counts():
    for number, slot in enumerate(CUBE.slots):
        for name in spellings(slot):
            assert read_slot(CUBE, name) == NamedSlot(number, name[0])
            assert read_slot(CUBE, f" {name}+2 ") == NamedSlot(number, name[0], 2)


def test_slots_that_are_not_named_by_faces_have_no_first_face():
    assert read_slot(load("tiles:3x3"), "r1c2").face is None


@pytest.mark.parametrize("name", ["", " ", "+1", "UD", "FFR", "uf", "UF+", "UF+x", "UF+12", "U\nF"])
def test_a_name_that_is_no_slot_is_refused(name):
    with pytest.raises(UnknownSlot):
        read_slot(CUBE, name)


@pytest.mark.parametrize("kind", CUBE.kinds[:2], ids=lambda kind: kind.name)
def test_the_first_named_sticker_shows_on_the_first_named_face(kind):
    """All pairs of slots and of first-named faces; the colours come from `stickers`, which are tested against space."""
    table = stickers(CUBE)
    for one, other in product(kind.slots, repeat=2):
        for first, face in product(one, other):
            source, target = read_slot(CUBE, first + one.replace(first, "")), read_slot(CUBE, face + other.replace(face, ""))
            label = int(CUBE.base_label[source.number]) + aim(CUBE, source, target)
            assert table.shown[target.number, label][other.index(face)] == first


def test_extra_twist_is_added_at_the_target_only():
    plain = aim(CUBE, read_slot(CUBE, "UFR"), read_slot(CUBE, "BUL"))
    assert [aim(CUBE, read_slot(CUBE, "UFR"), read_slot(CUBE, f"BUL+{n}")) for n in range(4)] == [
        (plain + n) % 3 for n in range(4)
    ]
    assert aim(CUBE, read_slot(CUBE, "UFR+1"), read_slot(CUBE, "BUL")) == plain


def test_steps_of_twist_by_name():
    corner, edge, centre = (CUBE.slot(slot) for slot in ("UFR", "UF", "F"))
    assert [steps(CUBE, corner, way) for way in ("cw", "ccw")] == [1, 2]
    assert [steps(CUBE, edge, way) for way in ("cw", "ccw", "half")] == [1, 1, 1]
    assert [steps(CUBE, centre, way) for way in ("cw", "ccw", "half")] == [1, 3, 2]


@pytest.mark.parametrize(
    "name, slot, way, right",
    [
        ("cube:3", "UFR", "half", "write cw or ccw"),
        ("cube:3", "F", "left", "write cw or ccw or half"),
        ("tiles:3x3", "r1c2", "cw", "leave the turn out"),
    ],
)
def test_a_way_that_a_piece_does_not_have_is_refused(name, slot, way, right):
    puzzle = load(name)
    with pytest.raises(BadTicket) as caught:
        steps(puzzle, puzzle.slot(slot), way)
    assert str(caught.value).endswith(right) and slot in str(caught.value)


def test_an_error_says_where_it_was_and_keeps_its_name_and_its_column():
    with pytest.raises(UnknownSlot, match="^here: no such slot$"), say_where("here"):
        raise UnknownSlot("no such slot")
    with pytest.raises(NotationError) as caught, say_where("after"):
        CUBE.read("R q")
    assert caught.value.column == 3 and str(caught.value).endswith("(in after)")
