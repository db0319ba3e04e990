"""Every finding has its sentence, and every code is one finding's."""

from dataclasses import fields, is_dataclass
from importlib import import_module
from pkgutil import walk_packages

import pytest

import oddswap.reasoning
from oddswap.reasoning.budget import Finding
from oddswap.reasoning.verdicts.findings import SeenTooOften, WiderTurns
from oddswap.reasoning.verdicts.slips import FacesExchanged
from oddswap.words import say, table


def every_finding():
    for module in walk_packages(oddswap.reasoning.__path__, "oddswap.reasoning."):
        if "_kernel" not in module.name:
            import_module(module.name)
    for subject in table.SUBJECTS:
        import_module(f"oddswap.words.{subject}")
    kinds = [kind for kind in Finding.__subclasses__() if kind.__module__.startswith("oddswap.")]
    return [each for kind in kinds for each in kind.__subclasses__() or [kind]]


def test_every_finding_has_a_code_of_its_own_and_a_sentence():
    kinds = every_finding()
    codes = [kind.code for kind in kinds]
    assert len(kinds) > 100 and len(set(codes)) == len(codes)
    rows, made = {kind for kind in kinds if kind.code in table.FINDINGS}, set(kinds) & set(table._SENTENCES)
    assert rows | made == set(kinds) and not rows & made
    assert set(table.FINDINGS) == {kind.code for kind in rows} | {"cycled", "phase", "slip", "tool"}


def test_a_finding_is_a_frozen_value():
    for kind in every_finding():
        assert is_dataclass(kind) and kind.__dataclass_params__.frozen and "code" not in [field.name for field in fields(kind)]
    assert FacesExchanged(("L", "R")) == FacesExchanged(("L", "R")) != FacesExchanged(("U", "D"))


@pytest.mark.parametrize(
    "finding, words",
    [
        (WiderTurns(("U", "F2")), "which this copy may not make: U F2"),
        (SeenTooOften(("UR", "UF")), "has it: UR, UF"),
        (FacesExchanged(("L", "R")), "the faces L and R are"),
    ],
)
def test_tuples_are_told_with_what_stands_between(finding, words):
    assert words in say(finding)
