"""The wording of the verdicts, wherever a person reads one: a row for each verdict, a column for each place."""

from dataclasses import dataclass, replace

from oddswap.reasoning.verdicts.findings import CANNOT_TELL, LOOKALIKE, NOT_BY_TURNING, ORDINARY, OTHER_TURNS, Diagnosis
from oddswap.reasoning.verdicts.partly import RestIsFree
from oddswap.words.texts import TEXTS, read_texts


@dataclass(frozen=True)
class Wording:
    """One verdict in words, by the place where they stand; empty where the verdict never does.

    ``headline`` opens an answer and the page to send, with words for the turns that were allowed; ``reply`` opens a reply,
    with a noun for the puzzle and words for what one does with it. ``proof`` is among the reasons of an answer. ``title`` ends
    the title of a story, ``captions`` are said of the verdict in it, and ``remember`` at its end. ``alarm`` heads a part of
    the table of alarms and of its poster, ``choice`` is what a worksheet offers, ``cause`` stands on a lesson's card.
    ``in_place`` is what a half-seen puzzle would be if all the rest were in place.
    """

    headline: str
    title: str
    remember: str
    captions: tuple[str, ...] = ()
    proof: str = ""
    reply: str = ""
    alarm: str = ""
    choice: str = ""
    cause: str = ""
    in_place: str = ""


SAID = {key: row | {"captions": tuple(row.get("captions", ()))} for key, row in read_texts("verdicts").items()}
WORDINGS = {verdict: Wording(**SAID[verdict]) for verdict in (ORDINARY, LOOKALIKE, OTHER_TURNS, NOT_BY_TURNING, CANNOT_TELL)}
COMES_RIGHT = replace(WORDINGS[CANNOT_TELL], **SAID["comes right"])
"""What is half seen, and can only be what turning leads to."""
OPENED = replace(WORDINGS[ORDINARY], **SAID["opened"])
"""The ordinary verdict on a box that may leave its outline."""
SOLVED = replace(WORDINGS[ORDINARY], **SAID["solved"])
"""The ordinary verdict on what looks solved."""
LOOK_TWICE = "Look twice before you open anything: a slip of the pen is likelier than a strange piece."
"""What to remember of *not by turning* where no law is broken."""
STRANGE = "The pieces of this puzzle cannot show what was described, however they are put together."
"""The proof where the pieces cannot show what was described."""
HEADINGS = TEXTS["headings"]
"""Over the sections of an answer, by the code of each."""
(NOTHING_TO_TURN,) = SOLVED.captions
TO_MEASURE = "Some pieces are so nearly alike that only measuring decides."
"""The headline, and what opens a reply, where only measuring tells pieces apart on which the verdict hangs."""
BOTH_READINGS = "Whether a law is broken depends on that. Both readings stand below."
"""The proof there."""
SEARCHED = "No turning that keeps the outline leads to what the ticket describes; turns that leave it were only searched."
"""The headline where turns that leave the outline exist, and no way by them was found, which proves nothing."""
UNTRIED = "No turning that keeps the outline leads to what the ticket describes; turns that leave it were not tried yet."
REPLY_CLOSED = "Your box need not have been taken apart: it was closed by another way than it was opened."
"""What opens a reply where turns that leave the outline lead home."""
BY_HAND = "No turns of this copy lead to this: it was put together so by hand."
"""The headline where only turns would lead home that the visitor's copy does not make."""
REPLY_BY_HAND = "The {turns} that your {noun} makes never lead to this: it was put together so by hand."
"""What opens a reply there."""
REPLY_SEARCHED = "We found no turns that make this; that there are none is not proved."
"""What opens a reply where no way by turns that leave the outline was found."""


def wording_of(found: Diagnosis) -> Wording:
    """How the verdict is worded."""
    return COMES_RIGHT if found.verdict == CANNOT_TELL and found.has(RestIsFree) else WORDINGS[found.verdict]
