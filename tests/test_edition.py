"""The edition in a folder: whole or not at all, and never over anything else. What its pages do is tried in `tests/browser`."""

from __future__ import annotations

import pytest
from nbformat import v4, write

from oddswap.__main__ import main
from oddswap.errors import UnknownPuzzle
from oddswap.puzzles.catalogue import load
from oddswap.showing import edition
from oddswap.showing.edition import OURS, write_edition
from oddswap.showing.edition_viewers import puzzles_in, viewer_html


@pytest.fixture
def notebooks(tmp_path):
    """One lesson of few cells."""
    folder = tmp_path / "notebooks"
    folder.mkdir()
    prose = v4.new_markdown_cell("# A question?\n\nA **law** with $2 \\cdot 3$.")
    code = v4.new_code_cell("print(1)", execution_count=1, outputs=[v4.new_output("stream", text="1\n")])
    write(v4.new_notebook(cells=[prose, code]), folder / "01_can_two_tiles_change_places.ipynb")
    return folder


def test_the_pages_are_there_and_nothing_else(notebooks, tmp_path):
    written = write_edition(notebooks, tmp_path / "out", looked_up=["cube:2"])
    assert written == tmp_path / "out" / "index.html"
    assert {path.name for path in tmp_path.iterdir()} == {"notebooks", "out"}
    page = (tmp_path / "out" / "01_can_two_tiles_change_places.html").read_text("utf-8")
    assert "<mn>2</mn>" in page and 'href="index.html"' in page
    assert "://" not in page.replace("http://www.w3.org/1998/Math/MathML", "")


def test_an_earlier_edition_is_replaced_and_a_stop_leaves_it(notebooks, tmp_path, monkeypatch):
    out = tmp_path / "out"
    out.mkdir()
    (out / OURS).write_text("old", "utf-8")

    def stopped(source, made):
        made.mkdir()
        raise KeyboardInterrupt

    def quick(source, made):
        made.mkdir()
        (made / OURS).write_text("new", "utf-8")

    monkeypatch.setattr(edition, "_run_sphinx", stopped)
    with pytest.raises(KeyboardInterrupt):
        write_edition(notebooks, out, looked_up=[])
    assert (out / OURS).read_text("utf-8") == "old"
    monkeypatch.setattr(edition, "_run_sphinx", quick)
    write_edition(notebooks, out, looked_up=[])
    assert (out / OURS).read_text("utf-8") == "new"
    assert {path.name for path in tmp_path.iterdir()} == {"notebooks", "out"}


def test_what_cannot_be_made_is_one_sentence_and_leaves_nothing(notebooks, tmp_path, capsys):
    (tmp_path / "file").write_text("mine", "utf-8")
    (tmp_path / "empty").mkdir()
    (tmp_path / "raw").mkdir()
    raw = v4.new_notebook(cells=[v4.new_code_cell("1 + 1")])
    write(raw, tmp_path / "raw" / "02_what_does_one_turn_do.ipynb")
    (tmp_path / "torn").mkdir()
    (tmp_path / "torn" / "02_what_does_one_turn_do.ipynb").write_text("{", "utf-8")
    before = sorted(tmp_path.rglob("*"))
    for folder, out, says in (
        (notebooks, tmp_path / "file" / "deeper", "cannot be written"),
        (notebooks, notebooks, "holds something else"),
        (tmp_path / "empty", tmp_path / "out", "no lessons"),
        (tmp_path / "raw", tmp_path / "out", "cell 1 of `02_what_does_one_turn_do.ipynb` was not executed"),
        (tmp_path / "torn", tmp_path / "out", "no notebook that can be read"),
    ):
        assert main(["edition", "--notebooks", str(folder), "--out", str(out)]) == 2
        said = capsys.readouterr().err
        assert says in said and said.count("\n") == 1
    with pytest.raises(UnknownPuzzle, match="cube"):
        write_edition(notebooks, tmp_path / "out", looked_up=["cube:1"])
    assert sorted(tmp_path.rglob("*")) == before


def test_a_viewer_is_one_file_that_may_fetch_nothing():
    page = viewer_html(load("tiles:2x2"))
    assert "default-src 'none'" in page and "://" not in page


def test_the_puzzles_of_a_notebook_are_those_it_loads():
    sources = ['load("cube:2"), load("custom:own.toml")', 'reload("cube:5"); load("cuboid:2x3x4,turns=all"); load("cube:2")']
    assert puzzles_in(sources) == ["cube:2"]
