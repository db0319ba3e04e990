"""The room of sentences: one door, and nothing else that hangs on what it says."""

from secrets import token_hex

import pytest

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.tally import tally
from oddswap.reasoning.verdicts.alarms import alarms_until
from oddswap.showing.pages.law_page import alarms_data, laws_data
from oddswap.words import name_of, say, table

TEXTS = {"name", "statement", "words", "reason", "notes"}


def without_texts(data):
    if isinstance(data, dict):
        return {key: without_texts(value) for key, value in data.items() if key not in TEXTS}
    return [without_texts(item) for item in data] if isinstance(data, list) else data


def test_what_no_subject_speaks_of_is_an_error():
    with pytest.raises(KeyError):
        say(object())
    with pytest.raises(KeyError):
        name_of(object())


@pytest.mark.parametrize(
    "name, move",
    [
        *[("cube:3", "R"), ("cube:2,turns=half", "R2"), ("corner-cube", "UFR"), ("cuboid:1x4x4", "R2")],
        *[("rings:4+4,cross=1", "a"), ("tiles:2x3,letters=aabcd", "r1c3")],
    ],
)
def test_a_random_token_for_each_text_changes_no_fact_of_laws_alarms_and_tallies(name, move, monkeypatch):
    """The token is new for each text: whoever compared texts, or looked something up by one, would find nothing."""
    puzzle = load(name)

    def facts():
        for cached in (law_book, alarms_until):
            cached.cache_clear()
        rows = tally(puzzle, move).in_full().values
        return without_texts([laws_data(puzzle), alarms_data(puzzle, puzzle.alarms)]), rows

    before = facts()
    monkeypatch.setattr(table, "_words_of", lambda *_: lambda *_: token_hex(8))
    assert facts() == before
    said = [entry["words"] for entry in alarms_data(puzzle, puzzle.alarms)["entries"]]
    assert said and len(set(said)) == len(said), "not one text is the old one"
