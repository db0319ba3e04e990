"""Smallest sets of changes, against all sets of atoms tried one by one."""

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from oddswap.reasoning.verdicts.smallest import Atom, smallest_sets


def by_trying(target, moduli, atoms):
    """All sets of atoms that change something, on different pieces, of the fewest pieces, that add up to the target."""
    atoms = [atom for atom in atoms if any(atom.values)]
    found = {}
    for count in range(len(atoms) + 1):
        for chosen in combinations(atoms, count):
            pieces = [p for atom in chosen for p in atom.pieces]
            total = tuple(sum(atom.values[i] for atom in chosen) % m for i, m in enumerate(moduli))
            if total == target and len(set(pieces)) == len(pieces):
                found.setdefault(len(pieces), []).append(chosen)
    return set(found[min(found)]) if found else set()


@st.composite
def problems(draw):
    moduli = tuple(draw(st.lists(st.sampled_from([2, 3, 4]), min_size=1, max_size=3)))
    values = st.tuples(*(st.integers(0, m - 1) for m in moduli))
    pieces = st.lists(st.integers(0, 5), min_size=1, max_size=2, unique=True).map(tuple)
    drawn = draw(st.lists(st.tuples(pieces, values), max_size=8))
    atoms = [Atom(p, v, ((i, 0, 0),)) for i, (p, v) in enumerate(drawn)]
    return draw(values), moduli, atoms


@settings(max_examples=300)
@given(problems())
def test_all_smallest_sets_are_found_once(problem):
    found = smallest_sets(*problem)
    expected = by_trying(*problem)
    if any(problem[0]):
        assert set(found) == expected and len(found) == len(set(found))
        assert bool(found) == bool(expected)
    else:
        assert found == ((),)


def test_pieces_are_counted_and_not_changes():
    """One exchange of two pieces costs as much as two changes of one."""
    pair = Atom((0, 1), (1, 1), ((0, 1, 0), (1, 0, 0)))
    single = [Atom((2,), (1, 0), ((2, 2, 1),)), Atom((3,), (0, 1), ((3, 3, 1),))]
    assert set(smallest_sets((1, 1), (2, 2), [pair, *single])) == {(pair,), tuple(single)}


def test_a_piece_is_changed_once():
    """Twice the same piece would be cheaper in sum, but there is one way only: the two others."""
    one = [Atom((0,), (1,), ((0, 0, 1),)), Atom((0,), (2,), ((0, 0, 2),))]
    other = Atom((1,), (2,), ((1, 1, 1),))
    assert smallest_sets((3,), (4,), [*one, other]) == ((one[0], other),)
    assert smallest_sets((3,), (4,), one) == ()


@pytest.mark.parametrize("limit", [1, 2, 5])
def test_no_more_are_listed_than_asked(limit):
    atoms = [Atom((p,), (1,), ((p, p, 1),)) for p in range(9)]
    assert len(smallest_sets((1,), (2,), atoms, limit)) == limit
    assert len(smallest_sets((0,), (2,), atoms, limit)) == 1


def test_what_cannot_be_reached_has_no_set():
    assert smallest_sets((1, 0), (2, 2), [Atom((0,), (0, 1), ())]) == ()
    assert smallest_sets((1,), (4,), [Atom((p,), (2,), ()) for p in range(3)]) == ()
