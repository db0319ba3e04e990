"""Which function makes the sentence of which finding; the subjects' files fill it in when the first sentence is asked for."""

from __future__ import annotations

from collections.abc import Callable
from importlib import import_module
from typing import Any

from oddswap.words.reader import EXPLAINER, Reader

Words = Callable[[Any, Reader], str]

SUBJECTS: tuple[str, ...] = ()
"""The files of this room that say something of findings."""

_TABLE: dict[type, Words] = {}


def says(*kinds: type) -> Callable[[Words], Words]:
    """Decorate the function that makes the text of these kinds of findings; it takes a finding and its reader."""

    def keep(words: Words) -> Words:
        _TABLE.update(dict.fromkeys(kinds, words))
        return words

    return keep


def say(finding: object, reader: Reader = EXPLAINER) -> str:
    """Return the text of a finding for a reader. `KeyError` for a kind of finding that no subject speaks of."""
    return words_of(type(finding))(finding, reader)


def words_of(kind: type) -> Words:
    """Return the function that makes the text of a kind of finding."""
    if kind not in _TABLE:
        for subject in SUBJECTS:
            import_module(f"oddswap.words.{subject}")
    return _TABLE[kind]
