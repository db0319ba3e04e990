"""Texts that are data: in files beside this one, where anybody can edit them, by subject and code."""

import tomllib
from collections.abc import Mapping
from pathlib import Path
from types import SimpleNamespace


def read_texts(name: str) -> Mapping:
    """The texts of the file of this room that is called so.

    >>> read_texts("findings")["no-way-out"]
    'no way out and no set-up by turning: the verdict is {0.verdict}'
    """
    return tomllib.loads((Path(__file__).parent / f"{name}.toml").read_text("utf-8"))


TEXTS: Mapping[str, Mapping] = read_texts("texts")
"""What stands in ``texts.toml``."""


def texts_of(subject: str) -> SimpleNamespace:
    """The texts of one subject there, each by its name.

    >>> texts_of("desk").saved
    'Saved as {} in the folder {}.'
    """
    return SimpleNamespace(**TEXTS[subject])
