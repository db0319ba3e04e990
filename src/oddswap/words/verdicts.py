"""The wording of the verdicts, wherever a person reads one: a row for each verdict, a column for each place."""

from dataclasses import dataclass, replace

from oddswap.reasoning.verdicts.findings import CANNOT_TELL, LOOKALIKE, NOT_BY_TURNING, ORDINARY, OTHER_TURNS


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


WORDINGS = {
    ORDINARY: Wording(
        headline="Yes, this can really happen: turning alone leads to it, and out of it again.",
        title="its own moves put it right",
        remember="An odd look is not yet a broken law: count first.",
        captions=("It looks odd, but it keeps every law.", "Its own moves lead there, and out of it again."),
        proof="No law is broken{held}, so turning leads here.",
        reply="Your {noun} is not broken: {turning} alone leads to this, and out of it again.",
        alarm="can happen by turning alone",
        choice="turning alone leads there",
        cause="The usual turns lead here, so they lead back, too.",
        in_place="turning alone leads to it",
    ),
    LOOKALIKE: Wording(
        headline="Yes, this can really happen, although it looks impossible: "
        "at least one piece that looks right is turned or swapped.",
        title="it only looks impossible",
        remember="A law counts pieces. You see shapes and colours.",
        captions=("But on this puzzle a piece can change without anybody seeing it.",),
        proof="Add a change that you cannot see, and no law is broken.",
        reply="Your {noun} need not be broken: {turning} alone can do this.",
        alarm="can happen: some pieces look alike",
        choice="only if pieces that look alike are not what they seem",
        cause="A piece is not what it seems: it has a twin, or a turn that does not show.",
        in_place="it is a false parity: some pieces are not what they seem",
    ),
    OTHER_TURNS: Wording(
        headline="Yes, but {turns} alone cannot do it.",
        title="it takes other turns",
        remember="What is impossible depends on the turns that are allowed.",
        captions=("The turns that this copy makes cannot lead there.",),
        reply="Your {noun} need not have been taken apart, but the {turns} that you named cannot do this alone.",
        alarm="can happen, but only with turns that this copy does not make",
        cause="Somebody made a turn that you would not make.",
        in_place="only other turns than the ticket allows lead to it",
    ),
    NOT_BY_TURNING: Wording(
        headline="As described, no sequence of moves can make this.",
        title="its own moves cannot put it right",
        remember="One broken law is proof enough: no moves can help, however many.",
        captions=("Perhaps a piece went back wrongly, or turned by accident.", "That happens easily, and it is nobody's fault."),
        proof="Whatever may be turned or swapped unseen, some law is broken, though not always the same one.",
        reply="As described, no sequence of {turns} can make this.",
        alarm="cannot come by turning",
        choice="no turning leads there",
        cause="A slip in the telling, or a hand that put a piece in.",
        in_place="no turning leads to it",
    ),
    CANNOT_TELL: Wording(
        headline="What is not seen decides.",
        title="one more look is needed",
        remember="Half a picture is half a proof.",
        proof="A law may or may not be broken: it depends on what was not told. Both readings stand below.",
        reply="We cannot tell yet whether {turning} alone leads to this: what we cannot see decides.",
        alarm="hangs on what only measuring tells",
        in_place="what is not seen decides",
    ),
}
OPENED = replace(
    WORDINGS[ORDINARY],
    remember="A box again need not be the same box.",
    captions=("This box can be turned out of its shape, and back into it.", "Its turns lead to this, and out of it again."),
)
"""The ordinary verdict on a box that may leave its outline."""
LOOK_TWICE = "Look twice before you open anything: a slip of the pen is likelier than a strange piece."
"""What to remember of *not by turning* where no law is broken."""
STRANGE = "The pieces of this puzzle cannot show what was described, however they are put together."
"""The proof where the pieces cannot show what was described."""
HEADINGS = {
    "why": "Why",
    "culprits": "Which piece is not what it seems",
    "found": "What was found",
    "asked": "What to ask for next",
    "slips": "Likely slips of the description",
    "repair": "The smallest repair by hand",
    "way out": "A way out",
    "set-up": "To set it up on your own copy",
    "came about": "How it can have come about",
    "reached": "Where the time ended",
    "assumed": "What this assumes",
}
"""Over the sections of an answer, by the code of each."""
NOTHING_TO_TURN = "It looks solved already: there is nothing to turn."
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
