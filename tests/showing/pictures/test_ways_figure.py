"""The picture of the ways: a cell for each turn, those that close the box white, and what is proved hatched."""

import pytest
from matplotlib.colors import to_hex
from matplotlib.patches import Rectangle

from oddswap.errors import BadOption
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.opening.ways_map import ways_map
from oddswap.reasoning.search import kept_files
from oddswap.showing.ink.palette import PAPER
from oddswap.showing.pictures.ways_figure import CELL, MOST, OPEN_INK, draw_ways


@pytest.fixture(autouse=True)
def place(monkeypatch, tmp_path):
    monkeypatch.setenv(kept_files.VARIABLE, str(tmp_path))


def cells(ax):
    return [patch for patch in ax.patches if isinstance(patch, Rectangle)]


def test_turns_stand_in_cells_open_or_closed_as_the_box_is_after_them():
    found = ways_map(load("cuboid:2x3x4"), 9)
    (ax,) = draw_ways(found).axes
    plain = [cell for cell in cells(ax) if not cell.get_hatch()]
    hatched = [cell for cell in cells(ax) if cell.get_hatch()]
    moves = [way.moves for way in found.ways if way.moves]
    closed = [(o == found.box.filled).all() for each in moves for o in found.box.outlines(" ".join(each))[1:]]
    assert len(plain) == sum(map(len, moves)) and len(hatched) == len(found.ways) - len(moves)
    assert sum(to_hex(cell.get_facecolor()) == to_hex(PAPER) for cell in plain) == sum(closed)
    assert sum(to_hex(cell.get_facecolor()) == to_hex(OPEN_INK) for cell in plain) == len(closed) - sum(closed)
    assert {round(cell.get_width() / CELL) for cell in hatched} == {9}
    texts = [text.get_text() for text in ax.texts]
    assert "10 or more, proved" in texts and sum(text == "2F2" for text in texts) == sum(each.count("2F2") for each in moves)


def test_the_shortest_come_first_and_the_rest_are_counted():
    found = ways_map(load("cuboid:3x4x5"), 2)
    (ax,) = draw_ways(found).axes
    assert len([cell for cell in cells(ax) if cell.get_hatch()]) == MOST
    assert f"and {len(found.ways) - MOST} more families" in [text.get_text() for text in ax.texts]


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
