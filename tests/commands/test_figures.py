"""The figures of the guides: each file is drawn by the function that it is named after."""

from pathlib import Path

import pytest

from oddswap.commands.figures import FIGURES, rebuild
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
