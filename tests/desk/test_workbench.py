"""The workbench without a browser: every ticket gets the verdict of its file, and a way out is laid out as a strip."""

from __future__ import annotations

from pathlib import Path

import pytest

from oddswap.describing.reading import read_ticket
from oddswap.describing.tickets import parse_ticket
from oddswap.desk import workbench as module
from oddswap.desk.repair_table import workbench
from oddswap.desk.workbench import OWN
from oddswap.errors import BadOption
from oddswap.reasoning.answers import MadeByHand, ReadOtherwise
from oddswap.reasoning.ticket_answers import NotOnOwnCopy
from oddswap.reasoning.verdicts.diagnosis import diagnose
from oddswap.words import say

FOLDER = Path(__file__).parents[2] / "notebooks" / "tickets"
TICKETS = [read_ticket(path) for path in sorted(FOLDER.glob("*.toml"))]
NASTY = parse_ticket('puzzle = "shape-mod:prism8"\nchanges = ["flip UF"]\nnote = "<script>dogs</script>"', "nasty <b>")


@pytest.fixture(scope="module")
def bench():
    return workbench([*TICKETS, NASTY], ["cube:3"])


@pytest.mark.parametrize("ticket", TICKETS, ids=lambda ticket: ticket.name)
def test_a_ticket_on_the_table_gets_its_verdict(bench, ticket):
    bench.ticket.value = ticket.name
    found = diagnose(ticket.puzzle, ticket.appearance)
    assert bench.answer.verdict == found.verdict
    assert [c.pieces for c in bench.answer.diagnosis.culprits] == [c.pieces for c in found.culprits]
    assert found.verdict in bench.panel.value and ticket.puzzle.title in repr(bench)
    assert bench.find.disabled == (found.explanation is None)
    assert bench.intake.viewer.xray == bool(found.culprits)


def test_a_way_out_is_laid_out_and_goes_with_the_next_change(bench, monkeypatch):
    bench.ticket.value = OWN
    bench.intake.which.chooser.value = "cube:3"
    bench.intake.viewer.play("R U2")
    bench.find.click()
    assert bench.answer.way_out.moves == "U2 R'"
    assert [frame["name"] for frame in bench.intake.viewer.strip["frames"]] == ["U2", "R'"]
    assert "data:image/png" in bench.tally.value
    start = bench.intake.viewer.arrangement
    assert bench.answer.puzzle.appearance(start) == bench.answer.puzzle.appearance(bench.answer.puzzle.follow("R U2"))
    bench.intake.viewer.arrangement = bench.answer.puzzle.follow("U2", start)
    assert bench.intake.viewer.strip and bench.answer.way_out, "going along the strip is no new sight"
    bench.intake.viewer.arrangement = start
    asked = []
    monkeypatch.setattr(module, "answer_to", lambda *_: asked.append(1))
    bench.find.click()
    assert not asked, "what was found once is not searched again"
    bench.intake.viewer.play("F")
    assert not bench.intake.viewer.strip and not bench.tally.value and bench.answer.way_out is None


def test_text_from_a_ticket_is_text(bench):
    bench.ticket.value = NASTY.name
    assert "<script>" not in bench.panel.value and bench.intake.note.value == "<script>dogs</script>"


def test_no_ticket_at_all_is_one_sentence():
    with pytest.raises(BadOption, match="no ticket to lay on the table"):
        workbench([])


def test_a_ticket_can_be_told_of_another_puzzle(bench):
    bench.ticket.value = "04_octagon_one_edge_flipped"
    bench.told_of.value = "cube:3"
    assert bench.answer.puzzle.name == "cube:3" and bench.answer.verdict == "not by turning"
    bench.ticket.value = "08_slanted_cube_centre_turned"
    assert "turns otherwise" in bench.panel.value or bench.answer.puzzle.name == "cube:3"
    bench.told_of.value = bench.told_of.options[0]
    assert bench.answer.puzzle.name == "shape-mod:cube,axis=U,degrees=45"


def test_a_box_that_half_turns_cannot_mend_can_still_be_searched():
    """What leaves the outline is tried only when it is asked for, and nothing else is claimed before."""
    path = FOLDER / "boxes" / "19_box_two_corners_over.toml"
    bench = workbench([read_ticket(path)])
    assert bench.answer.verdict == "not by turning" and "not tried yet" in bench.panel.value and not bench.find.disabled
    bench.find.click()
    assert bench.answer.verdict == "other turns" and "not tried yet" not in bench.panel.value
    cube = workbench([parse_ticket('puzzle = "cube:3"\nchanges = ["flip UF"]')])
    assert cube.answer.verdict == "not by turning" and cube.find.disabled and "tried" not in cube.panel.value


def test_a_ticket_s_copies_and_doubts_are_answered_at_the_table():
    """A layer turned by a quarter, told by its pieces, where half turns are made; and a number in front, with both results."""
    quarter = 'changes = ["cycle UF UL UB UR", "cycle UFR UFL UBL UBR"]'
    by_hand = parse_ticket(f'puzzle = "cube:3"\ncopy = "half"\n{quarter}', "by hand")
    doubted = parse_ticket('puzzle = "cube:3"\nafter = "2U"\n[mine]\nturns = ["R2", "F2"]', "doubted")
    table = workbench([by_hand, doubted], ["cube:3"])
    assert table.answer.diagnosis.has(MadeByHand) and table.find.disabled
    table.ticket.value = "doubted"
    asked = table.answer.diagnosis.one(ReadOtherwise)
    assert (asked.written, asked.slab, asked.times) == ("2U", "ordinary", "ordinary")
    assert say(asked)[1:] in table.panel.value and say(asked)[1:] in table.intake.said.value
    assert parse_ticket(table.intake.ticket_text).mine == doubted.mine
    table.find.click()
    missing = table.answer.own.diagnosis.one(NotOnOwnCopy)
    assert missing and say(missing)[1:] in table.panel.value
