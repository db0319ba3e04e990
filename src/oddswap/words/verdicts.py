"""The wording of the verdicts, wherever a person reads one: a row for each verdict, a column for each place."""

from __future__ import annotations

from dataclasses import dataclass

from oddswap.reasoning.verdicts.findings import CANNOT_TELL, LOOKALIKE, NOT_BY_TURNING, ORDINARY, OTHER_TURNS


@dataclass(frozen=True)
class Wording:
    """One verdict in words, by the place where they stand; empty where the verdict never does.

    ``headline`` opens an answer, the page to send and a reply; ``title`` ends the title of a story. ``alarm`` heads a part of
    the table of alarms and of its poster; ``choice`` is what a worksheet offers, ``in_place`` what a half-seen puzzle would be if
    all the rest were in place. ``open_box`` is the reason for the verdict on a box that may leave its outline.
    """

    headline: str
    title: str
    alarm: str = ""
    choice: str = ""
    in_place: str = ""
    open_box: str = ""


WORDINGS = {
    ORDINARY: Wording(
        headline="Yes, this can really happen: turning alone leads to it, and out of it again.",
        title="its own moves put it right",
        alarm="can happen by turning alone",
        choice="turning alone leads there",
        in_place="turning alone leads to it",
        open_box="There is a way home, found by a search and replayed turn by turn.",
    ),
    LOOKALIKE: Wording(
        headline="Yes, this can really happen, although it looks impossible: some pieces are not what they seem.",
        title="it only looks impossible",
        alarm="can happen, because of pieces that look alike",
        choice="only if pieces that look alike are not what they seem",
        in_place="it is a false parity: some pieces are not what they seem",
    ),
    OTHER_TURNS: Wording(
        headline="Yes, but only with turns that the ticket does not allow.",
        title="it takes other turns",
        alarm="can happen, but only with turns that this copy does not make",
        in_place="only turns that the ticket does not allow lead to it",
    ),
    NOT_BY_TURNING: Wording(
        headline="No turning leads to what the ticket describes.",
        title="its own moves cannot put it right",
        alarm="cannot come by turning",
        choice="no turning leads there",
        in_place="no turning leads to it",
        open_box="All positions that these turns reach were seen, and this is none of them.",
    ),
    CANNOT_TELL: Wording(
        headline="What is not seen decides.",
        title="one more look is needed",
        open_box="Only a way home could show that it can be, and none was found yet; that there is none is not proved.",
    ),
}
SEARCHED = "No turning that keeps the outline leads to what the ticket describes; turns that leave it were only searched."
"""The headline where turns that leave the outline exist, and no way by them was found, which proves nothing."""
UNTRIED = "No turning that keeps the outline leads to what the ticket describes; turns that leave it were not tried yet."
