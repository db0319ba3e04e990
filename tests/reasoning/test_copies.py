"""What a visitor's copy makes: no answer asks for another turn, and where only others help, a hand did it."""

import pytest

from oddswap.describing.tickets import parse_ticket, write_ticket
from oddswap.errors import BadTicket, ContradictoryTicket
from oddswap.reasoning.answers import MadeByHand, answer
from oddswap.reasoning.budget import Budget
from oddswap.showing.pages.report import answer_data, reply_text
from oddswap.story.telling.beats import story_of
from oddswap.words.table import reader_of

QUARTER = """[slots]
UF = "UR"
UR = "UB"
UB = "UL"
UL = "UF"
UFR = "UBR"
UBR = "UBL"
UBL = "UFL"
UFL = "UFR"
"""
"""What a quarter turn of U leaves, told by slots."""
CLOSED = 'puzzle = "cuboid:2x3x4"\n{}changes = ["swap UFL UBR"]\n'
"""What takes turns out of the box."""


def found(text):
    ticket = parse_ticket(text)
    return ticket, answer(ticket.puzzle, ticket.appearance, Budget(6), copy=ticket.limit)


@pytest.mark.parametrize("text", ['puzzle = "cube:3"\ncopy = "half"\n' + QUARTER, CLOSED.format('copy = "half"\n')])
def test_what_only_other_turns_mend_was_done_by_hand_on_a_copy_without_them(text):
    ticket, said = found(text)
    assert said.verdict == "other turns" and said.way_out is None and said.set_up is None
    by_hand = said.diagnosis.one(MadeByHand)
    assert by_hand.turns == tuple(ticket.limit.turns) and all(name.endswith("2") for name in by_hand.turns)
    data = answer_data(said)
    assert data["way_out"]["moves"] is None and "made-by-hand" in [finding["code"] for finding in data["findings"]]
    text = reply_text(said, reader_of(ticket))
    assert "by hand" in text and "`" not in text
    beats = story_of(said).beats
    assert not any(beat.moves for beat in beats) and any("by hand" in line for beat in beats for line in beat.says)


@pytest.mark.parametrize("text", ['puzzle = "cube:3"\nturns = "half"\n' + QUARTER, CLOSED.format("")])
def test_without_a_word_of_the_copy_other_turns_are_shown(text):
    _, said = found(text)
    assert said.verdict == "other turns" and said.way_out.moves and not said.diagnosis.has(MadeByHand)


def test_a_copy_may_make_more_than_the_question_allows_and_its_turns_lead_home():
    ticket, said = found(
        'puzzle = "cube:3"\nturns = "half"\ncopy = ["R", "R2", "U", "U2", "U\'"]\n'.replace('"half"', '["R2", "U2"]') + QUARTER
    )
    assert said.verdict == "other turns" and said.way_out.moves == "U'"
    assert said.turning.turns.keys() == ticket.limit.turns.keys()
    assert "If your copy" not in reply_text(said, reader_of(ticket))


def test_left_out_the_question_allows_what_the_copy_makes():
    ticket = parse_ticket('puzzle = "cube:3"\ncopy = "half"\nafter = "R2 U2"')
    assert ticket.puzzle.name == ticket.limit.name == "cube:3,turns=half"
    assert parse_ticket(write_ticket(ticket), ticket.name) == ticket
    assert parse_ticket('puzzle = "cube:3"\ncopy = "all"\nafter = ""').limit is None


@pytest.mark.parametrize(
    "line, error, words",
    [
        ('turns = ["R"]\ncopy = "half"', ContradictoryTicket, "this copy does not make R"),
        ('turns = "all"\ncopy = "half"', ContradictoryTicket, "this copy does not make U"),
        ("copy = []", BadTicket, "copy: the list is empty"),
        ("copy = 2", BadTicket, "copy is of the wrong type"),
    ],
)
def test_a_copy_that_makes_less_than_is_allowed_is_refused(line, error, words):
    with pytest.raises(error, match=words):
        parse_ticket(f'puzzle = "cube:3"\n{line}\nafter = ""')
