"""Culprits told apart and sent back to their stage."""

from oddswap.describing.changes import changed
from oddswap.puzzles.base.whole_turns import held_still
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.lookalikes import lookalikes
from oddswap.reasoning.teaching.plan_culprits import told_apart, trouble_at
from oddswap.reasoning.teaching.plans import read_plan


def test_a_piece_told_apart_has_no_twin_and_no_hidden_turn_and_the_turns_do_not_change():
    puzzle = load("shape-mod:prism8,paint=FR+FL+BR+BL")
    piece = puzzle.slot("FL")
    apart = told_apart(puzzle, frozenset({piece}))
    family, before = lookalikes(apart).family_of[piece], lookalikes(puzzle).family_of[piece]
    assert (family.pieces, family.hidden) == ((piece,), 1)
    others = [p for p in before.pieces if p != piece]
    assert all(lookalikes(apart).family_of[p].pieces == tuple(others) for p in others)
    assert law_book(apart).order == law_book(puzzle).order


def test_the_trouble_names_its_law_and_a_reachable_explanation_that_looks_the_same():
    puzzle, plan = load("shape-mod:cube,axis=U,degrees=45"), read_plan()
    state = changed(puzzle, ["flip UF"])
    trouble, explanation, sight, number = trouble_at(puzzle, puzzle, plan, 3, state)
    assert trouble.laws == law_book(puzzle).broken(state)
    assert plan.stages[number].name == trouble.back_to == "middle edges"
    assert puzzle.appearance(explanation).sights == puzzle.appearance(state).sights
    assert law_book(sight).reaches_permutation(sight.permutation(explanation))


def test_where_the_holding_is_fixed_the_puzzle_stays_as_it_is():
    assert held_still(load("cube:3")) is load("cube:3")
    assert not held_still(load("cube:3,centres=none")).rotations
