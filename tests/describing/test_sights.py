from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from oddswap.describing.changes import changed
from oddswap.describing.sights import every_look, own_look, read_sight, sight_words
from oddswap.errors import BadTicket, OddswapError, UnknownSlot
from oddswap.puzzles.catalogue import load

CUBE = load("cube:3")
MARKED = load("cube:3,centres=marked")
PUZZLES = [
    "cube:2",
    "cube:3",
    "cube:3,centres=marked",
    "cube:4",
    "shape-mod:prism8",
    "shape-mod:prism8,paint=FR+FL+BR+BL",
    "shape-mod:cube,axis=URF,degrees=60",
    "tetrahedron",
    "dodecahedron",
    "corner-cube",
    "tiles:3x3",
]


@pytest.mark.parametrize("name", PUZZLES)
def test_every_look_of_a_slot_has_words_that_read_as_the_same(name):
    puzzle = load(name)
    for number, slot in list(enumerate(puzzle.slots))[:: 1 + len(puzzle.slots) // 30]:
        looks = sorted(every_look(puzzle, number))
        some = [looks, [], *([look] for look in looks), *combinations(looks[:4], 2)]
        for sight in map(frozenset, some):
            assert read_sight(puzzle, slot, sight_words(puzzle, number, sight)) == (number, sight)


@pytest.mark.parametrize(
    "slot, words, change",
    [
        ("UF", "UR", "swap UF UR"),
        ("UF", "UR flipped", "swap UF RU"),
        ("FU", "UR", "swap UF RU"),
        ("UF", "UF flipped", "flip UF"),
        ("UF", "UF+1", "flip UF"),
        ("UFR", "UFR twisted cw", "twist UFR cw"),
        ("UFR", "UFR twisted ccw", "twist UFR ccw"),
        ("RUF", "UFR", "twist UFR cw"),  # its U sticker shows on R
        ("UFR", "UBL turned cw", "swap UBL+1 UFR+1"),
        ("F", "F turned half", "turn F half"),
        ("F", "F turned ccw", "turn F ccw"),
    ],
)
def test_words_tell_what_a_change_makes(slot, words, change):
    number, sight = read_sight(MARKED, slot, words)
    assert MARKED.appearance(changed(MARKED, [change])).sights[number] == sight


def test_several_nothing_and_what_no_piece_shows():
    number, either = read_sight(CUBE, "UF", "UR |UF  flipped")
    assert either == read_sight(CUBE, "UF", "UR")[1] | read_sight(CUBE, "UF", "UF flipped")[1] and len(either) == 2
    assert read_sight(CUBE, "UF", " ? ")[1] == every_look(CUBE, number) and len(every_look(CUBE, number)) == 24
    assert own_look(CUBE, number) == read_sight(CUBE, "UF", "UF")[1]
    for foreign in ("foreign", "UD", "FF", "UU|DD"):
        assert read_sight(CUBE, "UF", foreign) == (number, frozenset())
    assert read_sight(MARKED, "F", "U") == (MARKED.slot("F"), frozenset())


def test_lookalikes_are_told_by_any_of_their_names():
    painted = load("shape-mod:prism8,paint=FR+FL+BR+BL")
    assert read_sight(painted, "FL", "FR") == read_sight(painted, "FL", "BL flipped") == read_sight(painted, "FL", "FL")
    assert sight_words(painted, *read_sight(painted, "FL", "FR")) == "FL"


@pytest.mark.parametrize(
    "slot, words, error, part",
    [
        ("UD", "UF", UnknownSlot, "no slot called"),
        ("UF+1", "UF", BadTicket, "say behind the piece how far it is turned"),
        ("UF", "XY", UnknownSlot, "`XY`: "),
        ("UF", "", BadTicket, "this tells no piece"),
        ("UF", "UF|", BadTicket, "this tells no piece"),
        ("UF", "UF bent", BadTicket, "and flipped behind it if it is"),
        ("UFR", "UFR flipped", BadTicket, "twisted cw, twisted ccw"),
        ("UFR", "UFR twisted half", BadTicket, "write cw or ccw"),
        ("UF", "UFR", BadTicket, "a piece of the corners is never at UF: name one of the edges"),
        ("UF", "UF|UD", BadTicket, "write the one or the other"),
        ("UF", "foreign flipped", UnknownSlot, "no slot called"),
    ],
)
def test_words_that_tell_nothing_are_explained(slot, words, error, part):
    with pytest.raises(error) as caught:
        read_sight(CUBE, slot, words)
    assert part in str(caught.value) and "\n" not in str(caught.value)


@given(st.sampled_from(["UF", "UFR", "F", "D"]), st.text(alphabet="UDFBLR+|?1 twisedcwfornghalp\n") | st.text())
def test_any_words_are_looks_of_the_slot_or_an_error(slot, words):
    try:
        number, sight = read_sight(MARKED, slot, words)
    except OddswapError as error:
        assert "\n" not in str(error)
    else:
        assert sight <= every_look(MARKED, number)
