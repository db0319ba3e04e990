"""Findings as plain data: what they speak of, and no word of what is said of it."""

import json

import pytest

from oddswap.describing.sights import covered
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.opening.outside import ChangedOutside
from oddswap.reasoning.verdicts.counting import TooManyToTry
from oddswap.reasoning.verdicts.diagnosis import diagnose
from oddswap.reasoning.verdicts.slips import Sticker, StickerMisread
from oddswap.showing.pages.finding_data import finding_data


def test_a_law_is_told_by_its_terms_alone():
    laws = law_book(load("cube:3")).laws
    data = finding_data(ChangedOutside(("U", "F2"), laws))["data"]
    assert data["moves"] == ["U", "F2"] and len(data["laws"]) == len(laws) == 4
    text = json.dumps(data)
    assert all(law.name not in text and law.statement not in text for law in laws)
    assert {part["kind"] for law in data["laws"][:3] for part in law["terms"]} == {"corners", "edges"}


@pytest.mark.parametrize("explanations", [3, 2**80])
def test_what_can_grow_is_a_decimal_string(explanations):
    found = finding_data(TooManyToTry("cube:3", explanations))
    assert found["data"] == {"puzzle": "cube:3", "explanations": str(explanations)}


def test_what_lies_within_is_told_too():
    data = finding_data(StickerMisread(Sticker("UF", "U"), "F"))
    assert data == {"code": "sticker-misread", "data": {"sticker": {"slot": "UF", "face": "U"}, "face": "F"}}


def test_the_second_reading_counts_as_the_puzzle_does():
    """Two corners are unseen, in 2 orders and 3 × 3 ways round: 1 and 3 of these keep the laws. Unseen turns do not count."""
    cube = load("cube:3")
    found = diagnose(cube, covered(cube, ["UFL", "UFR"]))
    (turned,) = [finding_data(one) for one in found.findings if one.code == "if-only-turned"]
    assert turned["data"]["share"] == {"ways": "18", "reached": "3"} and turned["data"]["uncounted"] is None
