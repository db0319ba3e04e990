"""The edition in a folder: there at any moment, and never over anything else. What its pages do is tried in `tests/browser`."""

from __future__ import annotations

import os
import shutil
import sys
from functools import partial

import pytest
from nbformat import v4, write

import oddswap
from oddswap import draw, lessons
from oddswap.__main__ import main
from oddswap.edition import build as edition
from oddswap.edition.build import puzzles_in, viewer_html, write_edition
from oddswap.errors import BadOption, UnknownPuzzle
from oddswap.puzzles.catalogue import load
from oddswap.showing.pages.output_folder import HOME
from tests.common.folders import files_in, names_in


@pytest.fixture
def notebooks(tmp_path):
    """One lesson of few cells."""
    folder = tmp_path / "notebooks"
    folder.mkdir()
    prose = v4.new_markdown_cell("# A question?\n\nA **law** with $2 \\cdot 3$.")
    code = v4.new_code_cell("print(1)", execution_count=1, outputs=[v4.new_output("stream", text="1\n")])
    write(v4.new_notebook(cells=[prose, code]), folder / "01_can_two_tiles_change_places.ipynb")
    return folder


def test_the_pages_are_there_and_nothing_else(notebooks, tmp_path, monkeypatch):
    for module, names in ((oddswap, ["Budget", "load"]), (draw, ["draw_strip"]), (lessons, ["THREE_ALARMS"])):
        monkeypatch.setattr(module, "__all__", names)  # the whole reference is made in `tests/browser`
    written = write_edition(notebooks, tmp_path / "out", looked_up=["cube:2"])
    assert written == tmp_path / "out" / "index.html"
    assert {path.name for path in tmp_path.iterdir()} == {"notebooks", "out"}
    page = (tmp_path / "out" / "01_can_two_tiles_change_places.html").read_text("utf-8")
    assert "<mn>2</mn>" in page and 'href="index.html"' in page
    assert "://" not in page.replace("http://www.w3.org/1998/Math/MathML", "")
    reference = (tmp_path / "out" / "reference_oddswap_draw.html").read_text("utf-8")
    assert (
        'id="oddswap.draw.draw_strip"' in reference and (tmp_path / "out" / "_images" / "oddswap.draw.draw_strip.png").is_file()
    )
    search = (tmp_path / "out" / "_static" / "searchtools.js").read_text("utf-8")
    assert "innerHTML = title" not in search, "a title from a file is no HTML among what was found"


def test_what_sphinx_stops_at_is_one_sentence(notebooks, tmp_path, monkeypatch, capsys):
    monkeypatch.setattr(
        edition, "reference_pages", lambda documented: {"reference.rst": "Reference\n=========\n\n.. nonsense::\n"}
    )
    assert main(["edition", "--notebooks", str(notebooks), "--out", str(tmp_path / "out"), "--puzzles", "cube:2"]) == 2
    said = capsys.readouterr().err
    assert "Sphinx could not put the pages together: `reference.rst:4:" in said and "nonsense" in said
    assert said.count("\n") == 1 and str(tmp_path) not in said and not list((tmp_path / "out").glob("*"))


def test_an_example_that_fails_is_named(notebooks, tmp_path, monkeypatch, capsys):
    (tmp_path / "spoilt").mkdir()
    text = '"""Spoilt."""\n\n\ndef draw():\n    """Draw nothing.\n\n    >>> figure = 1 / int()\n    """\n'
    (tmp_path / "spoilt" / "spoilt.py").write_text(text, "utf-8")
    page = "Reference\n=========\n\n.. autofunction:: spoilt.draw\n"
    monkeypatch.setattr(edition, "reference_pages", lambda documented: {"reference.rst": page})
    monkeypatch.setenv("PYTHONPATH", os.pathsep.join([*sys.path, str(tmp_path / "spoilt")]))
    assert main(["edition", "--notebooks", str(notebooks), "--out", str(tmp_path / "out"), "--puzzles", "cube:2"]) == 2
    assert "`the example of spoilt.draw ends with an error: division by zero`" in capsys.readouterr().err


def pages_of(text, *names):
    """What stands in for Sphinx where only the folder matters: so many pages, and a file in a folder."""

    def made_quickly(source, made):
        for name in ("index.html", "look_up.html", "deep/viewer.html", *names):
            (made / name).parent.mkdir(parents=True, exist_ok=True)
            (made / name).write_text(text, "utf-8")

    return made_quickly


@pytest.fixture
def put_together(notebooks, tmp_path, monkeypatch):
    """Make an edition in a folder whose pages say the text that is given."""

    def put(text, *names, **more):
        monkeypatch.setattr(edition, "_run_sphinx", pages_of(text, *names))
        return write_edition(notebooks, tmp_path / "out", looked_up=[], documented={}, **more).parent

    return put


def test_an_earlier_edition_is_replaced_and_a_stop_leaves_it(notebooks, put_together, monkeypatch):
    out = put_together("old", "old/only.html")
    assert set(files_in(out).values()) == {b"old"} and len(files_in(out)) == 4

    def stopped(source, made):
        pages_of("new")(source, made)
        raise KeyboardInterrupt

    monkeypatch.setattr(edition, "_run_sphinx", stopped)
    with pytest.raises(KeyboardInterrupt):
        write_edition(notebooks, out, looked_up=[], documented={})
    assert set(files_in(out).values()) == {b"old"} and len(files_in(out)) == 4
    put_together("new")
    assert set(files_in(out).values()) == {b"new"} and names_in(out) == {"index.html", "look_up.html", "deep"}
    assert names_in(out.parent) == {"notebooks", "out"}


def test_what_else_lies_there_stays(put_together, capsys):
    out = put_together("old", "old/only.html")
    theirs = {".git/config": b"[core]", "CNAME": b"mine", "deep/mine.html": b"mine", "old/mine.html": b"mine"}
    for name, data in theirs.items():
        (out / name).parent.mkdir(exist_ok=True)
        (out / name).write_bytes(data)
    (out / "index.html").write_bytes(b"mine")
    put_together("new")
    ours = {"index.html": b"mine", "index.new.html": b"new", "look_up.html": b"new", "deep/viewer.html": b"new"}
    assert files_in(out) == {**theirs, **ours} and "index.new.html" in capsys.readouterr().err
    put_together("newer", force=True)
    assert files_in(out) == {**theirs, **dict.fromkeys(("index.html", "look_up.html", "deep/viewer.html"), b"newer")}


def test_a_folder_with_hidden_files_only_is_taken_and_another_with_force(put_together, tmp_path):
    (tmp_path / "out" / ".git").mkdir(parents=True)
    (tmp_path / "out" / ".git" / "config").write_bytes(b"[core]")
    assert files_in(put_together("new")).items() >= {(".git/config", b"[core]"), ("index.html", b"new")}
    shutil.rmtree(tmp_path / "out" / HOME)
    before = files_in(tmp_path / "out")
    with pytest.raises(BadOption, match="holds something else"):
        put_together("newer")
    assert files_in(tmp_path / "out") == before
    assert files_in(put_together("newer", force=True)).items() >= {(".git/config", b"[core]"), ("index.html", b"newer")}


def test_there_is_an_edition_at_any_moment(put_together, monkeypatch):
    out, seen = put_together("old"), []

    def watched(move, source, target):
        seen.append((out / "index.html").read_text("utf-8"))
        move(source, target)
        seen.append((out / "index.html").read_text("utf-8"))

    for name in ("rename", "replace"):
        monkeypatch.setattr(os, name, partial(watched, getattr(os, name)))
    put_together("new")
    assert set(seen) == {"old", "new"} and sorted(seen, reverse=True) == seen


def test_what_cannot_be_made_is_one_sentence_and_leaves_nothing(notebooks, tmp_path, capsys):
    (tmp_path / "file").write_text("mine", "utf-8")
    (tmp_path / "empty").mkdir()
    (tmp_path / "raw").mkdir()
    raw = v4.new_notebook(cells=[v4.new_code_cell("1 + 1")])
    write(raw, tmp_path / "raw" / "03_what_does_one_turn_do.ipynb")
    (tmp_path / "torn").mkdir()
    (tmp_path / "torn" / "03_what_does_one_turn_do.ipynb").write_text("{", "utf-8")
    before = sorted(tmp_path.rglob("*"))
    for folder, out, says in (
        (notebooks, tmp_path / "file" / "deeper", "cannot be written"),
        (notebooks, notebooks, "holds something else"),
        (tmp_path / "empty", tmp_path / "out", "no notebooks"),
        (tmp_path / "raw", tmp_path / "out", "cell 1 of `03_what_does_one_turn_do.ipynb` was not executed"),
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
    shown = "Viewer(load('tetrahedron'), moves='')"
    assert puzzles_in([*sources, shown]) == ["cube:2", "cuboid:2x3x4,turns=all", "tetrahedron"]
