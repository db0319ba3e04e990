"""Cards make an explanation in every order that their reasons allow and in no other; written code is judged by what it gives."""

import json
import tomllib
from importlib.resources import files
from itertools import permutations

import pytest

from oddswap.lessons.machinery.exercises import EXERCISE, Claim, check_code, check_law, dealt, explain_back, explanation

LESSONS = sorted(tomllib.loads(files("oddswap.lessons.machinery").joinpath("explanations.toml").read_text("utf-8")))
FALSE = Claim("U flips one edge", (), "cube:3", "U", "flips of edges", 1)
ARGUMENT = (Claim("one"), Claim("two"), Claim("so three", (0, 1)), FALSE)


def judged(order, cards) -> bool:
    """Whether an order is right, by the data that a page gets: no card before its reasons, none left out or wrong."""
    by_letter = {card["card"]: card for card in cards}
    early = any(set(by_letter[card]["after"]) - set(order[:place]) for place, card in enumerate(order))
    return not early and set(order) == {letter for letter, card in by_letter.items() if not card["wrong"]}


def test_every_order_is_judged_as_its_data_say():
    data = json.loads(json.dumps(explain_back("", ARGUMENT)._repr_mimebundle_()[EXERCISE]))
    orders = ["".join(order) for count in (1, 2, 3, 4) for order in permutations("ABCD", count)]
    right = [order for order in orders if explain_back(order, ARGUMENT).text.startswith("Yes")]
    assert right == [order for order in orders if judged(order, data["cards"])] and len(right) == 2


@pytest.mark.parametrize("lesson", LESSONS)
def test_the_explanation_of_a_lesson_can_be_laid_as_it_stands_and_has_something_to_leave_out(lesson):
    letters = {step: letter for letter, step in dealt(explanation(lesson)).items()}
    holds = [letters[step] for step in explanation(lesson) if not step.wrong]
    assert explain_back(" ".join(holds), lesson).text.startswith("Yes")
    assert 0 < len(letters) - len(holds) <= 2
    assert explain_back(" ".join(holds[::-1]), lesson).text.endswith("laid yet.")
    assert all(step.counted for step in explanation(lesson) if step.value)


@pytest.mark.parametrize(
    ("order", "told"),
    [("", "Nothing laid"), (None, "Nothing laid"), ("?!", "Nothing laid"), ("ZA", "Z is no card"), ("é", "É is no card")],
)
def test_an_order_that_is_none_gets_a_sentence(order, told):
    assert explain_back(order, ARGUMENT).text.startswith(told)


@pytest.mark.parametrize(
    ("cards", "told"),
    [
        ([], "2 to 12 cards"),
        ([Claim("one"), Claim("one")], "all different"),
        ([Claim(str(number)) for number in range(13)], "this one has 13"),
        ([Claim("one"), Claim("two", (), "cube:2", "R", "flips")], "`flips` is not counted on cube:2: write one of twists"),
        ([Claim("one"), Claim("two", (), "cube:2", "flip UF", "twists of corners")], "UF"),
    ],
)
def test_cards_that_do_not_do_are_told_to_whoever_writes_a_lesson(cards, told):
    assert told in explain_back("", cards).text


def test_a_lesson_that_there_is_not_gets_a_sentence():
    assert "no explanation `99`: write one of 00; 01" in explain_back("", "99").text


def test_a_card_is_laid_once_and_the_count_of_what_is_missing_is_right():
    first = next(letter for letter, step in dealt(ARGUMENT).items() if step.words == "one")
    assert explain_back(first * 2, ARGUMENT).text.startswith(f"{first} is laid twice")
    assert "2 cards are still to come" in explain_back(first, ARGUMENT).text


@pytest.mark.parametrize(
    ("function", "told"),
    [
        (lambda row: sum(row), "Yes: right for all 3."),
        (lambda row: len(row), "For (0, 1) your code gives 2, and it should give 1. It is right for 2 of 3."),
        (lambda row: ..., "Nothing written yet"),
        (lambda row: row.missing, "For (0, 1) your code stops: AttributeError"),
        (lambda: 0, "your code stops: TypeError"),
    ],
)
def test_code_is_judged_case_by_case(function, told):
    assert told in check_code(function, {(0, 1): 1, (1, 1, 1): 3, (): 0}).text


@pytest.mark.parametrize(
    ("law", "told"),
    [
        (lambda count: count["flips of edges"], "it notices flip UF."),
        (lambda count: (count["sign of corners"] + count["sign of edges"]) % 2, "it notices swap UF UR."),
        (lambda count: count["sign of edges"], "It is 0 at home and 1 after U"),
        (lambda count: 7, "does not notice flip UF and swap UF UR either"),
        (lambda count: count["colours"], "Your law stops: KeyError"),
        (lambda count: ..., "Nothing written yet"),
    ],
)
def test_a_law_is_kept_by_turns_and_broken_by_a_hand(law, told):
    assert told in check_law(law, "cube:3", ["R U F"], ["flip UF", "swap UF UR", "cycle UF UR UB"]).text


def test_what_a_law_notices_goes_to_the_page():
    (walk, flip, cycle) = check_law(lambda count: 0, "cube:3", ["R U"], ["flip UF", "cycle UF UR UB"]).exercise["cases"]
    assert (walk["gives"], flip["gives"], cycle["gives"]) == ("True", "False", "True")
