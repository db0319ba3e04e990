"""What a verdict takes for granted and what was found beside it, in words."""

from __future__ import annotations

from oddswap.reasoning.answers import HeldOtherwise, NothingToRepair, NoWayOut, OneStretch, SeenBefore, WayNotFound
from oddswap.reasoning.verdicts import findings
from oddswap.values.text import one_line
from oddswap.words.reader import EXPLAINER, Reader
from oddswap.words.searches import reason_words
from oddswap.words.table import say, says, says_so

says_so(
    {
        HeldOtherwise: "it is held otherwise here than it was described: turn the whole puzzle by {0.rotations} first",
        NothingToRepair: "no repair by hand: it is given only where a law that can be seen is broken",
        NoWayOut: "no way out and no set-up by turning: the verdict is {0.verdict}",
        OneStretch: "phases are null: the way out is one stretch, found by a search from both ends",
        findings.NotSeen: "not seen anywhere: {0.pieces:, }",
        findings.OnlySlid: "nothing was taken apart, and pieces only slid into the blank, one at a time",
        findings.OnlyTurned: "nothing was taken apart, and only these turns were made: {0.turns: }",
        findings.SeenTooOften: "seen more often than the puzzle has it: {0.pieces:, }",
        findings.SlotAsked: "{0.slot}",
        findings.StrangeSight: "{0.slot} shows what no piece of this puzzle can show there: a sticker that was moved, "
        "or a slip in the description",
        findings.TooManyExchanged: "an exchange of lookalikes makes this reachable, "
        "but it takes more pieces than {0.tries} tries could find",
        findings.WiderTurns: "reachable with these turns too, which this copy may not make: {0.turns: }",
    }
)


def assumptions_of(found: findings.Diagnosis) -> tuple[str, ...]:
    """What a verdict takes for granted."""
    return tuple(map(say, found.assumed))


def notes_of(found: findings.Diagnosis) -> tuple[str, ...]:
    """What was found beside a verdict."""
    return tuple(map(say, found.findings))


def asked_of(found: findings.Diagnosis) -> tuple[str, ...]:
    """What to ask for, best first."""
    return tuple(map(say, found.asked))


@says(findings.PuzzleAsTold)
def puzzle_words(assumed: findings.PuzzleAsTold, reader: Reader = EXPLAINER) -> str:
    also = ", and every piece is in the kind of slot where it belongs" if assumed.kinds else ""
    return f"the puzzle is what the ticket says ({assumed.title}){also}"


@says(findings.TurnedStraight)
def straight_words(finding: findings.TurnedStraight, reader: Reader = EXPLAINER) -> str:
    held = f", held as after {finding.held}" if finding.held else ""
    return f"what is simply out of line was first turned straight{held}: {' '.join(finding.turns)}"


@says(WayNotFound)
def not_found_words(finding: WayNotFound, reader: Reader = EXPLAINER) -> str:
    return f"no way out was found within the budget: {reason_words(finding)}"


@says(SeenBefore)
def seen_before_words(finding: SeenBefore, reader: Reader = EXPLAINER) -> str:
    what = "the mirror image of this position" if finding.mirrored else "the same position"
    where = f"its page is {finding.page}" if finding.page else "it has no page yet"
    return one_line(f"seen before: {finding.ticket} is {what}, up to how the puzzle is held; {where}")
