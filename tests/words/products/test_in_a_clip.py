"""Sentences that can be spoken: short, with small numbers in words, and without signs that nobody can say."""

from __future__ import annotations

import pytest

from oddswap.describing.tickets import parse_ticket
from oddswap.reasoning.answers import answer
from oddswap.reasoning.budget import Budget
from oddswap.story.telling.beats import story_of
from oddswap.words.products.in_a_clip import in_short, law_sentences, spoken
from oddswap.words.table import VISITOR
from tests.story.stories import TICKETS, told


@pytest.mark.parametrize("case", TICKETS)
def test_every_sentence_of_a_story_is_said_in_one_breath(case):
    """Twelve words at most, but for how to hold the puzzle, which reads as one picture."""
    for beat in story_of(told(case)).beats:
        for sentence in beat.says:
            assert len(sentence.split()) <= 12 or sentence.startswith("Hold it"), sentence


def test_a_long_sentence_is_cut_at_its_joints_and_loses_no_word():
    long = "Check the description again first: a slip of the pen is likelier, and it costs nothing, than a misplaced piece."
    short = in_short(long)
    assert len(short) > 1 and all(len(sentence.split()) <= 12 and sentence.endswith(".") for sentence in short)
    assert [w.strip(".,:").lower() for w in long.replace("and it", "it").split()] == [
        w.strip(".,:").lower() for s in short for w in s.split()
    ]


def test_a_part_that_begins_with_a_joint_is_cut_further_on():
    places = "the edges like the top front edge", "the edges like the top left edge", "the edges like the front left edge"
    said = in_short(f"The swaps that {', '.join(places[:2])} and {places[2]} need are always even in number, all added up.")
    assert all(any(map(str.isalpha, sentence)) for sentence in said)
    assert sum(sentence.count("the edges like") for sentence in said) == 3


def test_a_sentence_that_goes_on_is_not_cut_where_nothing_was_said_yet():
    """What follows the dots is thirteen words long, and its only joint lies before the first of them."""
    last = "… and the front left edge block in the second layer from the top."
    told = f"Seen more often than the puzzle has it: the bottom back right corner {last.removeprefix('… ')}"
    assert in_short(told) == ["Seen more often than the puzzle has it.", "The bottom back right corner …", last]


def test_notes_can_be_said():
    assert spoken("of 4 × 10^16 ways; none is left.") == ["Of 4 times ten to the power of 16 ways.", "None is left."]


def test_swaps_of_several_sorts_that_have_one_name_are_added_up():
    """Half turns alone bring an edge to some places only, so that a cube has three sorts of edges."""
    ticket = parse_ticket('puzzle = "cube:3"\nturns = "half"\nchanges = ["swap UFR UBL", "swap UF DB"]')
    found = answer(ticket.puzzle, ticket.appearance, Budget(20.0, 500_000_000))
    said = " ".join(law_sentences(found, VISITOR, ""))
    assert said.startswith("Add up the swaps of three sorts of pieces: always even.") and "…" not in said
