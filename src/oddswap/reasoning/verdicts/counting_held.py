"""Counts of explanations where the turns do not lead to every holding: one by one, and put together.

What can be reached in one holding as it seems to be cannot be so in another between which the turns do not lead. With an exchange
of lookalikes it may be: then the same explanation must not be counted twice.
"""

from collections.abc import Callable
from dataclasses import replace
from typing import TypeVar

import numpy as np

from oddswap.puzzles.base.whole_turns import held_otherwise, turns_fit_every_holding
from oddswap.reasoning.budget import Finding
from oddswap.reasoning.laws.law_book import LawBook
from oddswap.reasoning.laws.lookalikes import lookalikes
from oddswap.reasoning.verdicts.mending import is_reachable_as_held
from oddswap.values.position import Appearance

Count = TypeVar("Count")


class HoldingsMixed(Finding):
    """Why nothing was counted: lookalikes may make one explanation reachable in several holdings, not told apart."""


def counted_in_every_holding(book: LawBook, appearance: Appearance, count: Callable[[Appearance], Count]) -> Count:
    """What ``count`` gives for the appearance in each holding, put together; classes of the laws belong to one holding."""
    backs, counts = [np.argsort(rotation) for rotation in book.holdings], []
    for back in backs:
        counts.append(one := count(held_otherwise(book.puzzle, appearance, back)))
        if one.reachable is None or one.appearances_reached is None:
            return replace(one, reachable=None, appearances_reached=None, classes=None)
    found = replace(counts[0], reachable=sum(one.reachable for one in counts), classes=None)
    kept = [i for i, one in enumerate(counts) if one.appearances_reached]
    exchanged = any(one.appearances_reached * lookalikes(book.puzzle).order > one.reachable for one in counts)
    if len(kept) > 1 and not book.held_visibly and exchanged:
        if not turns_fit_every_holding(book.puzzle):
            return replace(found, appearances_reached=None, reason=HoldingsMixed())
        kept = [i for i in kept if not any(is_reachable_as_held(book, backs[j][book.holdings[i]]) for j in kept if j < i)]
    return replace(found, appearances_reached=sum(counts[i].appearances_reached for i in kept))
