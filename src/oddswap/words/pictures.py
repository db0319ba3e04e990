"""What stands beneath a picture on a page, by what the picture shows."""

from collections.abc import Sequence

from oddswap.values.grammar import counted
from oddswap.words.texts import TEXTS

CAPTIONS = TEXTS["captions"]
NOT_SHOWN = "A picture in the folder that `--out DIR` names shows what its slots are called."
"""Instead of the picture with the names of the slots, where a page has no pictures."""
STAYS = "The pictures stay with the core: holding the whole puzzle another way changes the names, not the pictures."
"""Beneath a strip in which the whole puzzle is held another way on the way."""
STAND_INS = "The pictures do not have all of your colours: {}."
"""On a visitor's page, with what is drawn in what."""
IF_IT_CATCHES = "If it catches, line it up, do not push."


def names_words(layers: bool, missing: int) -> str:
    """What the names of slots mean, where some of them tell ``layers`` apart, and how many have no room."""
    words = "A slot is called by the facets that it touches."
    if layers:
        words += " What stands after a dot tells apart slots that touch the same facets."
    return words + (f" The names of {missing} have no room here." if missing else "")


def drawn_in(word: str, near: str | None) -> str:
    """Which colour stands in for a word that no screen knows; ``None`` for one without a name."""
    return f"{word} is drawn in {near or 'a colour that stands in for it'}"


def map_heading(title: str) -> str:
    """What stands above a map of shapes."""
    return f"Shapes and turns: {title}"


def map_key(counts: Sequence[int], whole: bool, levels: int, named: Sequence[str]) -> str:
    """What a map shows of shapes so far from home, how it goes on, and how to read what is ``named``, such as F→3."""
    shown = sum(counts[: levels + 1])
    lead = f"All {shown} shapes" if whole and levels + 1 >= len(counts) else f"The {shown} shapes nearest to home"
    beyond = f"; {counts[levels + 1]} more are one turn further" if levels + 1 < len(counts) else ""
    turn, _, number = named[0].partition("→") if named else ("",) * 3
    example = f" {named[0]}: from there, {turn} leads to a shape like {number}." if named else ""
    return f"{lead}, those alike drawn once{beyond}.{example}"


def distance_words(turns: int) -> str:
    """How far from home a shape is."""
    return f"{counted(turns, 'turns')} from home" if turns else "home"
