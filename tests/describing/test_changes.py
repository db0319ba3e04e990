import pytest
from hypothesis import given
from hypothesis import strategies as st

from oddswap.describing.changes import changed
from oddswap.describing.stickers import paints_of, stickers
from oddswap.errors import BadTicket, OddswapError, UnknownSlot
from oddswap.puzzles.catalogue import load
from tests.common.vectors import RINGS

CUBE = load("cube:3")
MARKED = load("cube:3,centres=marked")


def shown(arrangement, slot):
    """The colours at a slot, face by face as it is named here."""
    number, paints = CUBE.slot(slot), paints_of(CUBE, arrangement)
    return "".join(paints[stickers(CUBE).at[number, face]] for face in slot)


@pytest.mark.parametrize("face", "UDFBLR")
def test_a_turn_is_a_cycle_of_edges_and_a_cycle_of_corners_and_the_turn_of_a_centre(face):
    """The names follow the turn face by face, so that the first-named sticker goes to the first-named face."""
    ring = RINGS[face]
    edges = " ".join(side + face for side in ring)
    corners = " ".join(side + beside + face for side, beside in zip(ring, ring[1:] + ring[:1], strict=True))
    by_hand = changed(MARKED, [f"cycle {edges}", f"cycle {corners}", f"turn {face} cw"])
    assert by_hand == MARKED.follow(face)


@pytest.mark.parametrize(
    "change, slot, colours",
    [
        ("flip UF", "UF", "FU"),
        ("flip FU", "UF", "FU"),
        ("swap UF UB", "UB", "UF"),
        ("swap UF UB", "UF", "UB"),
        ("swap UF BU", "BU", "UF"),
        ("swap UF BU", "UF", "BU"),
        ("swap UF UB+1", "BU", "UF"),
        ("swap UF UB+1", "UF", "UB"),
        ("cycle UF UR DL", "UR", "UF"),
        ("cycle UF UR DL", "DL", "UR"),
        ("cycle UF UR DL", "UF", "DL"),
        # Clockwise from outside, the faces at this corner are U, R, F, and at the opposite one of U they are U, L, B.
        ("twist UFR cw", "RFU", "URF"),
        ("twist UFR ccw", "FRU", "UFR"),
        ("swap UFR UBL", "ULB", "URF"),
        ("swap UFR BUL", "BUL", "URF"),
        ("swap UFR UBL+1", "LBU", "URF"),
    ],
)
def test_a_change_shows_where_its_words_say(change, slot, colours):
    assert shown(changed(CUBE, [change]), slot) == colours


def test_changes_are_made_one_after_the_other_at_the_slots_they_name():
    flipped_after = changed(CUBE, ["swap UF UB", "flip UB"])
    assert shown(flipped_after, "UB") == "FU" and shown(flipped_after, "UF") == "UB"
    assert flipped_after == changed(CUBE, ["flip UF", "swap UF UB"]) != changed(CUBE, ["flip UB", "swap UF UB"])
    assert changed(CUBE, ["flip UF"], CUBE.follow("R")) != changed(CUBE, ["flip UF"])
    assert changed(CUBE, []) == CUBE.solved


@pytest.mark.parametrize(
    "change, times",
    [
        ("flip UF", 2),
        ("twist UFR cw", 3),
        ("turn F cw", 4),
        ("turn F half", 2),
        ("swap UF BU", 2),
        ("cycle UF RU BL", 3),
        ("cycle UFL FUR LDB", 3),
        ("swap UF UB+1", 4),
    ],
)
def test_a_change_comes_back_after_its_order_and_not_before(change, times):
    for count in range(1, times):
        assert changed(MARKED, [change] * count) != MARKED.solved
    assert changed(MARKED, [change] * times) == MARKED.solved


def test_half_and_anticlockwise_are_clockwise_turns_repeated():
    assert changed(MARKED, ["turn F half"]) == changed(MARKED, ["turn F cw"] * 2)
    assert changed(MARKED, ["turn F ccw"]) == changed(MARKED, ["turn F cw"] * 3)
    assert changed(MARKED, ["twist UFR ccw"]) == changed(MARKED, ["twist UFR cw"] * 2)


@pytest.mark.parametrize(
    "change, error, words",
    [
        ("", BadTicket, "unknown: write one of flip SLOT"),
        ("flip", BadTicket, "unknown"),
        ("rotate UF", BadTicket, "unknown"),
        ("cycle UF UB", BadTicket, "unknown"),
        ("flip UFR", BadTicket, "UFR has no flip, because its piece has three ways round: write twist or turn"),
        ("twist UFR half", BadTicket, "`half` is no way to turn the piece at UFR, which has 3 ways round: write cw or ccw"),
        ("turn F round", BadTicket, "write cw or ccw or half"),
        ("swap UF UR UB", BadTicket, "for more write cycle A B C"),
        ("swap UF FU", BadTicket, "a slot stands twice"),
        ("swap UF UFR", BadTicket, "pieces of different kinds"),
        ("flip XY", UnknownSlot, "no slot called"),
        ("swap UF +1", UnknownSlot, "no slot called"),
    ],
)
def test_a_change_that_cannot_be_made_is_explained(change, error, words):
    with pytest.raises(error, match="^change `") as caught:
        changed(CUBE, ["flip UB", change])
    assert words in str(caught.value) and "\n" not in str(caught.value)


WORDS = st.sampled_from(["flip", "twist", "turn", "swap", "cycle", "cw", "ccw", "half", "UF", "UFR", "F", "FR+1", "B+9", "+"])


@given(st.one_of(st.text(), st.lists(WORDS).map(" ".join)))
def test_any_text_is_a_change_or_an_error_that_explains_itself(text):
    try:
        arrangement = changed(MARKED, [text])
    except OddswapError as error:
        assert "\n" not in str(error)
    else:
        assert MARKED.arrangement(MARKED.permutation(arrangement)) == arrangement


def test_a_piece_that_has_one_way_round_has_no_flip():
    with pytest.raises(BadTicket, match="UF.l2 has no flip, because its piece has one way round: choose another"):
        changed(load("cube:4"), ["flip UF.l2"])
