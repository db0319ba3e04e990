"""Sentences that can be spoken: whole, with small numbers in words, and without signs that nobody can say."""

from __future__ import annotations

import pytest

from oddswap.words.spoken import introduced, spoken
from tests.story.stories import TICKETS, told


@pytest.mark.parametrize("case", TICKETS)
def test_puzzles_are_introduced_in_a_sentence(case):
    said = introduced(told(case).puzzle)
    assert said.startswith(("This is a ", "These are ")) and said.endswith(".")


def test_notes_can_be_said():
    assert spoken("of 4 × 10^16 ways; none is left.") == ["Of 4 times ten to the power of 16 ways.", "None is left."]
