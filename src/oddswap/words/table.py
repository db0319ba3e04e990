"""Which function makes the text of which finding; the subjects' files fill this in when the first text is asked for."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, is_dataclass
from functools import partial
from importlib import import_module
from string import Formatter
from typing import Any

from oddswap.words.reader import EXPLAINER, Reader

Words = Callable[[Any, Reader], str]
Table = dict[type, Words]

SUBJECTS: tuple[str, ...] = (
    *("sectors", "laws", "alarms", "culprits", "slips", "findings", "half_seen", "open_boxes"),
    *("searches", "ways.aims", "ways.tools", "ways.trials", "ways.plans", "ways.ways_map"),
)
"""The files of this room that say something of findings; they are loaded one after another until one speaks of what is asked."""

_SENTENCES: Table = {}
_NAMES: Table = {}


def says(*kinds: type) -> Callable[[Words], Words]:
    """Decorate the function that makes the text of these kinds of findings; it takes a finding and its reader."""
    return partial(_keep, _SENTENCES, kinds)


@dataclass(frozen=True)
class _Fields(Formatter):
    """Formats findings as their texts for a reader, and tuples with what stands behind the colon between their parts."""

    reader: Reader

    def format_field(self, value: Any, spec: str) -> str:
        if isinstance(value, tuple):
            return spec.join(self.format_field(part, "") for part in value)
        return say(value, self.reader) if is_dataclass(value) else super().format_field(value, spec)


def says_so(sentences: Mapping[type, str]) -> None:
    """Keep sentences in which fields of their finding stand as ``{0.field}``, and tuples as ``{0.field:, }``.

    Of a finding in a field the text stands there.
    """
    says(*sentences)(lambda finding, reader: _Fields(reader).format(sentences[type(finding)], finding))


def names(*kinds: type) -> Callable[[Words], Words]:
    """Decorate the function that makes the short names of things of these kinds, for lists and tables; it takes the same."""
    return partial(_keep, _NAMES, kinds)


def _keep(table: Table, kinds: tuple[type, ...], words: Words) -> Words:
    table.update(dict.fromkeys(kinds, words))
    return words


def say(finding: object, reader: Reader = EXPLAINER) -> str:
    """Return the text of a finding for a reader. `KeyError` for a kind of finding that no subject speaks of."""
    return _words_of(_SENTENCES, type(finding))(finding, reader)


def name_of(thing: object, reader: Reader = EXPLAINER) -> str:
    """Return the short name of a law, a sector or a quantity. `KeyError` for a thing that no subject names."""
    return _words_of(_NAMES, type(thing))(thing, reader)


def _words_of(table: Table, kind: type) -> Words:
    for subject in SUBJECTS:
        if kind not in table:
            import_module(f"oddswap.words.{subject}")
    return table[kind]
