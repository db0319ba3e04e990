"""oddswap: can a stuck permutation puzzle really be like that, which piece is not what it seems, what is a way out?

>>> import oddswap
>>> oddswap.load("shape-mod:prism8").diagnose("flip UF").verdict
'lookalike'
"""

from __future__ import annotations

from importlib import import_module

from oddswap.forwards import surface

_WHERE = {
    "Appearance": "values.appearance",
    "Arrangement": "values.arrangement",
    "Puzzle": "puzzles.base.puzzle",
    "load": "puzzles.catalogue",
    "puzzle": "puzzles.made_up",
    "changed": "describing.changes",
    "law_book": "reasoning.laws.law_book",
    "lookalikes": "reasoning.laws.lookalikes",
    "diagnose": "reasoning.verdicts.diagnosis",
    "tally": "reasoning.laws.tally",
    "Budget": "reasoning.search.shortest",
    "find_way": "reasoning.search.shortest",
    "answer": "reasoning.answers",
    "draw_prints": "showing.pictures.prints",
    "draw_strip": "showing.pictures.strip",
    "draw_cycles": "showing.pictures.cycles",
    "draw_tally": "showing.pictures.tallies",
    "Viewer": "showing.viewer.widget",
    "read_ticket": "describing.tickets",
    "parse_ticket": "describing.tickets",
    "write_ticket": "describing.tickets",
    "OddswapError": "errors",
}
"""Each public name and the module that it is loaded from on first use, so that importing costs next to nothing."""

__all__ = sorted(_WHERE)
_fetched = surface(__name__, _WHERE)


def __getattr__(name: str) -> object:
    if name == "__version__":
        return import_module("importlib.metadata").version(__name__)
    return _fetched(name)


def __dir__() -> list[str]:
    return __all__
