"""Files that are the same each time, and whole or not there at all; texts as broad as they are drawn."""

from __future__ import annotations

import re

import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from PIL import Image
from pypdf import PdfReader

from oddswap.puzzles.catalogue import load
from oddswap.showing.ink.canvas import EDGE, INCHES, PAPERS, Paper, save, sheet, text_size, wrapped, write, write_pdf
from oddswap.showing.pictures.prints import draw_prints


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
    with pytest.raises(ValueError, match="is no name of a picture"):
        save(Figure(), tmp_path / "picture.xyz")
    save(Figure(), tmp_path / "picture.svg")
    assert [path.name for path in tmp_path.iterdir()] == ["picture.svg"]


def test_text_is_written_as_it_stands(tmp_path):
    ax = sheet(2.0, 1.0, None)
    assert write(ax, 1.0, 0.5, "$x^2$").get_parse_math() is False
    save(ax.figure, tmp_path / "text.svg")


def test_points_of_an_svg_have_two_decimals_and_nothing_else_is_touched(tmp_path):
    ax = sheet(1.0, 1.0, None)
    ax.plot([0, 1 / 3], [1 / 7, 1])
    write(ax, 0.5, 0.5, "1.23456")
    text = save(ax.figure, tmp_path / "line.svg").read_text("utf-8")
    points = re.findall(r' d="([^"]*)"', text)
    assert points and not any(re.search(r"\.\d{3}", path) for path in points)
    assert "<!-- 1.23456 -->" in text


def test_lines_are_as_long_as_they_may_be_and_no_longer():
    text = "Two of the edges have changed places unseen, and no law counts whether they move evenly."
    lines = wrapped(text, 1.5, 8.0).split("\n")
    assert " ".join(lines) == text
    breadth = [text_size(line)[0] * 8.0 / 72 / INCHES for line in lines]
    assert max(breadth) <= 1.5
    for line, following in zip(lines, lines[1:], strict=False):
        longer = f"{line} {following.split()[0]}"
        assert text_size(longer)[0] * 8.0 / 72 / INCHES > 1.5


def test_sizes_are_those_of_what_is_drawn():
    figure = Figure()
    drawn = write(figure.add_axes((0, 0, 1, 1)), 0.5, 0.5, "flip UF", size=40.0)
    box = drawn.get_window_extent(FigureCanvasAgg(figure).get_renderer())
    assert text_size("flip UF")[0] * 40.0 * figure.dpi / 72 == pytest.approx(box.width, rel=0.05)


@pytest.mark.parametrize("paper", PAPERS)
def test_text_stays_inside_and_goes_on_overleaf(paper, tmp_path):
    page = Paper(paper)
    for number in range(60):
        page.text(f"line {number} " + "of many words that must be broken into lines " * 4)
        assert EDGE - 0.2 <= page.y <= page.height - EDGE
    path = write_pdf(page.pages, tmp_path / "text.pdf")
    found = PdfReader(path).pages
    assert len(found) == len(page.pages) > 1
    text = " ".join(one.extract_text() for one in found)
    assert all(f"line {number} " in text for number in range(60))
    wide, high = PAPERS[paper]
    assert abs(float(found[0].mediabox.width) / 72 - wide) < 0.01 and abs(float(found[0].mediabox.height) / 72 - high) < 0.01


def test_a_heading_is_not_left_alone_at_the_foot():
    page = Paper()
    page.y = EDGE + 0.5
    page.heading("Next")
    assert len(page.pages) == 2


def test_a_box_lies_below_what_is_there_or_overleaf():
    page = Paper()
    before = page.y
    axes = page.box(2.0)
    assert page.y == before - 2.0 and abs(axes.get_position().y0 * page.height - page.y) < 1e-9
    page.box(page.height - 2 * EDGE - 0.1)
    assert len(page.pages) == 2


def test_a_fault_leaves_no_file(tmp_path):
    with pytest.raises(ValueError):
        write_pdf([Paper().pages[0], None], tmp_path / "half.pdf")
    assert list(tmp_path.iterdir()) == []
