"""What a half-seen puzzle leaves open, as its owner hears it."""

from collections.abc import Iterator

from oddswap.reasoning.answers import Answer
from oddswap.reasoning.verdicts import partly
from oddswap.reasoning.verdicts.findings import LOOKALIKE, NOT_BY_TURNING, ORDINARY, OTHER_TURNS
from oddswap.values.grammar import number_word
from oddswap.words.reader import Reader
from oddswap.words.to_visitors.heard import heard
from oddswap.words.to_visitors.moves import moving_word

IN_PLACE = {
    ORDINARY: "{turning} alone puts it right",
    LOOKALIKE: "{turning} alone can have led to it, although it looks impossible",
    OTHER_TURNS: "it takes turns that you did not name",
    NOT_BY_TURNING: "no {turning} puts it right",
}
"""What a puzzle is if all the rest is in place, by the verdict on that."""
SAID = (partly.GoOn, partly.IfInPlace, partly.IfOnlyTurned, partly.NotAllInPlace)
"""What is said here in words of its own."""


def half_seen_sentences(answer: Answer, reader: Reader) -> Iterator[str]:
    """What can be said already, without capital letters and full stops."""
    found, puzzle = answer.diagnosis, answer.puzzle
    turning = moving_word(puzzle)
    if found.has(partly.GoOn):
        yield "nothing is impossible so far: pieces that are not placed yet can still make up for what looks wrong"
    if at_home := found.one(partly.IfInPlace):
        so = "if all that we cannot see is in place" + (" as far as it can be" if at_home.nearly else "")
        yield f"{so}, {IN_PLACE[at_home.verdict].format(turning=turning)}"
    if found.has(partly.NotAllInPlace):
        yield "not all that we cannot see is in place: you see some of its pieces elsewhere"
    if (turned := found.one(partly.IfOnlyTurned)) and turned.share.reached:
        one_in = round(turned.share.ways / turned.share.reached)
        if one_in > 1:
            about = "" if turned.share.ways == one_in * turned.share.reached else "about "
            yield f"of all the ways in which it may lie, {turning} leads home from {about}one in {number_word(one_in)}"
    yield from (heard(puzzle, finding, reader) for finding in found.findings if not isinstance(finding, SAID))
