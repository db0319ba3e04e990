"""Atoms of change: what they do to names, what they add to the laws, and how they are told.

Smallest sets of changes, against all sets of atoms tried one by one.
"""

from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from oddswap.describing.changes import changed
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.lookalikes import lookalikes
from oddswap.reasoning.verdicts.exchanges import Atom, hand_atoms, hidden_atoms, hidden_changes, relabelled, smallest_sets
from oddswap.words import say
from oddswap.words.culprits import turn_words
from tests.reasoning.judge import Judge

NAMES = ["cube:2", "cube:3", "shape-mod:prism8", "shape-mod:prism8,paint=FR+FL+BR+BL", "shape-mod:cube,axis=U,degrees=45"]


@pytest.mark.parametrize("name", NAMES)
def test_hidden_atoms_are_all_relabellings_of_one_or_two_pieces_that_nobody_sees(name):
    """Against the table of shapes (`reference/shapes.json`), without those of two pieces that are two of one."""
    puzzle = load(name)
    alike, laws = lookalikes(puzzle), law_book(puzzle).laws
    atoms = hidden_atoms(alike, laws)
    small = Judge.of(puzzle).small_relabellings(frozenset(range(len(puzzle.slots))), 2)
    expected = {frozenset((p, *image) for p, image in images.items()) for images in small if images}
    single = {images for images in expected if len(images) == 1}
    pairs = {images for images in expected if len(images) == 2 and all(p != q for p, q, _ in images)}
    assert {frozenset(atom.images) for atom in atoms} == single | pairs and len(atoms) == len(single | pairs)


@pytest.mark.parametrize("name", NAMES)
def test_atoms_add_to_every_law_what_they_say(name):
    puzzle, rng = load(name), np.random.default_rng(1)
    alike, book = lookalikes(puzzle), law_book(puzzle)
    start = puzzle.permutation(puzzle.follow("R U2 F' L"))
    atoms = hidden_atoms(alike, book.laws) + hand_atoms(puzzle, book.laws)
    for i in rng.choice(len(atoms), size=60):
        after = start[relabelled(alike, [atoms[i]])]
        assert tuple(law.value(after) for law in book.laws) == atoms[i].values
        assert {p for p, _, _ in atoms[i].images} == set(atoms[i].pieces)


@pytest.mark.parametrize("name", ["cube:2", "cube:3"])
def test_hand_atoms_are_turns_of_one_piece_and_exchanges_of_two(name):
    puzzle = load(name)
    atoms = hand_atoms(puzzle, (), first=[3])
    single = {atom.images for atom in atoms if len(atom.pieces) == 1}
    assert single == {((p, p, e),) for p, kind in enumerate(puzzle.kind_of) for e in range(1, kind.twist)}
    pairs = [atom for atom in atoms if len(atom.pieces) == 2]
    counts = [len(kind.slots) * (len(kind.slots) - 1) // 2 * kind.twist for kind in puzzle.kinds]
    assert len({frozenset(atom.images) for atom in pairs}) == len(pairs) == sum(counts)
    assert all(puzzle.kind_of[atom.pieces[0]] is puzzle.kind_of[atom.pieces[1]] for atom in pairs)
    assert 3 in atoms[0].pieces and all(3 in atom.pieces for atom in pairs[: 7 * 3])


@pytest.mark.parametrize(
    "changes", [["flip UF"], ["twist UFR cw"], ["twist UFR ccw"], ["swap UF UR"], ["swap UFR DBL"], ["turn F half"]]
)
def test_an_atom_on_solved_does_what_the_change_of_that_name_does(changes):
    puzzle = load("cube:3")
    alike = lookalikes(puzzle)
    wanted = changed(puzzle, changes)
    made = [puzzle.arrangement(relabelled(alike, [atom])) for atom in hand_atoms(puzzle, ())]
    assert made.count(wanted) == 1


def test_atoms_on_different_pieces_go_together():
    puzzle = load("cube:3")
    alike, atoms = lookalikes(puzzle), hand_atoms(puzzle, ())
    flip = next(a for a in atoms if a.pieces == (puzzle.slot("UF"),))
    swap = next(a for a in atoms if set(a.pieces) == {puzzle.slot("UFR"), puzzle.slot("UFL")})
    both = puzzle.arrangement(relabelled(alike, [flip, swap]))
    assert both == changed(puzzle, ["flip UF", "swap UFL UFR"])


@pytest.mark.parametrize(
    "steps, order, words",
    [
        (1, 2, "flipped"),
        (1, 3, "twisted clockwise"),
        (-1, 3, "twisted anticlockwise"),
        (1, 4, "turned clockwise"),
        (2, 4, "half turned"),
        (3, 4, "turned anticlockwise"),
        (5, 4, "turned clockwise"),
        (2, 5, "turned by 2 of 5 clockwise"),
        (3, 5, "turned by 2 of 5 anticlockwise"),
    ],
)
def test_turns_in_words(steps, order, words):
    assert turn_words(steps, order) == words


def said(puzzle, ways):
    return "; ".join(map(say, hidden_changes(puzzle, ways)))


def test_hidden_changes_in_words():
    puzzle = load("shape-mod:prism8,paint=FR+FL+BR+BL")
    atoms = {atom.images: atom for atom in hidden_atoms(lookalikes(puzzle), ())}
    u, fl, fr = map(puzzle.slot, ("U", "FL", "FR"))
    quarter = [(atoms[(u, u, e),],) for e in (1, 3)]
    assert said(puzzle, quarter) == "the U centre is turned clockwise or turned anticlockwise, which does not show"
    swap = next(a for a in atoms.values() if a.pieces == (fl, fr))
    words = said(puzzle, [(swap, atoms[(u, u, 2),])])
    assert words == (
        "the FL edge and the FR edge have changed places, and they look the same; "
        "the U centre is half turned, which does not show"
    )


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


@st.composite
def problems_in_parts(draw):
    """Five laws, most of which only atoms of their own change, and a few that tie two of them."""
    atoms = []
    for number in range(draw(st.integers(3, 9))):
        law, tied = draw(st.integers(0, 4)), draw(st.sampled_from([None] * 4 + [*range(5)]))
        values = tuple(draw(st.integers(1, 2)) % (2, 3)[i % 2] if i in (law, tied) else 0 for i in range(5))
        pieces = tuple(draw(st.lists(st.integers(3 * law, 3 * law + 2), min_size=1, max_size=2, unique=True)))
        atoms.append(Atom(pieces, values, ((number, 0, 0),)))
    return draw(st.tuples(*(st.integers(0, m - 1) for m in (2, 3) * 2), st.just(0))), (2, 3, 2, 3, 2), atoms


@settings(max_examples=300)
@given(problems_in_parts())
def test_sets_in_several_parts_are_those_found_by_trying_in_their_order(problem):
    found, expected = smallest_sets(*problem), by_trying(*problem)
    assert set(found) == expected and len(found) == len(expected)
    places = [tuple(problem[2].index(atom) for atom in chosen) for chosen in found]
    assert places == sorted(tuple(sorted(chosen)) for chosen in places)
    for limit in range(1, len(found)):
        assert smallest_sets(*problem, limit) == found[:limit]


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
