"""A square for each appearance, coloured where it is reached."""

from matplotlib.colors import to_hex

from oddswap.lessons.pictures.looks_grid import PER_ROW, draw_looks, told
from oddswap.showing.ink.palette import PALETTE, PAPER


def squares(figure):
    (collection,) = figure.axes[0].collections
    return collection


def test_a_square_for_each_in_the_order_of_reading():
    reached = [i % 3 == 0 for i in range(2 * PER_ROW + 1)]
    drawn = squares(draw_looks(reached, "ABC"))
    assert [to_hex(face).upper() for face in drawn.get_facecolor()] == [PALETTE["sky blue"] if r else PAPER for r in reached]
    corners = [tuple(path.vertices[0]) for path in drawn.get_paths()]
    assert corners == sorted(corners, key=lambda at: (-round(at[1], 6), at[0]))
    assert len({round(y, 6) for _, y in corners}) == 3


def test_no_square_leaves_the_sheet_nor_covers_another():
    for count in (1, 60, 720, 1000):
        figure = draw_looks([True] * count, "ABC")
        width, height = figure.axes[0].get_xlim()[1], figure.axes[0].get_ylim()[1]
        boxes = [path.get_extents() for path in squares(figure).get_paths()]
        assert all(0 < box.x0 and box.x1 < width and 0 < box.y0 and box.y1 < height for box in boxes)
        assert len({(round(box.x0, 6), round(box.y0, 6)) for box in boxes}) == count


def test_the_words_count():
    assert told([True] * 3, "ODD") == "ODD: 3 ways to look, all of them reached"
    assert draw_looks([True, False, False], "TRAYS").axes[0].texts[0].get_text() == "TRAYS: 3 ways to look, 1 of them reached"
