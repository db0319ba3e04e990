"""The figure of what proofs cost shows every measurement that is kept, and the measurements are of the counts there are."""

import json

from oddswap.lessons.pictures.growth_of_search import CURVES, MEASURED, growth_of_search
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.search.shortest import find_way

DATA = json.loads(MEASURED.read_text("utf-8"))
ROWS = DATA["rows"]


def test_every_measurement_is_a_point_of_its_curve():
    axes = growth_of_search().axes
    assert [ax.get_title("left") for ax in axes] == [words for words, *_ in CURVES.values()]
    for ax, key in zip(axes, CURVES, strict=True):
        (line,) = ax.lines
        assert ax.get_yscale() == "log"
        assert line.get_xydata().tolist() == [[row["depth"], row[key]] for row in ROWS]


def test_every_depth_to_thirteen_is_measured_and_costs_no_less_than_the_last():
    assert [row["depth"] for row in ROWS] == list(range(1, 14))
    assert all(a["states"] <= b["states"] for a, b in zip(ROWS, ROWS[1:], strict=False))


def test_the_states_are_those_that_the_search_generates_today():
    puzzle = load(DATA["puzzle"])
    moves = "R U F2 D B' L".split()
    for length in range(1, 7):
        way = find_way(puzzle, puzzle.appearance(puzzle.follow(" ".join(moves[:length]))))
        assert way.states == ROWS[length - 1]["states"]
