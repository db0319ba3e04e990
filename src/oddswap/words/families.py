"""Families of law classes in words: what a hand would change to come there."""

from __future__ import annotations

from oddswap.reasoning.law_families import Cycled, Family
from oddswap.values.grammar import listed
from oddswap.words.reader import EXPLAINER, Reader
from oddswap.words.table import name_of, names, say, says


@says(Cycled)
def cycled_words(sort: Cycled, reader: Reader = EXPLAINER) -> str:
    """Three pieces that change places."""
    return f"three {name_of(sort.sector)} in a cycle"


@names(Family)
def family_name(family: Family, reader: Reader = EXPLAINER) -> str:
    """What a hand would change to come there; empty where that is nothing, or not known."""
    return listed(say(sort, reader) for sort in family.sorts) if family.sorts else ""
