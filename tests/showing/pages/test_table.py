"""The repair table: tickets changed by hand and told of other puzzles, and the answer in parts."""

from functools import lru_cache
from pathlib import Path

import pytest

from oddswap.describing.changes import changed
from oddswap.describing.tickets import parse_ticket, read_ticket
from oddswap.errors import OddswapError
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.answers import Answer, answer
from oddswap.reasoning.verdicts.diagnosis import LOOKALIKE, NOT_BY_TURNING, diagnose
from oddswap.showing.pages.table import answer_sections, case_of, told_of

TICKETS = Path(__file__).parents[3] / "notebooks" / "tickets"
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


@pytest.mark.parametrize("path", sorted(TICKETS.glob("*.toml")), ids=lambda path: path.stem)
def test_every_ticket_of_the_folder_can_be_laid_on_the_table(path):
    told = read_ticket(path)
    without_way = Answer(told.puzzle, told.appearance, diagnose(told.puzzle, told.appearance), None, None)
    assert case_of(told).puzzle is told.puzzle
    assert without_way.verdict in dict(answer_sections(without_way))[""]
