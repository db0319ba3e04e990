"""Text from files is text in everything that is made of it, and what nobody can see in a text is refused or taken out."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from functools import cache

import pytest

from oddswap.commands import command_line
from tests.common.hostile import CORE, THEMES, Case, Words
from tests.common.outputs import DISPLAYS, ELSEWHERE, OUTPUTS, made_by, shown_by
from tests.common.readers import Reading


def trials(tickets: Sequence[str]) -> Iterator[tuple[str, str]]:
    """Every ticket with a theme and every theme with a ticket; that no theme does harm in any place is for `test_markdown`."""
    for number in range(max(len(tickets), len(THEMES))):
        yield tickets[number % len(tickets)], list(THEMES)[number % len(THEMES)]


MADE = [(name, *each) for name, command in OUTPUTS.items() for each in trials(command.tickets)]
PRINTED = {name: command.tickets[:1] for name, command in OUTPUTS.items() if command.printed == ".md"}
ON_A_TERMINAL = [(name, *each) for name, tickets in PRINTED.items() for each in trials(tickets)]
SHOWN = [(name, *each) for name, (_, tickets) in DISPLAYS.items() for each in trials(tickets)]


@pytest.fixture(scope="module")
def cases(tmp_path_factory):
    """Cases by theme and ticket; of the theme ``None`` is all that is harmless."""

    @cache
    def case(theme: str | None, sort: str) -> Case:
        return Case(Words(theme or "tags", theme is None, tmp_path_factory.mktemp("files")), sort)

    return case


@pytest.fixture(scope="module")
def harmless(cases, tmp_path_factory):
    """What was made of harmless text, once for all themes."""

    return cache(lambda make, name, sort: make(cases(None, sort), OUTPUTS[name], tmp_path_factory.mktemp("plain")))


def told_apart(words: Words, found: Reading, plain: Reading) -> list[str]:
    """What is wrong with a reading, beside one of harmless text."""
    wrong = [f"unseen: {sorted(map(ascii, found.unseen))}"] if found.unseen else []
    more, fewer = Counter(map(str, found.live)), Counter(map(str, plain.live))
    if more != fewer:
        wrong.append(f"live: {[*(more - fewer)][:4]}, not {[*(fewer - more)][:4]}")
    text = closed_up(found.text)
    for core in sorted(set(CORE.findall(text))):
        whole = closed_up(words[int(core[3:])])
        if text.count(core) != text.count(whole):
            at = text.index(core)
            wrong.append(f"not as it stands: {whole!r} in {text[max(0, at - 40) : at + 40]!r}")
    lost = set(CORE.findall(closed_up(plain.text))) - set(CORE.findall(text))
    return wrong + [f"lost: {sorted(lost)}"] * (found.whole and bool(lost))


PRINTERS = str.maketrans(
    {"“": '"', "”": '"', "‘": "'", "’": "'", "–": "--", "—": "---", "‹": "<", "›": ">", "∖": "\\", "{": "(", "}": ")"}
)
"""Quotation marks and dashes as the edition's pages set them; marks that stand in for those which players of SRT obey."""


def closed_up(text: str) -> str:
    """Without spaces and capitals, since lines are broken and sentences begun wherever it suits."""
    return "".join(text.translate(PRINTERS).split()).casefold()


@pytest.mark.parametrize(("name", "sort", "theme"), MADE)
def test_what_is_made_of_text_is_text(cases, harmless, tmp_path, theme, name, sort):
    case = cases(theme, sort)
    found, plain = made_by(case, OUTPUTS[name], tmp_path), harmless(made_by, name, sort)
    assert len(found) == len(plain)
    pairs = zip(found, found.values(), plain.values(), strict=True)
    wrong = [f"{part}: {said}" for part, one, other in pairs for said in told_apart(case.words, one, other)]
    assert not wrong, "\n".join(wrong)


@pytest.mark.parametrize(("name", "sort", "theme"), ON_A_TERMINAL)
def test_what_a_terminal_shows_is_text(cases, harmless, tmp_path, theme, name, sort):
    case = cases(theme, sort)
    assert told_apart(case.words, shown_by(case, OUTPUTS[name], tmp_path), harmless(shown_by, name, sort)) == []


@pytest.mark.parametrize(("name", "sort", "theme"), SHOWN)
def test_what_a_notebook_shows_is_text(cases, theme, name, sort):
    found, plain = (DISPLAYS[name][0](cases(which, sort)) for which in (theme, None))
    assert told_apart(cases(theme, sort).words, found, plain) == []


def test_every_command_is_tried():
    assert {command.arguments.split()[0] for command in OUTPUTS.values()} | set(ELSEWHERE) == set(command_line.COMMANDS)
