"""Sentences that can be spoken: whole, with small numbers in words, and without signs that nobody can say."""

from __future__ import annotations

import pytest

from oddswap.describing.changes import changed
from oddswap.puzzles.catalogue import load
from oddswap.words.spoken import introduced, seen_sentences, spoken
from tests.story.stories import TICKETS, told


def test_what_is_seen_is_told_slot_by_slot_where_it_is_little():
    assert seen_sentences(told("slip").puzzle, told("slip").appearance) == (
        "At UF sits the UR piece.",
        "At UR sits the UF piece.",
        "Everything else looks right.",
    )


def test_ways_round_are_told_in_words():
    cube = load("cube:3,centres=marked")
    seen = cube.appearance(changed(cube, ["turn F cw", "turn U half", "twist UFR ccw", "twist UFL cw"]))
    text = " ".join(seen_sentences(cube, seen))
    for words in ("F is in its place, but turned clockwise", "U is in its place, but turned by half"):
        assert words in text
    assert "UFR is in its place, but twisted anticlockwise" in text and "UFL is in its place, but twisted clockwise" in text


@pytest.mark.parametrize(("moves", "words"), [("R", "Eight of 26 slots"), ("R U F B L D", "It is well mixed")])
def test_much_is_told_in_numbers(moves, words):
    cube = load("cube:3")
    assert words in seen_sentences(cube, cube.appearance(cube.follow(moves)))[0]


@pytest.mark.parametrize("case", TICKETS)
def test_puzzles_are_introduced_in_a_sentence(case):
    said = introduced(told(case).puzzle)
    assert said.startswith(("This is a ", "These are ")) and said.endswith(".")


def test_notes_can_be_said():
    assert spoken("of 4 × 10^16 ways; none is left.") == ["Of 4 times ten to the power of 16 ways.", "None is left."]
