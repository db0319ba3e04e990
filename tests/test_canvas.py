"""Files that are the same each time, and whole or not there at all."""

import pytest
from matplotlib.figure import Figure
from PIL import Image

from oddswap.puzzles.catalogue import load
from oddswap.showing.canvas import save, sheet, write
from oddswap.showing.prints import draw_prints


@pytest.mark.parametrize("suffix", ["svg", "png"])
def test_the_same_picture_gives_the_same_bytes(tmp_path, suffix):
    puzzle = load("cube:2")
    one, other = (
        save(draw_prints(puzzle, puzzle.solved, letters=True), tmp_path / f"{i}.{suffix}").read_bytes() for i in range(2)
    )
    assert one == other


def test_width_is_in_pixels_and_transparent_pictures_have_no_table(tmp_path):
    figure = draw_prints(load("cube:2"), load("cube:2").solved)
    with Image.open(save(figure, tmp_path / "a.png", width=700)) as picture:
        assert picture.width == 700
        assert picture.convert("RGBA").getpixel((1, 1))[3] == 255
    with Image.open(save(figure, tmp_path / "b.png", transparent=True)) as picture:
        assert picture.convert("RGBA").getpixel((1, 1))[3] == 0


def test_nothing_is_left_half_written(tmp_path):
    with pytest.raises(ValueError, match="Format 'xyz'"):
        save(Figure(), tmp_path / "picture.xyz")
    save(Figure(), tmp_path / "picture.svg")
    assert [path.name for path in tmp_path.iterdir()] == ["picture.svg"]


def test_text_is_written_as_it_stands(tmp_path):
    ax = sheet(2.0, 1.0, None)
    assert write(ax, 1.0, 0.5, "$x^2$").get_parse_math() is False
    save(ax.figure, tmp_path / "text.svg")
