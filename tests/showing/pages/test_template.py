"""Templates: what is filled in stays as it is, whatever it looks like."""

import json

import pytest

from oddswap.showing.ink.palette import PAPER
from oddswap.showing.pages.template import fill_template, script_data


def test_parts_and_colours_are_filled_in_and_nothing_is_filled_in_twice(tmp_path):
    (tmp_path / "page.html").write_text("<p style='color: $PAPER'>{{one}} {two}, {{two}}</p>", encoding="utf-8")
    made = fill_template(str(tmp_path / "code.py"), "page.html", one="{{two}} $PAPER", two="\\1 {{one}}")
    assert made == f"<p style='color: {PAPER}'>{{{{two}}}} $PAPER {{two}}, \\1 {{{{one}}}}</p>"


def test_a_part_that_is_not_given_is_missed(tmp_path):
    (tmp_path / "page.html").write_text("{{one}}", encoding="utf-8")
    with pytest.raises(KeyError, match="one"):
        fill_template(str(tmp_path / "code.py"), "page.html")


def test_no_text_ends_the_script_that_it_stands_in():
    data = {"say": "</script><!-- <script>", "moves": ["R", "U'"]}
    assert "<" not in script_data(data) and json.loads(script_data(data)) == data
