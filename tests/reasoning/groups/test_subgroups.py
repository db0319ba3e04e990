import numpy as np
import pytest

from oddswap.errors import OddswapError
from oddswap.reasoning.groups.stabiliser_chain import StabiliserChain, enumerate_group
from tests.reasoning.known_groups import MATHIEU_11, MATHIEU_12, dihedral, symmetric, wreath


def test_every_element_of_small_groups():
    for gens, degree, size in [(symmetric(5), 5, 120), (dihedral(9), 9, 18), (wreath(3, 3), 9, 162), ([], 4, 1)]:
        elements = enumerate_group(gens, degree)
        assert elements.shape == (size, degree)
        assert len(np.unique(elements, axis=0)) == size
        assert (elements[0] == np.arange(degree)).all()
        assert StabiliserChain.from_generators(gens, degree).contains_many(elements).all()
    assert len(enumerate_group(MATHIEU_11, 11)) == 7920


def test_a_group_that_is_too_large_to_list():
    with pytest.raises(OddswapError, match="more than 5000 elements"):
        enumerate_group(MATHIEU_12, 12, limit=5000)
