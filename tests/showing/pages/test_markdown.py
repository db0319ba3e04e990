"""Text in Markdown is text, wherever it stands and whoever reads it; and HTML has no tag that came with a text."""

from __future__ import annotations

from collections.abc import Callable
from io import StringIO

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.console import Console
from rich.markdown import Markdown

from oddswap.showing.pages.markdown import as_html, escaped, unescaped
from tests.common.hostile import THEMES
from tests.common.readers import Reading, read_html, read_markdown, read_myst, read_terminal

TEXTS = [text for theme in THEMES.values() for text in theme]
PLACES = ["{}", "A {} b.", "# {}", "- {}", "1. {}", "| {} |\n| --- |\n| {} |", "A *{}*.", "**{}:** `R U`", "a\n{}\n{}"]
"""Wherever the pages have a text."""


def on_a_terminal(markdown: str) -> Reading:
    shown = StringIO()
    Console(file=shown, force_terminal=True, width=500).print(Markdown(markdown))
    return read_terminal(shown.getvalue())


READERS: dict[str, Callable[[str], Reading]] = {
    "with every extension": read_markdown,
    "in the edition": read_myst,
    "on a terminal": on_a_terminal,
    "as HTML": lambda markdown: read_html(as_html(markdown)),
}


def closed_up(text: str) -> str:
    """Without spaces, and without the rules of a table."""
    return "".join(text.replace("─", "").split())


@pytest.mark.parametrize("read", READERS.values(), ids=READERS)
@pytest.mark.parametrize("place", PLACES)
def test_a_text_is_text_in_every_place(read, place):
    plain = read(place.replace("{}", "ZQ"))
    for text in TEXTS:
        found = read(place.replace("{}", escaped(text)))
        assert found.live == plain.live, text
        assert closed_up(found.text) == closed_up(plain.text).replace("ZQ", closed_up(text))


MARKS = st.text(alphabet="\\`*_[]<>()#|&;~$^@:/-+=%.,!?{}\"'1a \n", max_size=12)


@given(MARKS)
@pytest.mark.parametrize("read", [read_markdown, read_myst], ids=["with every extension", "in the edition"])
def test_any_marks_are_text(read, text):
    found, plain = read(f"a {escaped(text)}"), read("a b")
    assert found.live == plain.live and closed_up(found.text) == "a" + closed_up(text)


@given(MARKS)
def test_any_marks_at_the_start_are_text(text):
    found = read_markdown(escaped(text))
    assert set(found.live) <= {("paragraph",)} and closed_up(found.text) == closed_up(text)


@given(MARKS)
def test_what_was_escaped_comes_back(text):
    assert unescaped(escaped(text)) == " ".join(text.split())


@given(st.text())
def test_a_tag_in_markdown_that_was_not_escaped_is_text_too(text):
    tags = {part[0] for part in read_html(as_html(f"<u>{text}</u><script>")).live}
    assert not tags & {"u", "script", "comment", "declared"}
