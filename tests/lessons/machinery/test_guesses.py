"""Guess, then see: what is held, how it is compared, and that nonsense gets a kind sentence."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from IPython.core.interactiveshell import InteractiveShell
from matplotlib.figure import Figure

from oddswap.errors import BadOption
from oddswap.lessons.machinery.controls import ALONE, TOGETHER, begin, compare, guess

CHOICES = ("ordinary", "lookalike", "not by turning")
SCOLDING = {"wrong", "no", "false", "mistake", "unfortunately", "sorry", "incorrect", "failed"}


def test_a_guess_starts_unanswered_and_is_neutral_then():
    asked = guess("Which?", CHOICES)
    assert asked.prediction.hands == (0, 0, 0)
    assert compare(asked, "lookalike").text == 'What happened is "lookalike".'


def test_a_click_is_a_guess_and_can_be_changed():
    asked = guess("Which?", CHOICES)
    asked.choose("ordinary")
    assert asked.prediction.hands == (1, 0, 0)
    assert 'You guessed "ordinary"; what happened is "lookalike"' in compare(asked, "lookalike").text
    asked.choose("lookalike")
    assert compare(asked, "lookalike").text == 'You guessed "lookalike", and that is what happened.'


def test_a_leader_counts_hands_and_the_comparison_uses_them():
    asked = guess("Which?", CHOICES, hands=[5, 2, 1])
    assert asked.prediction.total == 8
    told = compare(asked, "lookalike").text
    assert 'Of 8 hands, 2 were for "lookalike"' in told
    assert "    5  ordinary" in told and "say why" in told
    assert "say why" not in compare(asked, "ordinary").text


def test_the_control_turns_from_one_reader_to_a_room_and_back():
    asked = guess("Which?", CHOICES)
    asked.choose("ordinary")
    asked._mode.value = TOGETHER
    assert asked.prediction.total == 0
    asked._counts[2].value = 4
    assert asked.prediction.hands == (0, 0, 4)
    asked._mode.value = ALONE
    assert asked.prediction.hands == (1, 0, 0)


def test_on_paper_a_guess_is_its_question_with_boxes_to_tick():
    assert repr(guess("Which?", CHOICES)) == "Which?\n  [ ] ordinary\n  [ ] lookalike\n  [ ] not by turning"
    long = guess("Which? " * 30, CHOICES)
    assert long._repr_mimebundle_()["text/plain"] == repr(long), "in full, as nothing else stands on paper"


@pytest.mark.parametrize("given_guess", [None, 3, "ordinary", [], object()])
def test_comparing_with_something_that_is_no_guess_is_answered_kindly(given_guess):
    assert compare(given_guess, "ordinary").text.startswith("There is no guess to compare with")


@pytest.mark.parametrize("outcome", [None, 7, "Ordinary", ""])
def test_an_outcome_that_was_no_choice_is_answered_kindly(outcome):
    assert "none of the choices" in compare(guess("Which?", CHOICES), outcome).text


@pytest.mark.parametrize(
    ("choices", "hands"),
    [
        ("yes", None),
        ([], None),
        (["yes", "yes"], None),
        (CHOICES, [1, 2]),
        (CHOICES, [1, 2, -1]),
        (CHOICES, [1, 2, 1000]),
        (CHOICES, [1, 2, 0.5]),
        (CHOICES, [1, 2, "many"]),
        (CHOICES, [1, 2, True]),
    ],
)
def test_a_question_that_cannot_be_asked_says_what_would_be_right(choices, hands):
    with pytest.raises(BadOption) as told:
        guess("Which?", choices, hands)
    assert "\n" not in str(told.value) and len(str(told.value)) > 20


def test_a_choice_that_is_none_of_them_says_which_there_are():
    with pytest.raises(BadOption, match="ordinary, lookalike"):
        guess("Which?", CHOICES).choose("odd")


@given(st.lists(st.integers(0, 999), min_size=3, max_size=3), st.sampled_from(CHOICES))
def test_every_comparison_names_what_happened_and_scolds_nobody(hands, outcome):
    told = compare(guess("Which?", CHOICES, hands), outcome).text
    assert f'"{outcome}"' in told
    assert not SCOLDING & set(told.lower().replace(",", " ").replace(".", " ").split())


def test_a_question_is_shown_as_text():
    asked = guess("<script>?", ["<i>", "b"])
    assert "&lt;script&gt;" in asked.children[0].value


def test_begin_shows_figures_as_sharp_pictures_of_their_own_size():
    InteractiveShell.clear_instance()
    shell = InteractiveShell.instance()
    begin()
    data, metadata = shell.display_formatter.format(Figure(figsize=(2, 1)))
    InteractiveShell.clear_instance()
    assert metadata["image/png"] == {"width": 200, "height": 100}
    assert "image/png" in data
