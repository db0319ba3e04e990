import pytest

from oddswap.errors import BadOption
from oddswap.values.sequence import Alphabet, cube_alphabet


def test_a_cube_knows_the_moves_of_its_size():
    assert set(cube_alphabet(3, 3, 3).stems) == set("UDFBLRxyzMES")
    assert set(cube_alphabet(4, 4, 4).stems) == set("UDFBLRxyz")
    assert cube_alphabet(5, 5, 5).slabs("U") == 5


def test_a_box_offers_what_some_holding_offers():
    box = cube_alphabet(2, 4, 5)
    assert box.slabs("R") == 5
    assert "M" in box.stems


def test_without_rotations_each_face_has_its_own_slabs():
    box = Alphabet(("U", "D", "L", "R"), layers={"U": 3, "D": 3, "L": 2, "R": 2}, middles=True)
    assert (box.slabs("U"), box.slabs("R")) == (3, 2)
    assert "E" in box.stems and "M" not in box.stems


def test_turns_to_the_circle():
    solid = Alphabet(("U", "BR"), order={"U": 5, "BR": 3}, rotations=True)
    assert [solid.turns_to_the_circle(stem) for stem in ("U", "BR", "x")] == [5, 3, 4]


def test_equal_alphabets_hash_alike():
    assert len({cube_alphabet(3, 3, 3), cube_alphabet(3, 3, 3), cube_alphabet(2, 2, 2)}) == 2


@pytest.mark.parametrize("names", [("A", "A"), ("A", "A2"), ("A", "Aw"), ("A", "Aw3"), ("2A",), ("A'",), ("A B",), ("",), ("[",)])
def test_names_that_could_be_misread_are_refused(names):
    with pytest.raises(BadOption):
        Alphabet(names=names)


def test_a_name_may_not_be_a_rotation_as_well():
    with pytest.raises(BadOption, match="two ways"):
        Alphabet(names=("x",), rotations=True)
