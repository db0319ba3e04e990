"""Controls, guesses and exercises of a notebook on a page, by running its cells once more."""

from __future__ import annotations

import json
import re
from functools import reduce
from html import unescape
from importlib import import_module
from io import BytesIO

import pytest
from nbformat import v4
from PIL import Image

from oddswap.edition.answering.asked import check_gives
from oddswap.edition.answering.cells import LARGEST, MOST, exercises_script, played
from oddswap.edition.answering.program import scripts
from oddswap.errors import BadOption

IMPORTS = """
from ipywidgets import Dropdown, IntSlider
from oddswap.draw import draw_verdicts
from oddswap.lessons import check_changes, compare, guess, knob
from oddswap import load
"""


def cells(*pairs):
    """Cells of code, each with its tag and source; the imports come first."""
    every = [("imports", IMPORTS), *pairs]
    return [v4.new_code_cell(source, metadata={"tags": [tag]}, id=f"c{i}") for i, (tag, source) in enumerate(every)]


def test_what_the_scripts_name_lies_where_they_say():
    """A function that moves would else be looked for in vain, or sent along where the page has its own."""
    named = [name for script in scripts().values() for name in re.findall(r"'(oddswap\.[\w.]+):([\w.]+)'", script)]
    assert len(named) > 30
    for module, name in named:
        held = reduce(getattr, name.split("."), import_module(module))
        assert getattr(held, "__module__", module) == module, f"{module}:{name}"


def frames(html):
    return json.loads(unescape(re.search('data-frames="([^"]*)"', html)[1]))


def test_a_control_has_a_small_picture_for_each_value(tmp_path):
    knob = 'knob(lambda n: draw_verdicts([("cube:3", n * "R ")]), IntSlider(value=1, min=0, max=2, description="turns"))'
    live = played(cells(("knob", knob)), tmp_path)
    labels, shown = zip(*frames(live.html["c1"]), strict=True)
    names = [re.search('src="knobs/([^"]+)"', html)[1] for html in shown]
    assert labels == ("0", "1", "2") and len(set(names)) == 3 and set(names) == set(live.pictures)
    for picture in live.pictures.values():
        assert len(picture) <= LARGEST and Image.open(BytesIO(picture)).width > 150
    assert f"knobs/{names[1]}" in live.html["c1"].partition('class="frame"')[2], "it stands where it stood"


def test_a_long_slider_keeps_its_ends_and_where_it_stood(tmp_path):
    live = played(cells(("knob", 'knob(lambda n: n, IntSlider(value=77, max=500, description="n"))')), tmp_path)
    values = [int(label) for label, _ in frames(live.html["c1"])]
    assert len(values) <= MOST and {0, 77, 500} <= set(values) and values == sorted(values)


def test_a_guess_is_answered_choice_by_choice(tmp_path):
    ask = 'mine = guess("Which <b>?", ["one & two", "three"])\nmine'
    live = played(cells(("guess", ask), ("other", "print(1)"), ("compare", 'compare(mine, "three")')), tmp_path)
    told = json.loads(unescape(re.search('data-told="([^"]*)"', live.html["c3"])[1]))
    assert "Which &lt;b&gt;?" in live.html["c1"] and live.html["c1"].count('type="radio"') == 2
    assert "what happened is &quot;three&quot;" in told[0] and "that is what happened" in told[1]
    assert "What happened is" in live.html["c3"].partition('">')[2] and "c2" not in live.html


@pytest.mark.parametrize(("count", "most"), [(3, 3), (8, 8), (9, 5), (24, 8)])
def test_a_page_asks_for_some_of_many_cases(count, most, tmp_path):
    ask = f"check_code(lambda n: ..., {{n: n + 1 for n in range({count})}})"
    live = played(cells(("exercise", f"from oddswap.lessons import check_code\n{ask}")), tmp_path)
    assert live.html["c1"].count("<input") == len(live.exercises["c1"]["given"]) == most


def test_cells_that_nothing_needs_are_left_alone(tmp_path):
    live = played(cells(("picture", "1 / 0"), ("exercise", 'check_changes("", {"cube:2": "ordinary"})')), tmp_path, {"exercise"})
    assert list(live.exercises) == ["c2"] and live.exercises["c2"]["model"] == [""]


@pytest.mark.parametrize(
    "source, says",
    [("knob(lambda n: n, missing)", "a cell stops with NameError"), ("knob(lambda n: load(n), Dropdown(options=['no']))", "")],
)
def test_a_cell_that_stops_is_one_sentence(tmp_path, source, says):
    if says:
        with pytest.raises(BadOption, match=says):
            played(cells(("knob", source)), tmp_path)
    else:
        assert "That cannot be shown yet" in played(cells(("knob", source)), tmp_path).html["c1"]


def test_a_checker_that_a_page_cannot_run_is_named_when_it_is_packed(tmp_path):
    own = "import socket\ndef check(answer):\n    return socket.gethostname()\ncheck('')"
    live = played(cells(("exercise", own)), tmp_path)
    assert '"socket:socket"' in exercises_script(live)


@pytest.mark.parametrize(
    ("answer", "gives", "right"),
    [
        ("true", "True", True),
        ("R U R' U'", "\"R U R' U'\"", True),
        ("\"R U R' U'\"", "\"R U R' U'\"", True),
        ("R U R U", "\"R U R' U'\"", False),
        ('{"twins", "hidden turn"}', "{'hidden turn', 'twins'}", True),
        ("{'twins'}", "{'hidden turn', 'twins'}", False),
        ("4", "3", False),
    ],
)
def test_what_code_gives_may_be_written_as_people_write_it(answer, gives, right):
    assert check_gives(answer, cases=[("a case", gives)]).text.startswith("Yes") == right
