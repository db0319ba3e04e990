"""What a verdict takes for granted, what was found beside it, and what a half-seen puzzle leaves open, in words."""

from collections.abc import Iterable

from oddswap.reasoning import answers
from oddswap.reasoning.checking.check import TriedOtherwise
from oddswap.reasoning.ticket_answers import NotOnOwnCopy
from oddswap.reasoning.verdicts import findings, partly
from oddswap.reasoning.verdicts.assignments import CountingEnded, TooManyStates
from oddswap.reasoning.verdicts.counting import ClassesUnnamed, HoldingsMixed, TooManyClasses, TooManyToTry
from oddswap.reasoning.verdicts.readings import ALIKE, APART, Reading
from oddswap.reasoning.verdicts.surprise import HALF_SEEN, NO_LAW, NO_LOOKALIKE, TOO_MANY, Surprise
from oddswap.reasoning.verdicts.views import View, ViewsSampled
from oddswap.values.grammar import capital, listed, number_word, ordinal, read_number, times_word
from oddswap.words.table import EXPLAINER, Reader, name_of, say, says, says_so
from oddswap.words.verdicts import WORDINGS

NOT_COUNTED = {
    NO_LOOKALIKE: "that is done for lookalikes alone",
    NO_LAW: "no law is broken that pieces which look alike leave as it is",
    TOO_MANY: "too many looks would have to be told apart",
    HALF_SEEN: "not everything was seen",
}

CAME_ABOUT = {
    findings.ORDINARY: "turning alone did it: turns lead there from solved",
    findings.OTHER_TURNS: "somebody made turns that are not on the ticket, and after them it looks like this",
    findings.NOT_BY_TURNING: "no turns lead there: if it is as described, a piece went back wrongly or was twisted, "
    "or a sticker moved",
    findings.CANNOT_TELL: "what is not known yet decides how it came about",
}
MEASURED = {APART: "shows a difference", ALIKE: "shows no difference"}
"""What measuring shows, by its code."""
STEPS_KNOWN = findings.ORDINARY, findings.OTHER_TURNS
"""The verdicts, beside that of lookalikes, with which turns from solved exist."""

says_so(
    {
        findings.EquallyOften: "to say how often this happens: every position that the turns reach, and that looks right "
        "where this one does, comes equally often",
        answers.HeldOtherwise: "slots are named as after `{0.rotations}` has turned the whole puzzle, from how it was described",
        answers.NothingToRepair: "no repair by hand: it is given only where a law that can be seen is broken",
        answers.MadeByHand: "a hand did it: the turns of this copy ({0.turns: }) do not lead there, only others do",
        NotOnOwnCopy: "your own copy makes other turns than this takes, and cannot be set up: its turns are {0.turns: }",
        answers.NoWayOut: "no way out and no set-up by turning: the verdict is {0.verdict}",
        answers.OneStretch: "phases are null: the way out is one stretch, found by a search from both ends",
        answers.WayNotFound: "no way out was found within the budget: {0.reasons:; }",
        findings.NotSeen: "not seen anywhere: {0.pieces:, }",
        findings.OnlySlid: "nobody has taken it apart, and pieces only slid into the blank, one at a time",
        findings.OnlyTurned: "nobody has taken it apart, and only these turns were made: {0.turns: }",
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


@says(answers.CameAbout)
def came_about_words(came: answers.CameAbout, reader: Reader = EXPLAINER) -> str:
    """How it can have come about, a step after the other."""
    if came.verdict != findings.LOOKALIKE:
        unknown = came.moves is None and came.verdict in STEPS_KNOWN
        closed = f"; the box was closed by another way than it was opened: {say(came.closed, reader)}" if came.closed else ""
        return CAME_ABOUT[came.verdict] + closed + ("; no such turns were found in the time that was given" if unknown else "")
    hidden = say(came.culprit, reader) if came.culprit else "several pieces that look alike are in each other's places"
    placed = f"After the {came.stage}, {hidden}" if came.stage else capital(hidden)
    return (
        f"somebody solves it by sight. {placed}. They build the rest on that, as always, and at the end this is left. "
        "Nobody has taken anything apart"
    )


@says(findings.PuzzleAsTold)
def puzzle_words(assumed: findings.PuzzleAsTold, reader: Reader = EXPLAINER) -> str:
    also = ", and every piece is in the kind of slot where it belongs" if assumed.kinds else ""
    return f"the puzzle is what the ticket says ({assumed.title}){also}"


@says(findings.OnceStraight)
def once_straight_words(finding: findings.OnceStraight, reader: Reader = EXPLAINER) -> str:
    turns = " ".join((*finding.held.split(), *finding.turns))
    culprit = f"; one culprit would be that {say(finding.culprits[0], reader)}" if finding.culprits else ""
    return f"once it is put straight by {turns}, {WORDINGS[finding.verdict].in_place}{culprit}"


@says(Surprise)
def surprise_words(surprise: Surprise, reader: Reader = EXPLAINER) -> str:
    """How often it happens, or why that is not known."""
    if surprise.share is None:
        return f"how often this happens was not counted: {NOT_COUNTED[surprise.uncounted]}"
    times, of = surprise.share.numerator, surprise.share.denominator
    often = f"{number_word(times)} time{'s' * (times > 1)} in {number_word(of)}" if of > 1 else "every time"
    return f"whoever gets the rest right by sight meets this {often}"


@says(findings.ToMeasure)
def to_measure_words(pair: findings.ToMeasure, reader: Reader = EXPLAINER) -> str:
    alike = f"{pair.one} looks the same when turned" if pair.one == pair.other else f"{pair.one} and {pair.other} are alike"
    return f"only measuring tells whether {alike}"


@says(Reading)
def reading_words(reading: Reading, reader: Reader = EXPLAINER) -> str:
    """The verdict of one reading, with one of its culprits."""
    culprit = f"; one culprit would be that {say(reading.culprits[0], reader)}" if reading.culprits else ""
    asked_anew = f"(ask anew with measured={reading.measured} behind the puzzle's name)"
    return f"if measuring {MEASURED[reading.measured]} {asked_anew}, {WORDINGS[reading.verdict].in_place}{culprit}"


@says(answers.ReadOtherwise)
def read_otherwise_words(finding: answers.ReadOtherwise, reader: Reader = EXPLAINER) -> str:
    return (
        f"{number_doubted(finding)}: as that layer the verdict is {finding.slab}, as {times_word(finding.number)}, "
        f"which makes it {finding.turns}, it is {finding.times}; write leading_number = twice or slab below [notation]"
    )


def number_doubted(doubt: answers.ReadOtherwise | TriedOtherwise) -> str:
    """How a turn with a number in front was read, and what else it can mean."""
    return (
        f"ask what {doubt.written} means: it was read as the {ordinal(doubt.number)} layer from {doubt.face}, alone, "
        f"and can mean {doubt.face} {times_word(doubt.number)}"
    )


@says(TriedOtherwise)
def tried_otherwise_words(finding: TriedOtherwise, reader: Reader = EXPLAINER) -> str:
    solves = "would solve it" if finding.solves else "would not solve it either"
    if finding.solved_as_read:
        solves = "would solve it, too" if finding.solves else "would not solve it"
    return f"{number_doubted(finding)}; then it is {finding.moves}, which {solves}"


@says(answers.SeenBefore)
def seen_before_words(finding: answers.SeenBefore, reader: Reader = EXPLAINER) -> str:
    what = "the mirror image of this position" if finding.mirrored else "the same position"
    what += ", as far as both were seen" if finding.partly else ""
    what += ", if a likely slip of the description is mended" if finding.slipped else ""
    where = f"its page is {finding.page}" if finding.page else "it has no page yet"
    return f"seen before: {finding.ticket} is {what}, up to how the puzzle is held; {where}"


says_so(
    {
        ClassesUnnamed: "classes are named only where signs, twists and pairs say all",
        partly.GoOn: "nothing that is told is impossible so far: pieces that are not placed yet can still make up for it. "
        "Place them first, and look again at what is then left",
        HoldingsMixed: "an exchange of lookalikes may make the same explanation reachable in several holdings, "
        "and these were not told apart",
        partly.NoAssembly: "no way to put this puzzle's pieces together agrees with what is told: "
        "a sticker that was moved, or a slip",
        partly.NotAllInPlace: "not everything that is unseen can be in place, as some of its pieces were seen elsewhere",
        partly.NotYetPlaced: "what is not placed yet, or was not told, was only turned, never put together by hand",
        partly.OneWhole: "what is not told can only be one thing, as the puzzle has no other pieces left",
        partly.RestIsFree: "however the rest lies, turning leads there",
        TooManyClasses: "the classes could not be counted: there are more than {0.most} classes",
        CountingEnded: "the time ended before they were counted",
        TooManyStates: "the classes could not be counted: {0.states} sets of used pieces",
        ViewsSampled: "which photograph tells most was tried on {0.draws} looks of the whole, drawn at random",
        TooManyToTry: "{0.explanations} explanations of {0.puzzle} are too many to try one by one",
    }
)


@says(partly.FewWholes)
def few_words(finding: partly.FewWholes, reader: Reader = EXPLAINER) -> str:
    counted = listed(f"{number} {verdict}" for verdict, number in finding.verdicts)
    return f"what is told leaves {sum(n for _, n in finding.verdicts)} ways in which the whole may look: {counted}"


@says(partly.IfInPlace)
def in_place_words(finding: partly.IfInPlace, reader: Reader = EXPLAINER) -> str:
    start = f"if everything that is unseen is in place{' as far as it can be' if finding.nearly else ''}"
    laws = f", because of the law of {listed(name_of(law, reader) for law in finding.laws)}" if finding.laws else ""
    changes = "; ".join(say(change, reader) for change in finding.changes)
    return f"{start}: {WORDINGS[finding.verdict].in_place}{laws}{f'; one culprit would be that {changes}' if changes else ''}"


@says(partly.IfOnlyTurned)
def only_turned_words(finding: partly.IfOnlyTurned, reader: Reader = EXPLAINER) -> str:
    start, (total, reached) = "if everything that is unseen has only been turned", (finding.share.ways, finding.share.reached)
    why = say(finding.uncounted, reader) if finding.uncounted else ""
    if total is None:
        return f"{start}: in how many ways it may look, and how many of them turning reaches, was not counted ({why})"
    if reached is None:
        return f"{start}: it may look in {read_number(total)} ways; how many of them turning reaches was not counted ({why})"
    ways = f"{start}: of {read_number(total)} ways in which the whole may look turning leads to"
    if not reached:
        return f"{ways} none"
    one_in = f", one in {total // reached}" if total % reached == 0 and total > reached else ""
    equal = "; all classes come out equally often, so what is seen says nothing either way" if finding.equal else ""
    return f"{ways} {read_number(reached)}{one_in}{equal}"


@says(partly.WiderShare)
def wider_words(finding: partly.WiderShare, reader: Reader = EXPLAINER) -> str:
    ways = read_number(finding.share.reached)
    return f"with these turns too, which this copy may not make, {ways} ways can be reached: {' '.join(finding.turns)}"


@says(View)
def view_words(view: View, reader: Reader = EXPLAINER) -> str:
    if view.corner:
        return f"one photograph from the corner where {listed(view.facets)} meet"
    return f"one photograph {whence(view.direction)}, that shows {listed(view.facets)}"


def whence(direction: Iterable[float]) -> str:
    """From where one looks along a unit vector to the middle, in words.

    >>> whence((0.6, 0.48, 0.64)), whence((0.0, 1.0, 0.0))
    ('from the front right, above', 'from straight above')
    """
    x, y, z = direction
    side = "front" if z > 0.15 else "back" if z < -0.15 else ""
    hand = "right" if x > 0.15 else "left" if x < -0.15 else ""
    level = "above" if y > 0.15 else "below" if y < -0.15 else ""
    where = " ".join(filter(None, (side, hand)))
    if not where:
        return f"from straight {level}"
    return f"from the {where}" + (f", {level}" if level else "")
