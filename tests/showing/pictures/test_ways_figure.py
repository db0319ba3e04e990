"""The picture of the ways: a card for each family, with what looks wrong marked, and the excursions that make it."""

import pytest
from matplotlib.colors import to_hex

from oddswap.errors import BadOption
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.opening.ways_map import ways_map
from oddswap.reasoning.search import kept_files
from oddswap.showing.ink.palette import HIGHLIGHT
from oddswap.showing.pictures.ways_figure import MOST, draw_ways


@pytest.fixture(autouse=True)
def place(monkeypatch, tmp_path):
    monkeypatch.setenv(kept_files.VARIABLE, str(tmp_path))


def test_each_family_has_its_picture_its_length_and_an_excursion_that_closes_the_box():
    found = ways_map(load("cuboid:2x3x4"), 9)
    (ax,) = draw_ways(found).axes
    texts = [text.get_text() for text in ax.texts]
    moves = [way.moves for way in found.ways if way.moves]
    assert {f"in {len(each)} turns" for each in moves} | {"in 10 turns or more"} == {t for t in texts if t.startswith("in ")}
    for each in moves:
        written = " ".join(each)
        assert sum(text.endswith(f"\n{written}") for text in texts) == 1
        assert (found.box.outlines(written)[-1] == found.box.filled).all()
    assert sum(to_hex(c).upper() == HIGHLIGHT for c in edges(ax)) >= 2 * len(found.ways)


def edges(ax):
    return [colour for collection in ax.collections for colour in collection.get_edgecolor()]


def test_the_shortest_come_first_and_no_more_than_have_room():
    found = ways_map(load("cuboid:3x4x5"), 2)
    (ax,) = draw_ways(found).axes
    assert len(found.ways) > MOST and sum(text.get_text().startswith("in ") for text in ax.texts) == MOST


def test_all_writing_stays_on_the_sheet():
    figure = draw_ways(ways_map(load("cuboid:2x3x4"), 12))
    figure.canvas.draw()
    (ax,) = figure.axes
    box = ax.get_window_extent()
    for text in ax.texts:
        extent = text.get_window_extent()
        assert box.x0 <= extent.x0 and extent.x1 <= box.x1 and box.y0 <= extent.y0 and extent.y1 <= box.y1


def test_nothing_to_draw_is_said():
    with pytest.raises(BadOption, match="no families to draw"):
        draw_ways(ways_map(load("cuboid:2x2x4")))
