"""oddswap: can a stuck permutation puzzle really be like that, which piece is not what it seems, what is a way out?

>>> import oddswap
>>> prism = oddswap.load("shape-mod:prism8")
>>> seen = prism.appearance(oddswap.changed(prism, ["flip UF"]))
>>> oddswap.diagnose(prism, seen).verdict
'lookalike'
"""

from __future__ import annotations

from importlib import import_module

_WHERE = {
    "Appearance": "values.appearance",
    "Arrangement": "values.arrangement",
    "Puzzle": "puzzles.puzzle",
    "load": "puzzles.catalogue",
    "changed": "puzzles.changes",
    "law_book": "reasoning.laws",
    "lookalikes": "reasoning.lookalikes",
    "diagnose": "reasoning.diagnosis",
    "tally": "reasoning.tally",
    "Budget": "reasoning.search",
    "find_way": "reasoning.search",
    "answer": "reasoning.answers",
    "draw_prints": "showing.prints",
    "draw_strip": "showing.strip",
    "draw_cycles": "showing.cycles",
    "draw_tally": "showing.tallies",
    "Viewer": "showing.viewer",
    "read_ticket": "tickets",
    "parse_ticket": "tickets",
    "write_ticket": "tickets",
    "OddswapError": "errors",
}
"""Each public name and the module that it is loaded from on first use, so that importing costs next to nothing."""

__all__ = sorted(_WHERE)


def __getattr__(name: str):
    if name in _WHERE:
        value = getattr(import_module(f"oddswap.{_WHERE[name]}"), name)
        globals()[name] = value
        return value
    raise AttributeError(f"oddswap has no {name!r}")


def __dir__() -> list[str]:
    return __all__
