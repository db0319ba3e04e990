"""Markdown: the one place where text from elsewhere enters it, and the one where it becomes HTML."""

import re
from collections.abc import Iterable, Mapping

import mistune

from oddswap.values.grammar import capital
from oddswap.words.pictures import CAPTIONS

ANYWHERE = re.compile(r"[\\`*_\[\]<>#|~$@]|&(?=#?\w+;)|:(?=//)|(?<=www)\.")
"""What some reader of Markdown makes more of than text: tags, links, tables, mathematics."""
AT_THE_START = re.compile(r"^(\d*)([-+=:%.)])")
"""What begins a list, a rule, a heading, a block or a comment."""


def escaped(text: str) -> str:
    r"""Text from outside on one line, so that every reader of Markdown shows it as text.

    >>> escaped("<b>*red*</b> & 2"), escaped("1. &lt; red")
    ('\\<b\\>\\*red\\*\\</b\\> & 2', '1\\. \\&lt; red')
    """
    return AT_THE_START.sub(r"\1\\\2", ANYWHERE.sub(r"\\\g<0>", " ".join(text.split())))


def unescaped(markdown: str) -> str:
    r"""What `escaped` was given.

    >>> unescaped(escaped("<b>*red*</b> \\"))
    '<b>*red*</b> \\'
    """
    return re.sub(r"\\([!-/:-@\[-`{-~])", r"\1", markdown)


def as_code(moves: str) -> str:
    """Moves, marked as such; empty where there are none."""
    return f"`{moves}`" if moves else ""


def picture(shown: Mapping[str, str | None], *what: str) -> list[str]:
    """Pictures with their captions, of those that are ``shown``: names of files by what is on them; nothing where one is not."""
    return [f"![{CAPTIONS[one]}]({shown[one]})" for one in what if shown.get(one)]


def bullets(lines: Iterable[str]) -> str:
    """Lines of text from outside as a list, each with a capital letter."""
    return "\n".join(f"- {capital(escaped(line))}" for line in lines)


def page(*paragraphs: str) -> str:
    """Paragraphs of Markdown as a page; those that are empty are left out."""
    return "\n\n".join(filter(None, paragraphs)) + "\n"


def as_html(markdown: str) -> str:
    """Markdown as HTML; a tag in it is text."""
    return str(_render(markdown))


_render = mistune.create_markdown(escape=True, plugins=["table"])
blocks_of = mistune.create_markdown(renderer="ast", plugins=["table"])
"""Markdown as a list of its blocks, each a dictionary with its type and its children."""


def words_of(token: dict) -> str:
    """The words of a block or of a part of one, without what marks code and stress.

    >>> words_of(*blocks_of("turn `R U` *here*"))
    'turn R U here'
    """
    return token.get("raw") or "".join(map(words_of, token.get("children", ()))) or " " * (token["type"] == "softbreak")
