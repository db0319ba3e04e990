"""Second opinion: SymPy's permutations, which also compose from left to right."""

from collections import Counter
from itertools import permutations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from sympy.combinatorics import Permutation as Other

from oddswap.errors import BadPermutation, NotationError
from oddswap.values import permutation as perm
from oddswap.values.permutation import compose, from_cycles, inverse

SMALL = [p for n in range(6) for p in permutations(range(n))]
PAIRS_ON_FOUR = [(p, q) for p in permutations(range(4)) for q in permutations(range(4))]
some = st.integers(0, 12).flatmap(lambda n: st.permutations(range(n)))
A, B = (1, 2, 0), (1, 0, 2)


@pytest.mark.parametrize(
    "ours, theirs, what",
    [
        (compose(A, B), (2, 1, 0), "first this, then that; not the right-hand factor first"),
        (from_cycles("(0 1 2)", range(3)), (2, 0, 1), "each name goes to the next; not to the one before"),
    ],
)
def test_each_convention_differs_from_its_rival(ours, theirs, what):
    assert ours != theirs, what


def test_the_conventions_by_hand():
    assert compose(A, B) == (0, 2, 1)
    assert from_cycles("(0 1 2)", range(3)) == (1, 2, 0)


@pytest.mark.parametrize("p, q", PAIRS_ON_FOUR)
def test_products_agree_with_sympy(p, q):
    a, b = Other(p), Other(q)
    assert compose(p, q) == tuple((a * b).array_form)


@pytest.mark.parametrize("p", [p for p in SMALL if p])
def test_single_permutations_agree_with_sympy(p):
    other = Other(p)
    assert inverse(p) == tuple((other**-1).array_form)
    assert perm.order(p) == other.order()
    assert perm.sign(p) == other.signature()
    assert list(perm.support(p)) == sorted(other.support())
    assert Counter(perm.cycle_type(p)) == other.cycle_structure
    assert [list(c) for c in perm.cycles(p)] == other.cyclic_form


SIGNS = [perm.sign_by_cycles, perm.sign_by_inversions, perm.sign_by_swaps]


@pytest.mark.parametrize("sign", SIGNS)
class TestSign:
    def test_of_each_small_permutation(self, sign):
        assert [sign(p) for p in SMALL] == [Other(p).signature() if p else 1 for p in SMALL]

    def test_is_multiplicative(self, sign):
        assert all(sign(compose(p, q)) == sign(p) * sign(q) for p, q in PAIRS_ON_FOUR)

    def test_reads_arrays(self, sign):
        assert sign(np.array([1, 0, 2])) == -1

    @given(some)
    def test_agrees_with_the_fastest(self, sign, p):
        assert sign(p) == perm.sign(p)


@given(some)
def test_cycle_notation_is_read_back(p):
    for labels in (range(len(p)), range(1, len(p) + 1), [f"slot{i}" for i in range(len(p))]):
        text = "".join(f"({' '.join(str(labels[i]) for i in cycle)})" for cycle in perm.cycles(p))
        assert from_cycles(text, labels) == tuple(p)


def test_cycle_notation_counts_as_the_labels_do():
    assert from_cycles("(1 2 3)(4,5)", range(1, 6)) == (1, 2, 0, 4, 3)
    assert from_cycles("(0, 1,2) ( 3 4 )", range(5)) == (1, 2, 0, 4, 3)
    assert from_cycles("()", range(2)) == from_cycles("", range(2)) == (0, 1)


@pytest.mark.parametrize(
    "text, column, word",
    [
        ("(1 2", 1, "never closed"),
        ("(1 (2 3))", 4, "inside another"),
        ("1 2)", 1, "outside a cycle"),
        ("(1 2))", 6, "outside a cycle"),
        ("(1 9)", 4, "not one of the names"),
        ("(1 2)(2 3)", 7, "a second time"),
    ],
)
def test_bad_cycles_are_pointed_at(text, column, word):
    with pytest.raises(NotationError, match=word) as error:
        from_cycles(text, range(1, 4))
    assert error.value.column == column


@pytest.mark.parametrize("bad", [(0, 0), (1, 2), (-1, 0), (0.5, 1), ("a",), 3])
def test_lists_that_are_no_permutation_are_refused(bad):
    with pytest.raises(BadPermutation):
        perm.permutation(bad)


def test_arrays_are_read_and_become_plain_tuples():
    p = np.array([1, 2, 0])
    results = [perm.permutation(p), compose(p, p), inverse(p), perm.cycles(p)[0]]
    assert results == [(1, 2, 0), (2, 0, 1), (2, 0, 1), (0, 1, 2)]
    assert all(type(i) is int for images in results for i in images)


@given(st.text("() ,01a\n", max_size=20))
def test_any_text_is_read_or_refused_by_name(text):
    try:
        assert len(from_cycles(text, range(2))) == 2
    except NotationError as error:
        assert 1 <= error.column <= len(text)
        assert "\n" not in str(error)
