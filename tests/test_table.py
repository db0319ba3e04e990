"""The repair table: tickets changed by hand and told of other puzzles, the answer in parts, and the walk along the strip."""

from functools import lru_cache
from pathlib import Path

import numpy as np
import pytest

from oddswap.errors import BadOption, OddswapError
from oddswap.puzzles.catalogue import load
from oddswap.puzzles.changes import changed
from oddswap.reasoning.answers import Answer, answer
from oddswap.reasoning.diagnosis import LOOKALIKE, NOT_BY_TURNING, ORDINARY, diagnose
from oddswap.showing import table_widget
from oddswap.showing.table import answer_sections, case_of, draw_stop, draw_way, frames_of, moves_of, stop_words, told_of
from oddswap.showing.table_widget import OWN, RepairTable, repair_table
from oddswap.tickets import parse_ticket, read_ticket

TICKETS = Path(__file__).parents[1] / "notebooks" / "tickets"
PRISM, CUBE = load("shape-mod:prism8"), load("cube:3")
FLIPPED = 'puzzle = "shape-mod:prism8"\nchanges = ["flip UF"]\nnote = "<b>two & more dogs</b>"'
TURNED = 'puzzle = "cube:3"\nafter = "R U2"\n[colours]\nU = "navy"'
FOREIGN = 'puzzle = "cube:3"\nelsewhere = "in place"\n[seen.U]\nrows = ["U U U", "U U U", "U D U"]\n'
OPEN = 'puzzle = "cube:3"\n[seen.U]\nrows = ["U U U", "U U U", "U ? U"]\n'


def ticket(text: str, name: str = "ticket"):
    return parse_ticket(text, name)


@lru_cache
def solved_once(puzzle, appearance):
    return answer(puzzle, appearance)


def answered(case):
    return solved_once(case.puzzle, case.appearance)


def test_a_ticket_as_it_stands_is_what_it_tells():
    told = ticket(TURNED)
    case = case_of(told)
    assert (case.puzzle, case.appearance, case.colours) == (CUBE, told.appearance, told.colours)


def test_changes_by_hand_come_on_top_of_the_ticket():
    case = case_of(ticket(TURNED), "flip UF, swap UFR UFL")
    assert case.appearance == CUBE.appearance(changed(CUBE, ["flip UF", "swap UFR UFL"], CUBE.follow("R U2")))


def test_the_same_flip_told_of_puzzles_where_it_is_and_is_not_a_false_alarm():
    cases = {name: case_of(ticket(FLIPPED), puzzle=load(name)) for name in VERDICTS_OF_ONE_FLIP}
    verdicts = {name: diagnose(case.puzzle, case.appearance).verdict for name, case in cases.items()}
    assert verdicts == VERDICTS_OF_ONE_FLIP


VERDICTS_OF_ONE_FLIP = {
    "shape-mod:prism8": LOOKALIKE,
    "shape-mod:prism8,cut=0.3333": NOT_BY_TURNING,
    "shape-mod:cube,axis=U,degrees=45": LOOKALIKE,
    "cube:3": NOT_BY_TURNING,
    "cube:3,centres=marked": NOT_BY_TURNING,
    "cube:3,centres=none": NOT_BY_TURNING,
}
"""Which shapes hide a half turn of an edge was computed independently; a lone flip elsewhere: common practice."""


def test_telling_of_another_puzzle_keeps_every_slot_with_its_piece_and_way_round():
    scrambled = CUBE.follow("R U' F2 L D B")
    there = told_of(PRISM, CUBE, scrambled)
    for number, slot in enumerate(CUBE.slots):
        if len(slot) > 1:
            assert PRISM.slots[there.pieces[PRISM.slot(slot)]] == CUBE.slots[scrambled.pieces[number]]
            assert there.twists[PRISM.slot(slot)] == scrambled.twists[number]
    assert told_of(CUBE, PRISM, there) == scrambled


@pytest.mark.parametrize(
    ("text", "changes", "puzzle"),
    [
        (FLIPPED, "", "cube:2"),
        (FLIPPED, "flip UQ", None),
        (FLIPPED, "flip", None),
        (FOREIGN, "flip UF", None),
        (OPEN, "flip UF", None),
        (OPEN, "", None),
        (FLIPPED, "", "tiles:3x3"),
    ],
)
def test_what_cannot_be_laid_on_the_table_says_why(text, changes, puzzle):
    with pytest.raises(OddswapError) as told:
        case_of(ticket(text), changes, load(puzzle) if puzzle else None)
    assert "\n" not in str(told.value) and len(str(told.value)) > 20


def test_the_answer_comes_in_parts_with_the_headline_first():
    case = case_of(ticket(FLIPPED))
    parts = dict(answer_sections(answered(case)))
    assert next(iter(parts)) == ""
    assert "<strong>lookalike</strong>" in parts[""]
    assert "number of flipped edges is always even" in parts["Why"]
    assert all(slot in parts["Which piece is not what it seems"] for slot in ("FL", "FR", "BL", "BR"))
    assert "12 turns, proved shortest" in parts["A way out"]


def test_the_strip_has_a_frame_for_each_move_and_the_result():
    case = case_of(ticket(TURNED))
    found = answered(case)
    assert moves_of(found) == ("U2", "R'")
    frames = np.array(frames_of(draw_way(case, found)))
    assert frames.shape == (3, 4)
    assert (frames > 0).all() and (frames[:, :2] + frames[:, 2:] < 1).all()
    assert (np.diff(frames[:, 0]) > frames[0, 2]).all(), "one beside the other"
    assert [stop_words(found, k) for k in range(4)] == ["as it was brought", "move 1 of 2: U2", "move 2 of 2: R'", "the result"]


def test_frames_of_a_strip_in_rows_go_from_left_to_right_and_down():
    case = case_of(ticket(FLIPPED))
    frames = frames_of(draw_way(case, answered(case), per_row=7))
    assert len(frames) == 13
    assert [round(y, 3) for _, y, _, _ in frames] == sorted(round(y, 3) for _, y, _, _ in frames)
    assert frames[7][0] == pytest.approx(frames[0][0])


def test_without_a_way_out_there_is_no_strip():
    case = case_of(ticket(FLIPPED), puzzle=CUBE)
    assert draw_way(case, answered(case)) is None


def test_the_last_stop_shows_the_puzzle_solved():
    case = case_of(ticket(TURNED))
    found = answered(case)
    solved = case_of(ticket(TURNED.replace("R U2", "")))
    last, stages = draw_stop(case, found, 3), [draw_stop(case, found, stop) for stop in (1, 2)]
    still = draw_stop(solved, answered(solved), 1)
    assert same_inks(last, still)
    assert not any(same_inks(stage, still) for stage in stages)


def same_inks(one, other) -> bool:
    faces = [np.concatenate([c.get_facecolor() for c in figure.axes[0].collections]) for figure in (one, other)]
    return faces[0].shape == faces[1].shape and np.allclose(*faces)


@pytest.fixture
def table(monkeypatch) -> RepairTable:
    """A table that need not search twice for the same."""
    monkeypatch.setattr(table_widget, "answer", lambda puzzle, appearance, *_: solved_once(puzzle, appearance))
    return repair_table([ticket(TURNED, "turned"), ticket(FLIPPED, "flipped"), ticket(FOREIGN, "foreign")], ["cube:2"])


def test_choosing_a_ticket_brings_its_verdict_and_strip(table):
    assert table.answer.verdict == ORDINARY and table.step.max == 3
    table.ticket.value = "flipped"
    assert table.answer.verdict == LOOKALIKE and table.step.max == 13
    assert "<strong>lookalike</strong>" in table.panel.value
    table.ticket.value = "foreign"
    assert table.answer.verdict == NOT_BY_TURNING and table.step.max == 0 and table.strip.value == ""


def test_walking_along_the_strip_changes_the_picture_and_the_mark(table):
    seen, marks = {bytes(table.picture.value)}, {table.marker.value}
    for stop in range(1, 4):
        table.step.value = stop
        seen.add(bytes(table.picture.value))
        marks.add(table.marker.value)
    assert len(seen) == len(marks) == 4
    table.step.value = 0
    assert table.marker.value == "" and table.where.value == "as it was brought"


def test_changing_the_ticket_gives_a_new_verdict_and_another_ticket_clears_the_changes(table):
    table.ticket.value = "flipped"
    table.step.value = 5
    table.changes.value = "flip UR"
    assert table.answer.verdict == ORDINARY and table.step.value == 0
    table.puzzle.value = "cube:3"
    assert table.answer.verdict == ORDINARY
    table.changes.value = ""
    assert table.answer.verdict == NOT_BY_TURNING
    table.ticket.value = "turned"
    assert (table.puzzle.value, table.changes.value, table.answer.verdict) == (OWN, "", ORDINARY)


def test_another_ticket_is_answered_once_and_not_half_way(table, monkeypatch):
    asked = []
    monkeypatch.setattr(table_widget, "answer", lambda p, a, *_: asked.append(p.name) or solved_once(p, a))
    table.puzzle.value, table.changes.value = "shape-mod:prism8", "flip UF"
    asked.clear()
    table.ticket.value = "flipped"
    assert asked == ["shape-mod:prism8"] and table.changes.value == ""


@pytest.mark.parametrize("changes", ["flip UQ", "<script>", "swap UF", ",,x,,", "flip UF " * 50])
def test_nonsense_leaves_the_table_as_it_is_and_says_so(table, changes):
    before, picture = table.case, bytes(table.picture.value)
    table.changes.value = changes
    assert "cannot be laid on the table yet" in table.panel.value
    assert "<script>" not in table.panel.value
    assert (table.case, bytes(table.picture.value)) == (before, picture)
    table.changes.value = ""
    assert "cannot be laid" not in table.panel.value


def test_a_ticket_that_does_not_fit_another_puzzle_is_told_kindly(table):
    table.ticket.value = "flipped"
    table.puzzle.value = "cube:2"
    assert "has no UF" in table.panel.value


def test_text_of_a_ticket_is_shown_as_text(table):
    table.ticket.value = "flipped"
    assert "&lt;b&gt;two &amp; more dogs&lt;/b&gt;" in table.panel.value


def test_on_paper_the_table_is_three_lines(table):
    assert repr(table).splitlines() == [
        "The repair table: 3 tickets; on the table is 'turned'.",
        "It is a cube of 3 slabs. Verdict: ordinary.",
        "Way out: U2 R'.",
    ]


def test_an_empty_table_is_refused():
    with pytest.raises(BadOption, match="no ticket"):
        repair_table([])


@pytest.mark.parametrize("path", sorted(TICKETS.glob("*.toml")), ids=lambda path: path.stem)
def test_every_ticket_of_the_folder_can_be_laid_on_the_table(path):
    told = read_ticket(path)
    without_way = Answer(told.puzzle, told.appearance, diagnose(told.puzzle, told.appearance), None, None)
    assert draw_stop(case_of(told), without_way).axes
    assert without_way.verdict in dict(answer_sections(without_way))[""]
