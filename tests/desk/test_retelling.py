"""Tickets retold of other puzzles, and the answer in the parts in which the workbench shows it."""

from functools import lru_cache
from pathlib import Path

import pytest

from oddswap.describing.reading import read_ticket
from oddswap.describing.tickets import parse_ticket
from oddswap.desk.retelling import carry_over, retell
from oddswap.desk.workbench import panel_html
from oddswap.errors import OddswapError
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.answers import Answer, answer
from oddswap.reasoning.verdicts.diagnosis import LOOKALIKE, NOT_BY_TURNING, diagnose
from oddswap.showing.pages.report import details_sections, verdict_sections
from oddswap.words.verdicts import WORDINGS

TICKETS = Path(__file__).parents[2] / "notebooks" / "tickets"
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


def test_a_ticket_told_of_its_own_puzzle_is_what_it_tells():
    told = ticket(TURNED)
    assert retell(told, CUBE) is told


def test_the_visitors_colours_do_not_go_along_and_the_note_does():
    told = retell(ticket(FLIPPED), CUBE)
    assert (told.puzzle, told.colours, told.note) == (CUBE, {}, "<b>two & more dogs</b>")
    assert retell(ticket(TURNED), PRISM).colours == {}


def test_the_same_flip_told_of_puzzles_where_it_is_and_is_not_a_false_alarm():
    cases = {name: retell(ticket(FLIPPED), load(name)) for name in VERDICTS_OF_ONE_FLIP}
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
    there = carry_over(scrambled, CUBE, PRISM)
    for number, slot in enumerate(CUBE.slots):
        if len(slot) > 1:
            assert PRISM.slots[there.pieces[PRISM.slot(slot)]] == CUBE.slots[scrambled.pieces[number]]
            assert there.twists[PRISM.slot(slot)] == scrambled.twists[number]
    assert carry_over(there, PRISM, CUBE) == scrambled


@pytest.mark.parametrize(
    ("text", "puzzle", "why"),
    [
        (FLIPPED, "cube:2", "has no UF"),
        (FOREIGN, "shape-mod:prism8", "a piece that its puzzle does not have"),
        (OPEN, "shape-mod:prism8", "leaves something open"),
        (FLIPPED, "tiles:3x3", "no solid"),
    ],
)
def test_what_cannot_be_laid_on_the_table_says_why(text, puzzle, why):
    with pytest.raises(OddswapError, match=why) as told:
        retell(ticket(text), load(puzzle))
    assert "\n" not in str(told.value)


def test_the_answer_comes_in_parts_with_the_headline_first():
    found = answered(ticket(FLIPPED))
    head, why, culprits = verdict_sections(found).items()
    assert head[0] == "head" and head[1][0] == WORDINGS["lookalike"].headline and "**lookalike**" in head[1][1]
    assert why[0] == "why" and "number of flipped edges is always even" in why[1][0]
    assert culprits[0] == "culprits" and all(slot in culprits[1][1] for slot in ("FL", "FR", "BL", "BR"))
    assert "12 turns, proved shortest" in details_sections(found)["way out"][1]
    panel = panel_html(found)
    order = ["lookalike", "Which piece is not what it seems", "Why", "A way out", "What this assumes"]
    places = [panel.index(words) for words in order]
    assert places == sorted(places) and panel.count("<details>") == 3


@pytest.mark.parametrize("path", sorted(TICKETS.glob("*.toml")), ids=lambda path: path.stem)
def test_every_ticket_of_the_folder_can_be_laid_on_the_table(path):
    told = read_ticket(path)
    without_way = Answer(told.puzzle, told.appearance, diagnose(told.puzzle, told.appearance), None, None)
    assert retell(told, told.puzzle) is told
    assert without_way.verdict in verdict_sections(without_way)["head"][1]
