"""One knob: it shows what a plain function makes of its value, and nonsense gets a kind sentence."""

import gc

from ipywidgets import IntSlider, Text
from matplotlib.figure import Figure

from oddswap.errors import BadOption
from oddswap.lessons.machinery.controls import knob
from oddswap.showing.ink.widgets import Note


def test_a_turn_of_the_knob_shows_what_the_function_makes_of_it():
    turned = knob(lambda n: f"{n} squared is {n * n}", IntSlider(value=2, max=5, description="n"))
    assert repr(turned) == "n: 2\n2 squared is 4"
    turned.control.value = 5
    assert repr(turned) == "n: 5\n5 squared is 25"
    assert "5 squared is 25" in turned.children[2].value


def test_a_figure_is_shown_as_a_picture_at_its_size():
    turned = knob(lambda n: Figure(figsize=(n, 1)), IntSlider(value=2, min=1, max=5))
    picture = turned.children[1]
    before = bytes(picture.value)
    assert before.startswith(b"\x89PNG") and picture.layout.width == "200px"
    turned.control.value = 3
    assert bytes(picture.value) != before and picture.layout.width == "300px"


def test_words_take_the_place_of_a_picture_and_give_it_back():
    turned = knob(lambda n: Figure(figsize=(1, 1)) if n else Note("none"), IntSlider(value=1, max=1))
    assert (turned.children[1].layout.display, turned.children[2].layout.display) == (None, "none")
    turned.control.value = 0
    assert (turned.children[1].layout.display, turned.children[2].layout.display) == ("none", None)


def test_each_value_is_computed_once():
    seen = []
    turned = knob(lambda n: seen.append(n) or str(n), IntSlider(value=0, max=3))
    for value in (1, 0, 1, 2):
        turned.control.value = value
    assert seen == [0, 1, 2]


def test_input_that_cannot_be_used_gets_a_sentence():
    def strict(text):
        raise BadOption(f"{text} is no number")

    turned = knob(strict, Text(value="<b>", description="number"))
    assert turned.outcome.text == "That cannot be shown yet: <b> is no number."
    assert "&lt;b&gt;" in turned.children[2].value


def test_no_search_for_waste_while_a_hand_waits():
    searching = []
    turned = knob(lambda n: searching.append(gc.isenabled()) or str(n), IntSlider(value=1, max=3))
    turned.control.value = 2
    assert searching == [False, False] and gc.isenabled()


def test_a_knob_makes_its_control_from_plain_values():
    assert knob(str, range(2, 9, 3), "n").control.max == 8 and knob(str, range(2, 9, 3)).control.value == 2
    assert knob(str, ["a", "b"], "letter").control.options == ("a", "b")
