"""The figure of the growth shows every measurement that is kept, and nothing else."""

import json

from oddswap.lessons.pictures.growth import CURVES, MEASURED, growth_of_cost

ROWS = json.loads(MEASURED.read_text("utf-8"))["rows"]


def test_every_measurement_is_a_point_of_its_curve():
    (ax,) = growth_of_cost().axes
    assert ax.get_yscale() == "log"
    for line, key in zip(ax.lines, CURVES, strict=True):
        assert line.get_xydata().tolist() == [[row["slabs"], row[key]] for row in ROWS if key in row]


def test_curves_differ_in_marker_and_colour_and_each_has_its_words():
    (ax,) = growth_of_cost().axes
    assert len({line.get_marker() for line in ax.lines}) == len({line.get_color() for line in ax.lines}) == len(CURVES)
    assert {text.get_text() for text in ax.texts} == {words for words, *_ in CURVES.values()}


def test_all_cubes_from_three_slabs_are_measured():
    assert [row["slabs"] for row in ROWS] == list(range(3, 26))
    assert all(0 < row["structure"] and 0 < row["chain"] for row in ROWS)
