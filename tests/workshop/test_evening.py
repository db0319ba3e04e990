"""An evening in a folder: all of it, the same bytes for the same seed, and nothing half written."""

from __future__ import annotations

import pytest
from pypdf import PdfReader

from oddswap.errors import BadOption
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.budget import Budget
from oddswap.showing.ink.canvas import write_pdf
from oddswap.workshop import evening as workshop
from oddswap.workshop.evening import small_loop, write_workshop
from oddswap.workshop.guide import guide_markdown, planned
from oddswap.workshop.worksheet_pages import sheet_pages
from tests.common.clocks import ends_after
from tests.common.folders import names_in

ALL = {"sheets.pdf", "keys.pdf", "envelopes.pdf", "cut_outs.pdf", "projector.pdf", "posters.pdf", "poster_tiles.pdf"}
ALL |= {"guide.pdf", "guide.md"}


def test_everything_for_the_evening_is_there(evening):
    assert names_in(evening) == ALL
    pages = {name: len(PdfReader(evening / name).pages) for name in ALL if name.endswith(".pdf")}
    assert pages["sheets.pdf"] == 9 and pages["posters.pdf"] == 2 and pages["poster_tiles.pdf"] == pages["projector.pdf"] == 8


def test_the_same_seed_gives_the_same_bytes_and_a_box_that_can_leave_its_outline_a_map_and_a_card(tmp_path):
    write_workshop(["cuboid:1x3x3"], 1, 9, tmp_path, count=1, tables=1)
    pages = [page.extract_text() for page in PdfReader(tmp_path / "shapes_cuboid_1x3x3.pdf").pages]
    assert len(pages) == 2 and "one of 16" in pages[0] and "LL2" in pages[0]
    assert "A law lives only at home" in pages[1] and "line it up first" in pages[1]
    again, other = (planned([load("cuboid:1x3x3")], 1, seed, 1, 1, 4, Budget().start()) for seed in (9, 10))
    assert guide_markdown(again) == (tmp_path / "guide.md").read_text("utf-8") != guide_markdown(other)
    assert "shapes_cuboid_1x3x3.pdf" in guide_markdown(again) and "D is the bottom layer, F front" in pages[1]
    write_pdf(sheet_pages(again.sheets[0]), tmp_path / "again.pdf")
    assert (tmp_path / "again.pdf").read_bytes() == (tmp_path / "sheets.pdf").read_bytes()
    assert again.sheets != other.sheets


@pytest.mark.parametrize("name", ["cuboid:1x3x3,turns=all", "cuboid:2x3x4,turns=all", "cuboid:1x3x4,turns=all"])
def test_the_loop_of_the_card_goes_out_and_comes_home_with_little_changed(name):
    box = load(name)
    word = " ".join(small_loop(box))
    end = box.follow(word)
    assert box.closed(end) and not all((outline == box.filled).all() for outline in box.outlines(word))
    assert 0 < sum(sight != own for sight, own in zip(*(box.appearance(s).sights for s in (end, box.solved)), strict=True)) <= 2


@pytest.mark.parametrize(
    ("names", "level", "more", "says"),
    [
        ([], 1, {}, "no puzzle is named"),
        (["cube:2"], 7, {}, "there is no level 7"),
        (["cube:2"], 1, {"count": 0}, "give 1 to 100 sheets"),
        (["cube:2"], 1, {"tables": 99}, "1 to 30 tables"),
        (["cube:2"], 1, {"people": 4, "tables": 5}, "at least one person a table"),
        (["cuboid:1x2x3"], 1, {}, "has no laws"),
        (["cuboid:1x1x4"], 1, {}, "no three pieces of one kind"),
        (["cube:2"], 1, {"budget": ends_after(0)}, "the time ended after 0 questions"),
    ],
)
def test_what_cannot_be_made_is_one_sentence_and_leaves_nothing(names, level, more, says, tmp_path):
    with pytest.raises(BadOption, match=says):
        write_workshop(names, level, 1, tmp_path / "out", **more)
    assert not (tmp_path / "out").exists()


def test_a_folder_that_cannot_be_written_is_one_sentence(tmp_path, monkeypatch):
    monkeypatch.setattr(workshop, "_files", lambda *_: [])
    (tmp_path / "file").write_text("")
    with pytest.raises(BadOption, match="cannot be written"):
        write_workshop(["cube:2"], 1, 1, tmp_path / "file" / "deeper")


def test_where_the_time_ends_while_pages_are_drawn_none_is_written(tmp_path):
    used = [0.0]

    def ended_at_the_keys(name, done):
        used[0] = 1e9 * (name == "keys.pdf")

    with pytest.raises(BadOption, match="the time ended before all pages were drawn"):
        clock = Budget().start(lambda: used[0])
        write_workshop(["cube:2"], 1, 1, tmp_path, count=1, tables=1, budget=clock, tell=ended_at_the_keys)
    assert not list(tmp_path.iterdir())


def test_a_stop_in_the_middle_leaves_the_old_files(tmp_path, monkeypatch):
    (tmp_path / "sheets.pdf").write_bytes(b"old")

    def stop(name, done):
        if name == "keys.pdf":
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        write_workshop(["cube:2"], 1, 1, tmp_path, count=1, tables=1, tell=stop)
    assert [path.name for path in tmp_path.iterdir()] == ["sheets.pdf"]
    assert (tmp_path / "sheets.pdf").read_bytes() == b"old"
