"""To whom a sentence is said: the same finding is told to a visitor in their colours, to an explainer by slots."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from oddswap.values.holding import START, Holding


@dataclass(frozen=True)
class Reader:
    """``colours`` names the visitor's colour of each face, empty where faces are called by their letters.

    ``holding`` is how the reader holds the puzzle. ``plain``: no slots, no names of laws, no words of ours.
    """

    colours: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    holding: Holding = START
    plain: bool = False


EXPLAINER = Reader()
"""Whoever works at the repair table: slots by their names, laws by theirs."""
