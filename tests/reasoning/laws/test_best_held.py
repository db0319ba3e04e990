"""In which holding laws are broken, and which arrangements turns join: against walking, every holding, and SymPy."""

from dataclasses import replace
from itertools import combinations
from math import factorial

import numpy as np
import pytest
from sympy.combinatorics import Permutation, PermutationGroup

from oddswap.puzzles.base.whole_turns import holdings
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws import law_book as laws_of_a_puzzle
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.lookalikes import hand_generators, whole_kinds
from oddswap.reasoning.search.seen import seen_model
from tests.reasoning.laws.test_law_book import random_product

FEW = [f"cube:2,turns={turns}" for turns in ("R+L", "R", "R2", "R2+L2", "R2+U2", "R+U2")]
FEW += [
    "cuboid:2x2x3,turns=R2+U2",
    "cuboid:2x2x3,turns=F",
    "cuboid:1x2x3,turns=F2",
    "cuboid:2x2x1,turns=U2",
    "cuboid:1x1x4,turns=2F",
]
ALIKE = [f"shape-mod:cube,slabs=2,paint=U+D/F+B{paint},turns={turns}" for paint, turns in (("/L+R", "R2"), ("", "R2+U2"))]


@pytest.mark.parametrize("name", [*FEW, "cube:3,centres=none,turns=R2+U2", "cube:4,turns=R2+U2"])
def test_laws_are_broken_as_it_is_held_so_that_these_are_fewest(name):
    """By going through every holding: the orbit law counts only where it is broken in all of them, and then it alone."""
    puzzle = load(name)
    book, rng = law_book(puzzle), np.random.default_rng(5)
    for count in range(40):
        image = np.arange(puzzle.degree)
        for hand in rng.permutation(len(hands := hand_generators(puzzle, whole_kinds(puzzle))))[: 1 + count % 4]:
            image = hands[hand][image]
        orbits, others = ([law for law in book.laws if law.alone == alone] for alone in (True, False))
        ways = [
            [law for law in orbits if law.value(held)] or [law for law in others if law.value(held)] for held in book.held(image)
        ]
        sound = [laws for laws in ways if not any(law.alone for law in laws)]
        found = book.broken_at(image)
        if sound:
            assert len(found) == min(map(len, sound)) and list(found) in sound
        else:
            assert [law.alone for law in found] == [True]


@pytest.mark.parametrize("name", [*FEW, *ALIKE])
def test_what_is_held_visibly_never_looks_the_same_otherwise(name):
    """By walking all appearances: turned as a whole, none is itself, or one that is reached where turns do not lead there."""
    puzzle = load(name)
    book, model = law_book(puzzle), seen_model(puzzle)
    reached = {state.tobytes() for state in model.closure(model.solved[None], puzzle.turns)}
    looks_alike = False
    for names, rotation in holdings(puzzle)[1:]:
        for state in reached:
            turned = model.follow(np.frombuffer(state, dtype=np.uint8), names).tobytes()
            looks_alike |= turned == state if book.leads_to(rotation) else turned in reached
    assert book.held_visibly == (not looks_alike) == (name in FEW)


def walked(puzzle):
    """All that the turns reach, and each of it in every way to hold it."""
    found = {puzzle.solved: None}
    for moves in (puzzle.turns, puzzle.rotations):
        for state in (queue := list(found)):
            queue += (new := dict.fromkeys({puzzle.follow(move, state) for move in moves} - found.keys()))
            found |= new
    return list(found)


def test_no_law_is_kept_by_holding_a_box_so_that_it_has_another_shape():
    """A quarter turn changes what this box looks like from outside: eight ways to hold it, and not in all is it at home."""
    puzzle, rng = load("cuboid:2x3x4,turns=U"), np.random.default_rng(1)
    book, reached = law_book(puzzle), walked(puzzle)
    assert len(reached) == 4 * 8 == book.order * len(book.holdings)
    assert not any(book.broken(state) for state in reached)
    kinds = [kind for kind in puzzle.kinds if len(kind.slots) > 1 and puzzle.void.isdisjoint(kind.places)]
    for number in range(30):
        pieces = list(reached[number].pieces)
        a, b = rng.choice(list(kinds[number % len(kinds)].places), 2, replace=False)
        pieces[a], pieces[b] = pieces[b], pieces[a]
        state = replace(reached[number], pieces=tuple(pieces))
        assert bool(book.broken(state)) == (state not in reached)


@pytest.mark.parametrize(("name", "order"), [("cuboid:1x1x4,turns=F2+B2", 4 * 8), ("cuboid:1x2x3,turns=F2", 2)])
def test_every_holding_counts_where_all_have_the_same_turns(name, order):
    """By hand: two half turns, one at each end, held in each of eight ways; one half turn alone, held in one way."""
    assert law_book(load(name)).order == order


def test_a_large_puzzle_is_proved_by_its_structure(monkeypatch):
    """One in 3 · 2 · 2 · 2 of 8! · 12! · 3^8 · 2^12 · 4^6: twists, flips, and what corners share with edges and with centres."""
    monkeypatch.setattr(laws_of_a_puzzle, "LARGE", 0)
    book = law_book.__wrapped__(load("cube:3,centres=marked"))
    with pytest.raises(TypeError, match="has no chain"):
        _ = book.chain
    assert book.complete and book.order == factorial(8) * factorial(12) * 3**8 * 2**12 * 4**6 // (3 * 2 * 2 * 2)


@pytest.mark.parametrize("name", ["cube:2", "cube:2,turns=R+U", "cube:3,turns=R+U", "cuboid:1x2x3"])
def test_classes_have_one_name_where_turns_lead_from_one_member_to_the_other(name):
    """Against membership by SymPy: of some assemblies, each with some turns after it, and each with the others."""
    puzzle, rng = load(name), np.random.default_rng(2)
    book, group = law_book(puzzle), PermutationGroup([Permutation(g.tolist()) for g in puzzle.generators])
    hands = hand_generators(puzzle, book.sectors)
    some = [random_product(hands, rng, 5) for _ in range(4)]
    some += [random_product(puzzle.generators, rng)[image] for image in some]
    for one, other in combinations(some, 2):
        led_to = group.contains(Permutation(other[np.argsort(one)].tolist()))
        assert (book.class_of(one) == book.class_of(other)) == led_to
