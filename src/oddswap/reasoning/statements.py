"""Laws in words and in LaTeX."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from oddswap.reasoning.laws import Law
    from oddswap.reasoning.sectors import Coordinate, Sector

STEPS = {2: "flips", 3: "third turns", 4: "quarter turns", 5: "fifth turns", 6: "sixth turns"}


def listed(words: Iterable[str]) -> str:
    """``a, b and c``.

    >>> listed(["corners", "edges", "centres"])
    'corners, edges and centres'
    """
    items = list(words)
    return items[0] if len(items) == 1 else f"{', '.join(items[:-1])} and {items[-1]}"


def sector_name(sector: Sector) -> str:
    """The kind's name, and the first slot where the turns split the kind."""
    kind = sector.kind
    if len(sector.slots) == len(kind.slots):
        return kind.name
    first = kind.slots[sector.slots[0] - kind.start]
    return f"{kind.name} in the orbit of {first}"


def parts_name(parts: list[Coordinate]) -> str:
    """One quantity: the sign of a sector, its twists, or the twists of several single slots together."""
    if parts[0].what == "sign":
        return f"sign of {sector_name(parts[0].sector)}"
    return f"{_twist_word(parts)} of {_owners(parts)}"


def law_name(law: Law) -> str:
    """A short name: what the law is about."""
    signs = [part for part in law.parts if part.what == "sign"]
    twists = [part for part in law.parts if part.what == "twist"]
    names = []
    if signs:
        names.append(f"sign of {listed(sector_name(p.sector) for p in signs)}")
    if twists:
        names.append(f"{_twist_word(twists)} of {_owners(twists)}")
    return " and ".join(names)


def law_statement(law: Law) -> str:
    """One sentence that a hobbyist understands."""
    signs = [part for part in law.parts if part.what == "sign"]
    twists = [part for part in law.parts if part.what == "twist"]
    plain = all(w == 1 for w in law.weights) or law.modulus == 2
    if not twists:
        return _sign_statement(signs)
    if not plain:
        return _formula_statement(law)
    total = f"the {_twist_word(twists)} of the {_owners(twists)}"
    if not signs:
        if law.modulus == 2 and all(part.modulus == 2 for part in twists):
            return f"The number of flipped {_owners(twists)} is always even."
        if law.modulus == 2:
            return f"The number of {_twist_word(twists)} of the {_owners(twists)} is always even."
        return (
            f"T{total[1:]}, each counted clockwise as seen from outside, always add up to a multiple of {law.modulus}."
        )
    owners = listed(f"the {sector_name(p.sector)}" for p in signs)
    return f"T{total[1:]} add up to an even number exactly when {owners} {_rearranged(signs)}."


def law_latex(law: Law) -> str:
    """The law as a congruence in LaTeX, rendered by SymPy."""
    import sympy

    terms = []
    for part, weight in zip(law.parts, law.weights, strict=True):
        letter = r"\varepsilon" if part.what == "sign" else r"\tau"
        name = sector_name(part.sector).replace("_", " ")
        terms.append(weight * sympy.Symbol(f"{letter}_{{\\text{{{name}}}}}"))
    total = sympy.latex(sympy.Add(*terms, evaluate=False), order="none")
    return rf"{total} \equiv 0 \pmod{{{law.modulus}}}"


def _rearranged(signs: list[Coordinate]) -> str:
    if len(signs) == 1:
        return "are rearranged evenly"
    return "are rearranged both evenly or both oddly" if len(signs) == 2 else "hold an even number of odd rearrangements"


def _sign_statement(signs: list[Coordinate]) -> str:
    names = [sector_name(part.sector) for part in signs]
    if len(names) == 1:
        return f"The {names[0]} are always rearranged evenly: by an even number of exchanges."
    if len(names) == 2:
        return f"The {names[0]} and the {names[1]} are always rearranged either both evenly or both oddly."
    return f"Of the {listed(names)}, an even number are rearranged oddly."


def _twist_word(twists: list[Coordinate]) -> str:
    orders = {part.modulus for part in twists}
    if len(orders) > 1:
        return "twists"
    order = orders.pop()
    return STEPS.get(order, "twists") if order != 3 else "twists"


def _owners(twists: list[Coordinate]) -> str:
    """Whose twists: single slots of one family are gathered, as in *centres U, D and F*."""
    gathered: dict[str, list[str]] = {}
    for part in twists:
        kind = part.sector.kind
        if len(kind.slots) == 1:
            gathered.setdefault(kind.family, []).append(kind.slots[0])
        else:
            gathered.setdefault(sector_name(part.sector), [])
    words = []
    for family, slots in gathered.items():
        if not slots:
            words.append(family)
        else:
            words.append(f"{family if len(slots) > 1 else family.removesuffix('s')} {listed(slots)}")
    return listed(words)


def _formula_statement(law: Law) -> str:
    terms = []
    for part, weight in zip(law.parts, law.weights, strict=True):
        what = "oddness" if part.what == "sign" else STEPS.get(part.modulus, "twists")
        times = "" if weight == 1 else f"{weight} times "
        terms.append(f"{times}the {what} of the {sector_name(part.sector)}")
    return f"{' plus '.join(terms).capitalize()} is always a multiple of {law.modulus}."
