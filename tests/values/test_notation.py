"""Source: World Cube Association, Regulations, Article 12a (face moves, outer block moves, rotations)."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from oddswap.errors import NotationError
from oddswap.values.notation import parse, simplified, write
from oddswap.values.sequence import Alphabet, Step, cube_alphabet

TWO, THREE, FOUR, FIVE, SEVEN = (cube_alphabet(n, n, n) for n in (2, 3, 4, 5, 7))
MARKS = {"": 1, "'": -1, "2": 2}


@pytest.mark.parametrize("mark, amount", MARKS.items())
@pytest.mark.parametrize("stem", "FBRLUDxyz")
def test_face_moves_and_rotations_of_the_article(stem, mark, amount):
    slab = 0 if stem in "xyz" else 1
    assert parse(stem + mark, THREE).steps == (Step(stem, slab, slab, amount),)


@pytest.mark.parametrize("mark, amount", MARKS.items())
@pytest.mark.parametrize("face", "FBRLUD")
def test_outer_block_moves_of_the_article(face, mark, amount):
    for n in range(2, 7):
        assert parse(f"{n}{face}w{mark}", SEVEN).steps == (Step(face, 1, n, amount),)
    assert parse(f"{face}w{mark}", SEVEN) == parse(f"2{face}w{mark}", SEVEN)


@pytest.mark.parametrize("text", ["Rw", "2Rw"])
def test_blocks_of_two_need_three_slabs(text):
    assert parse(text, THREE).steps == (Step("R", 1, 2, 1),)
    with pytest.raises(NotationError, match="column 1: .*three slabs or more"):
        parse(text, TWO)


def test_slabs_that_the_article_leaves_out():
    assert parse("2R2 4L'", FIVE).steps == (Step("R", 2, 2, 2), Step("L", 4, 4, -1))
    assert parse("M E' S2", THREE).steps == (Step("M", 0, 0, 1), Step("E", 0, 0, -1), Step("S", 0, 0, 2))


@pytest.mark.parametrize("text", ["R2'", "R2’", "R2′", "R2"])
def test_a_half_turn_is_one_move_however_it_is_marked(text):
    assert parse(text, THREE).steps == (Step("R", 1, 1, 2),)


@pytest.mark.parametrize("text", ["R' U'", "R’ U′", "R'U'", "  R'\n\tU' "])
def test_typographic_marks_and_spaces(text):
    assert write(parse(text, THREE)) == "R' U'"


def test_other_solids_and_other_puzzles():
    solid = Alphabet(("U", "R", "BR"), order={"U": 5, "R": 5, "BR": 3, "shift": 10}, names=("shift",))
    sequence = parse("U2' BR' shift4 RBR", solid)
    assert [(s.stem, s.amount, s.order) for s in sequence] == [
        ("U", -2, 5),
        ("BR", -1, 3),
        ("shift", 4, 10),
        ("R", 1, 5),
        ("BR", 1, 3),
    ]
    assert parse(str(sequence), solid) == sequence


BAD = [
    ("R U q", THREE, 5, "`q` is not a move of this puzzle"),
    ("R U r", THREE, 5, "`r` is not in Article 12: write Rw for two slabs or R for one"),
    ("r", TWO, 1, "write R$"),
    ("U X", THREE, 3, "write x"),
    ("m", THREE, 1, "write M"),
    ("R M", FOUR, 3, "odd number of slabs"),
    ("R3", THREE, 2, "write R'"),
    ("R4", THREE, 2, "leave it out"),
    ("R1", THREE, 2, "write R$"),
    ("R''", THREE, 3, "one apostrophe"),
    ("R'2", THREE, 3, "before the apostrophe"),
    ("R U 1R", FIVE, 5, "goes from 2 to 4"),
    ("5Rw", FIVE, 1, "goes from 2 to 4"),
    ("99999999R", FIVE, 1, "goes from 2 to 4"),
    ("R99999999", FIVE, 2, "far too large"),
    ("2R", TWO, 1, "three slabs"),
    ("2x", THREE, 1, "no number in front"),
    ("Rww", FIVE, 3, "not a move"),
    ("R '", THREE, 3, "stands alone"),
    ("R 3", THREE, 3, "stands alone"),
    ("R 3 U", THREE, 3, "stands alone"),
    ("R (U F", THREE, 3, "a closing bracket is missing"),
    ("R [U", THREE, 3, "needs a `,` or `:`"),
    ("[U, F", THREE, 1, "needs a `]`"),
    ("(U]", THREE, 3, "the `\\(` at column 1 needs a `\\)`"),
    ("[U: R, F]", THREE, 6, "needs a `]`"),
    ("R U)", THREE, 4, "closes nothing"),
    ("R, U", THREE, 2, "square brackets"),
    ("R ()", THREE, 3, "nothing stands between"),
    ("[R, ]", THREE, 3, "nothing stands between"),
    ("(R)1", THREE, 4, "repeat count"),
    ("(R)0", THREE, 4, "repeat count"),
    ("((R)99999)99999", THREE, 1, "more than 100000 moves"),
    ("(" * 60, THREE, 51, "nested"),
]


@pytest.mark.parametrize("text, alphabet, column, reason", BAD)
def test_a_mistake_is_pointed_at_and_put_right(text, alphabet, column, reason):
    with pytest.raises(NotationError, match=reason) as error:
        parse(text, alphabet)
    assert error.value.column == column
    assert str(error.value).startswith(f"column {column}: ")


anything = st.one_of(st.text(max_size=30), st.text("RUFxyMSrmw'’′23 ()[],:", max_size=30))


@given(anything, st.sampled_from([TWO, THREE, FOUR, FIVE, Alphabet(names=("A", "bb"), order=9), Alphabet()]))
def test_any_text_is_read_or_refused_at_a_column(text, alphabet):
    try:
        sequence = parse(text, alphabet)
    except NotationError as error:
        assert 1 <= error.column <= len(text)
        assert str(error).isprintable()
        assert len(str(error)) < 200
    else:
        assert parse(str(sequence), alphabet) == sequence
        assert parse(write(sequence), alphabet).steps == sequence.steps


@pytest.mark.parametrize(
    "text, alphabet, merged",
    [
        ("R R", THREE, "R2"),
        ("R R'", THREE, ""),
        ("R U U' R", THREE, "R2"),
        ("Rw 2R", FIVE, "Rw 2R"),
        ("2R 4L", FIVE, ""),
        ("2R 4L'", FIVE, "2R2"),
        ("M 2R", THREE, ""),
        ("M 3R'", FIVE, "M2"),
        ("x x2", THREE, "x'"),
        ("x R'", THREE, "x R'"),
        ("2R 4L", cube_alphabet(5, 5, 3), "2R 4L"),
    ],
)
def test_neighbours_are_merged(text, alphabet, merged):
    assert write(simplified(parse(text, alphabet), alphabet)) == merged


def test_opposite_faces_of_other_solids_are_not_taken_for_one_slab():
    tetrahedron = Alphabet(("U", "L", "R", "B"), order=3, layers=dict.fromkeys("ULRB", 3))
    assert write(simplified(parse("L R L L", tetrahedron), tetrahedron)) == "L R L'"


@given(st.text("RLMUx'2 ", max_size=20))
def test_merging_twice_is_merging_once(text):
    try:
        steps = parse(text, THREE).steps
    except NotationError:
        return
    once = simplified(steps, THREE)
    assert simplified(once, THREE) == once
    assert len(once) <= len(steps)
