"""Findings and laws as plain data: what a sentence says, without a word of it."""

from collections.abc import Iterable
from dataclasses import fields, is_dataclass
from fractions import Fraction

from oddswap.reasoning.budget import Finding
from oddswap.reasoning.laws.sectors import Law
from oddswap.reasoning.verdicts.findings import Culprit
from oddswap.values.position import Appearance, Arrangement

LARGE = {"explanations", "reached", "states", "ways"}
"""Fields whose numbers can grow beyond what readers of JSON keep exactly: they become decimal strings."""
POSITIONS = Appearance, Arrangement


def finding_data(finding: Finding) -> dict:
    """A finding by its code, with its fields by their names; whole positions are left out.

    >>> from oddswap.reasoning.verdicts.findings import StrangeSight
    >>> finding_data(StrangeSight("UF"))
    {'code': 'strange-sight', 'data': {'slot': 'UF'}}
    """
    return {"code": finding.code, "data": _fields(finding)}


def _fields(value: object) -> dict:
    found = {field.name: getattr(value, field.name) for field in fields(value)}
    return {
        name: str(part) if name in LARGE and part is not None else _plain(part)
        for name, part in found.items()
        if not isinstance(part, POSITIONS)
    }


def fields_of(value: object, names: str) -> dict:
    """Some fields and properties of a value as plain data, by their names.

    >>> from oddswap.reasoning.budget import Reached
    >>> fields_of(Reached("tools", 3), "part bound")
    {'part': 'tools', 'bound': 3}
    """
    return {name: _plain(getattr(value, name)) for name in names.split()}


def culprits_data(culprits: Iterable[Culprit]) -> list[dict]:
    """Culprits as plain data, in words as well."""
    return [fields_of(culprit, "pieces words") for culprit in culprits]


def _plain(value: object) -> object:
    if isinstance(value, Law):
        return {name: part for name, part in law_data(value).items() if name not in ("name", "statement")}
    if isinstance(value, tuple):
        return [_plain(part) for part in value]
    if is_dataclass(value):
        return finding_data(value) if hasattr(value, "code") else _fields(value)
    return str(value) if isinstance(value, Fraction) else value


def law_data(law: Law) -> dict:
    """A law as plain data; ``terms`` say what it is about without a word."""
    return {
        **fields_of(law, "name type modulus"),
        "terms": [
            {"what": part.what, "kind": part.sector.kind.name, "slots": list(part.sector.names), "weight": weight}
            for weight, part in law.terms
        ],
        **fields_of(law, "statement seen"),
    }
