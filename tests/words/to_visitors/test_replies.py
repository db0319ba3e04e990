"""How replies read to whoever gets them: not too long, in no words of ours, with the cautions where hands can be hurt."""

import re
from pathlib import Path

import pytest

from oddswap.describing.tickets import read_ticket
from oddswap.reasoning.answers import answer
from oddswap.reasoning.budget import Budget
from oddswap.showing.pages.report import reply_text
from oddswap.words.table import reader_of

TICKETS = sorted((Path(__file__).parents[3] / "notebooks" / "tickets").rglob("*.toml"))
FEWEST, MOST = 100, 180
"""Words of a reply, its moves left out."""
JARGON = re.compile(
    r"\b(ticket does|slab|slot|parity|law|wings|centres? [UDFBLR]|first sight|exchange|[UDFBLR]{2,3} (?:edge|corner))"
)


@pytest.mark.parametrize("path", TICKETS, ids=lambda path: path.stem)
def test_a_reply_is_short_and_plain(path):
    ticket = read_ticket(path)
    found = answer(ticket.puzzle, ticket.appearance, Budget(1.0), copy=ticket.limit)
    text = reply_text(found, reader_of(ticket))
    words = re.sub(r"^`.*`$", "", text, flags=re.MULTILINE).split()
    assert (FEWEST <= len(words) or "not found a way out yet" in text) and len(words) <= MOST, f"{len(words)} words\n{text}"
    assert not JARGON.search(text), text
    assert "not found a way out yet" in text or re.search(r"(?i)do not (?:force|push|open)|stop and send", text), text
    if "Why:" in text:
        reasons = re.search(r"Why: (.*)", text)[1]
        assert len(re.findall(r"[.!?](?= [A-Z]|$)", reasons)) <= 3, reasons
