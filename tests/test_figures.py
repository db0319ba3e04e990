"""The figures of the guides: each file is drawn by the function that it is named after."""

from pathlib import Path

import pytest

from oddswap.showing.figures import FIGURES, rebuild

FOLDER = Path(__file__).parents[1] / "figures"


def test_every_figure_that_is_kept_can_be_drawn_anew():
    assert {path.stem for path in FOLDER.iterdir()} == set(FIGURES)


def test_rebuilding_gives_the_same_files(tmp_path):
    one, other = rebuild(tmp_path / "one"), rebuild(tmp_path / "other")
    assert [path.name for path in one] == [f"{name}.svg" for name in FIGURES]
    assert [path.read_bytes() for path in one] == [path.read_bytes() for path in other]


@pytest.mark.parametrize("name", FIGURES)
def test_every_figure_says_what_it_shows(name):
    assert FIGURES[name].__doc__.strip().endswith(".")
