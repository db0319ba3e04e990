"""Ways out: found lengths against exact levels, bounds under small budgets, and goals in any holding."""

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.search import Budget, find_way


def test_a_way_out_is_proved_shortest():
    puzzle = load("cube:3")
    way = find_way(puzzle, puzzle.appearance(puzzle.follow("R U R' U'")))
    assert way.shortest and len(way.turns) == way.lower_bound == 4


def test_a_tiny_budget_returns_a_bound():
    puzzle = load("cube:3")
    way = find_way(puzzle, puzzle.appearance(puzzle.follow("R U2 F D' L B2 R' U F2 D")), budget=Budget(0.05))
    assert way.turns is None and not way.shortest and 0 < way.lower_bound <= 10
