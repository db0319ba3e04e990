"""Turns as people write them: by words, with their own marks, and with numbers in front that can mean two things."""

from itertools import permutations, product

import pytest

from oddswap.describing.habits import Habits, NamedSlot, aim, read_slot, say_where, steps
from oddswap.describing.stickers import stickers
from oddswap.describing.tickets import parse_ticket, write_ticket
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


CUBE, LARGE = load("cube:3"), load("cube:4")


@pytest.mark.parametrize(
    "text, turns",
    [
        ("front clockwise", "F"),
        ("right side half round", "R2"),
        ("Top anticlockwise, then the left face counter-clockwise and back half a turn.".rstrip("."), "U' L' B2"),
        ("bottom a quarter turn clockwise; front twice".replace(";", ","), "D F2"),
        ("R U2 [F, R]' (D B')3", "R U2 [F, R]' (D B')3"),
        ("R, U2, then front clockwise and Right half round", "R U2 F R2"),
        ("[front clockwise, [R, top half round]], L", "[F, [R, U2]] L"),
    ],
)
def test_plain_words_are_turns(text, turns):
    assert str(Habits().read(CUBE, text)) == turns


@pytest.mark.parametrize(
    "habits, text, turns",
    [
        (Habits(("i",)), "Ri U2 (F Bi)2 [R, Ui]", "R' U2 (F B')2 [R, U']"),
        (Habits(("-", "i")), "R- Ui F'", "R' U' F'"),
        (Habits((), "twice"), "2R 2U' 2Rw U", "R2 U2 Rw2 U"),
        (Habits((), "slab"), "2R 2U' 2Rw U", "2R 2U' Rw U"),
        (Habits(("inv",), "slab"), "2Rinv", "2R'"),
    ],
)
def test_a_visitor_s_own_marks_are_read(habits, text, turns):
    assert str(habits.read(LARGE, text)) == turns


@pytest.mark.parametrize(
    "text, error, words",
    [
        ("front", BadTicket, "`front` does not say which way"),
        ("Ri U", NotationError, 'if i turns back, write reverse = ["i"]'),
        ("R U- F", NotationError, 'if - turns back, write reverse = ["-"]'),
        ("R q", NotationError, "`q` is not a move of this puzzle"),
    ],
)
def test_what_cannot_be_told_is_asked(text, error, words):
    with pytest.raises(error) as raised:
        Habits().read(CUBE, text)
    assert words in str(raised.value)


def test_a_number_in_front_has_two_results_where_nobody_says_what_it_means():
    told = 'puzzle = "cube:4"\nafter = "2R U"\n'
    unsaid, twice, slab = (
        parse_ticket(told + more) for more in ("", *map("[notation]\nleading_number = '{}'".format, ("twice", "slab")))
    )
    assert unsaid.appearance == slab.appearance == LARGE.appearance(LARGE.follow("2R U"))
    assert unsaid.otherwise == twice.appearance == LARGE.appearance(LARGE.follow("R2 U"))
    assert twice.doubt is slab.doubt is twice.otherwise is None
    assert parse_ticket(write_ticket(twice), twice.name) == twice != slab


@pytest.mark.parametrize(
    "text, written, number, face",
    [
        ("U 2Fi R", "2Fi", 2, "F"),
        ("front clockwise, 2U' 2R", "2U'", 2, "U"),
        ("[R, 2D2]", None, 0, ""),
        ("(2L U)2", "2L", 2, "L"),
    ],
)
def test_what_is_asked_of_is_the_turn_as_the_visitor_wrote_it(text, written, number, face):
    doubt = Habits(("i",)).doubt(LARGE, text)
    assert (doubt and (doubt.written, doubt.number, doubt.face)) == (written and (written, number, face))


@pytest.mark.parametrize("name, text, turns", [("cube:4", "3R 2Fw", "3R Fw"), ("cube:2", "2R U 2F", "R2 U F2")])
def test_a_number_that_can_only_mean_one_thing_is_not_asked(name, text, turns):
    """Three times is too often for an amount, and a cube of two layers has no second one between others."""
    ticket = parse_ticket(f'puzzle = "{name}"\nafter = "{text}"')
    assert ticket.doubt is None
    assert ticket.appearance == ticket.puzzle.appearance(ticket.puzzle.follow(turns))


@pytest.mark.parametrize(
    "table, words",
    [
        ("mark = 1", "`mark` is no key of it"),
        ("reverse = 'i'", "reverse is of the wrong type: give it a list"),
        ("reverse = ['2']", "reverse is a list"),
        ("leading_number = 'both'", "`both` is not offered: write twice or slab"),
    ],
)
def test_other_habits_are_refused(table, words):
    with pytest.raises(BadTicket, match=words):
        parse_ticket(f'puzzle = "cube:3"\nafter = ""\n[notation]\n{table}')


@pytest.mark.parametrize(
    "name, right",
    [("FR.u3", "FR.d2"), ("fr.u3", "FR.d2"), ("U.l3f2", "U.f2r2"), ("uf.l2", "UF.l2"), ("FR.u9", "FR.u2"), ("UFX", "UFR")],
)
def test_the_nearest_right_slot_is_suggested(name, right):
    """Three of four layers from one side are two from the other."""
    with pytest.raises(UnknownSlot, match=f"write {right}; "):
        LARGE.slot(name)
    assert right in LARGE.slots
