"""The intake as a person uses it, without a browser: the same tickets come out as from files."""

from __future__ import annotations

import os

import pytest

import oddswap.desk.intake
from oddswap.describing.postcards import write_postcard
from oddswap.describing.tickets import parse_ticket
from oddswap.desk.intake import COVERED, EITHER
from oddswap.desk.intake_controls import PAINT, SAY, TURN
from oddswap.desk.repair_table import intake
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.verdicts.diagnosis import diagnose

NAMES = ("cube:3", "shape-mod:prism8", "cuboid:2x3x4", "tiles:2x3")


@pytest.fixture
def seen(tmp_path):
    return intake(NAMES, tmp_path)


def pick(seen, *slots, facet="U"):
    for slot in slots:
        seen._pick({"slot": slot, "piece": slot, "facet": facet})


def ticket(seen):
    return parse_ticket(seen.ticket_text)


def test_turning_there(seen):
    seen.viewer.play("R U")
    assert ticket(seen).appearance == parse_ticket('puzzle = "cube:3"\nafter = "R U"').appearance
    assert "ordinary" in seen.said.value
    seen.back.click()
    assert ticket(seen).appearance == parse_ticket('puzzle = "cube:3"\nafter = ""').appearance or "R" in seen.viewer.moves
    seen.afresh.click()
    assert "Everything is told" in repr(seen)


def test_saying_what_is_off(seen):
    seen.way.value = SAY
    seen.exchange.click()
    assert "pick two pieces" in seen.said.value
    pick(seen, "UF", "UR")
    seen.exchange.click()
    pick(seen, "UFR")
    seen.twist.click()
    told = parse_ticket('puzzle = "cube:3"\nchanges = ["swap UF UR", "twist UFR cw"]')
    assert ticket(seen).appearance == told.appearance and "not by turning" in seen.said.value
    pick(seen, "DF", "DB")
    seen.cover.click()
    assert "2 slots are open" in seen.said.value
    seen.back.click()
    assert "Everything is told" in seen.said.value


def test_layers_that_are_done(seen):
    seen.way.value = SAY
    seen.layers.value = ("D",)
    open_slots = {seen.sketch.puzzle.slots[b] for b in seen.sketch.appearance.uncertain}
    assert open_slots == {slot for slot in seen.sketch.puzzle.slots if "D" not in slot and len(slot) > 1}
    assert "cannot tell yet" in seen.said.value


def test_a_verdict_that_took_too_long_says_so(seen, monkeypatch):
    """What goes along with every stroke may take a second; the time is up at once here."""
    seen.take('puzzle = "shape-mod:prism8"\n[slots]\nUF = "?"\nUR = "?"\nUB = "?"')
    assert "cannot tell yet" in seen.said.value and "time ended" not in seen.said.value
    monkeypatch.setattr(oddswap.desk.intake, "QUICK", Budget(0.0))
    seen._report()
    assert "cannot tell yet" in seen.said.value
    assert "Whether what is not seen decides: the time ended before all that it can be was looked at." in seen.said.value


def test_painting_with_cannot_see_and_this_or_that(seen):
    seen.way.value = PAINT
    brushes = dict(seen.brush.options)
    assert {COVERED, EITHER} < set(brushes)
    seen.empty.click()
    seen.brush.value = ("U",)
    pick(seen, "UF", facet="U")
    seen.brush.value = ("F",)
    pick(seen, "UF", facet="F")
    seen.brush.value = ("R",)
    seen.brush.value = EITHER
    seen._last = "R"
    pick(seen, "UF", facet="F")
    told = parse_ticket('puzzle = "cube:3"\n[slots]\nUF = "UF | UR"\n')
    slot = seen.sketch.puzzle.slot("UF")
    assert ticket(seen).appearance.sights[slot] == told.appearance.sights[slot]
    seen.brush.value = ()
    pick(seen, "UF", facet="F")
    assert len(seen.sketch.appearance.sights[slot]) == 4, "four edges have a U sticker"


@pytest.mark.parametrize(
    "text",
    [
        'puzzle = "shape-mod:prism8"\nchanges = ["flip UF"]\nnote = "mine"',
        'puzzle = "cube:3"\n[seen.U]\nrows = ["U U U", "U U U", "F U U"]\n[colours]\nU = "ivory"',
        'puzzle = "tiles:2x3"\nchanges = ["cycle r1c1 r1c2 r1c3"]',
        'puzzle = "cube:3"\n[slots]\nUF = "UR flipped"\nUR = "?"',
    ],
)
def test_a_ticket_that_is_opened_comes_out_the_same(seen, text):
    told = parse_ticket(text)
    seen.take(text)
    found = ticket(seen)
    assert (found.puzzle.name, found.appearance.sights) == (told.puzzle.name, told.appearance.sights)
    assert dict(found.colours) == dict(told.colours) and found.note == told.note
    assert diagnose(found.puzzle, found.appearance).verdict == diagnose(told.puzzle, told.appearance).verdict


def test_a_postcard_is_pasted(seen):
    told = parse_ticket('puzzle = "cube:3"\nchanges = ["swap UF UR"]\n[colours]\nU = "gold"')
    seen.postcard.value = f"> {write_postcard(told)}\n"
    assert (ticket(seen).appearance.sights, ticket(seen).colours) == (told.appearance.sights, told.colours)
    seen.postcard.value = "odd1;cube:3;AAAA"
    assert "copy it again" in seen.said.value and ticket(seen).colours == told.colours


def test_a_ticket_that_cannot_be_read_is_said_in_place_and_nothing_is_lost(seen):
    seen.viewer.play("R")
    before = seen.sketch
    seen.take('puzzle = "cube:99"')
    assert seen.sketch is before and "<b>" in seen.said.value and "cube" in seen.said.value
    seen.take("<script>alert(1)</script>")
    assert "<script>" not in seen.said.value and seen.sketch is before


def test_how_a_box_is_held_and_which_turns_it_makes(seen):
    seen.which.chooser.value = "cuboid:2x3x4"
    assert seen.sketch.puzzle.name == "cuboid:2x4x3"
    seen.which.tallest.value = "left to right"
    assert seen.sketch.puzzle.name == "cuboid:4x2x3"
    first = seen.which.turns.children[0]
    first.value = False
    assert first.description not in seen.sketch.puzzle.turns and "turns=" in seen.sketch.puzzle.name
    assert ticket(seen).puzzle is seen.sketch.puzzle


def test_what_was_entered_stays_when_turns_are_ticked_off(seen):
    seen.which.chooser.value = "cube:3"
    seen.viewer.play("R")
    seen.way.value = SAY
    pick(seen, "UFR", "UF")
    seen.cover.click()
    before = seen.sketch
    seen.which.turns.children[0].value = False
    assert "turns=" in seen.sketch.puzzle.name and seen.sketch.covered == before.covered and len(before.covered) == 2
    assert seen.sketch.arrangement.pieces == before.arrangement.pieces
    for tick in seen.which.turns.children:
        tick.value = False
    assert "<b>" in seen.said.value and "turns=" in seen.sketch.puzzle.name


def test_a_ticket_of_a_puzzle_without_a_picture_leaves_nothing_to_tick(seen):
    seen.take('puzzle = "cube:5"\nafter = "R"')
    assert seen.sketch.puzzle.name == "cube:5" and seen.which.chooser.value == "" and not seen.which.turns.children
    seen.which.chooser.value = "cube:2"
    assert seen.sketch.puzzle.name == "cube:2" and seen.which.turns.children


def test_ways_that_a_puzzle_has_not(seen):
    seen.which.chooser.value = "shape-mod:prism8"
    seen.way.value = PAINT
    assert "say what is off" in seen.said.value
    seen.which.chooser.value = "tiles:2x3"
    seen.way.value = TURN
    assert not seen.which.turns.children and not seen.names.children


def test_files_are_saved_in_the_folder_and_nowhere_else(seen, tmp_path):
    seen.file.value = "../../mine.toml"
    seen.note.value = "call me"
    seen.save.click()
    assert parse_ticket((tmp_path / "mine.toml").read_text()).note == "call me"
    seen.note.value = "call me later"
    seen.save.click()
    assert parse_ticket((tmp_path / "mine.toml").read_text()).note == "call me later"
    with (tmp_path / "mine.toml").open("a") as mine:
        mine.write("# and my own words\n")
    before = (tmp_path / "mine.toml").read_bytes()
    seen.note.value = "call me never"
    seen.save.click()
    assert (tmp_path / "mine.toml").read_bytes() == before and "give another name" in seen.said.value
    (tmp_path / "theirs.toml").write_text("somebody else's")
    seen.file.value = "theirs.toml"
    seen.save.click()
    assert (tmp_path / "theirs.toml").read_text() == "somebody else's" and "give another name" in seen.said.value
    seen.paper.click()
    assert (tmp_path / "ticket_to_colour_in.pdf").exists() and "To print" in seen.said.value


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="pipes as Unix has them")
def test_a_pipe_of_that_name_is_not_waited_for(seen, tmp_path):
    os.mkfifo(tmp_path / "pipe.toml")
    seen.file.value = "pipe.toml"
    seen.save.click()
    assert "It was not saved" in seen.said.value and "this is a pipe" in seen.said.value
