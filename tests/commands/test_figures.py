"""The figures of the guides: each file is drawn by the function that it is named after.

The figures of growth show every measurement that is kept, and nothing else; what is counted is what a search counts today.
"""

import json
from pathlib import Path

import pytest

from oddswap.commands.figures import BY_LENGTH, BY_SIZE, COSTS, FIGURES, PROOFS, growth_of_cost, growth_of_search, rebuild
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.search.shortest import find_way
from oddswap.showing.ink.canvas import save
from tests.common.folders import names_in

FOLDER = Path(__file__).parents[2] / "figures"


LARGEST = 400_000
"""Bytes of a figure that anybody has to load with a page."""


def test_every_figure_that_is_kept_can_be_drawn_anew_and_nothing_else_lies_there():
    assert names_in(FOLDER) == {f"{name}.svg" for name in FIGURES}


def test_no_figure_is_too_large_for_a_page():
    assert {path.name: path.stat().st_size for path in FOLDER.iterdir() if path.stat().st_size > LARGEST} == {}


def test_rebuilding_gives_the_same_files(tmp_path):
    """All are drawn once, and every fifth once more."""
    files = {path.stem: path for path in rebuild(tmp_path)}
    assert list(files) == list(FIGURES)
    for name in list(FIGURES)[::5]:
        assert save(FIGURES[name](), tmp_path / "again.svg").read_bytes() == files[name].read_bytes(), name


@pytest.mark.parametrize("name", FIGURES)
def test_every_figure_says_what_it_shows(name):
    assert FIGURES[name].__doc__.strip().endswith(".")


SIZES = json.loads(BY_SIZE.read_text("utf-8"))["rows"]
DATA = json.loads(BY_LENGTH.read_text("utf-8"))
LENGTHS = DATA["rows"]


def test_every_measurement_by_size_is_a_point_of_its_curve():
    (ax,) = growth_of_cost().axes
    assert ax.get_yscale() == "log"
    for line, key in zip(ax.lines, PROOFS, strict=True):
        assert line.get_xydata().tolist() == [[row["slabs"], row[key]] for row in SIZES if key in row]


def test_curves_differ_in_marker_and_colour_and_each_has_its_words():
    (ax,) = growth_of_cost().axes
    assert len({line.get_marker() for line in ax.lines}) == len({line.get_color() for line in ax.lines}) == len(PROOFS)
    assert {text.get_text() for text in ax.texts} == {words for words, *_ in PROOFS.values()}


def test_all_cubes_from_three_slabs_are_measured():
    assert [row["slabs"] for row in SIZES] == list(range(3, 26))
    assert all(0 < row["structure"] and 0 < row["chain"] for row in SIZES)


def test_every_measurement_by_length_is_a_point_of_its_curve():
    axes = growth_of_search().axes
    assert [ax.get_title("left") for ax in axes] == [words for words, *_ in COSTS.values()]
    for ax, key in zip(axes, COSTS, strict=True):
        (line,) = ax.lines
        assert ax.get_yscale() == "log"
        assert line.get_xydata().tolist() == [[row["depth"], row[key]] for row in LENGTHS]


def test_every_depth_to_thirteen_is_measured_and_costs_no_less_than_the_last():
    assert [row["depth"] for row in LENGTHS] == list(range(1, 14))
    assert all(a["states"] <= b["states"] for a, b in zip(LENGTHS, LENGTHS[1:], strict=False))


def test_the_states_are_those_that_the_search_generates_today():
    puzzle = load(DATA["puzzle"])
    moves = "R U F2 D B' L".split()
    for length in range(1, 7):
        way = find_way(puzzle, puzzle.appearance(puzzle.follow(" ".join(moves[:length]))))
        assert way.states == LENGTHS[length - 1]["states"]
