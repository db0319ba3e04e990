"""What a verdict takes for granted, what was found beside it, and what a half-seen puzzle leaves open, in words."""

from collections.abc import Iterable

from oddswap.reasoning import answers
from oddswap.reasoning.checking.check import TriedOtherwise
from oddswap.reasoning.verdicts import findings, partly
from oddswap.reasoning.verdicts.readings import ALIKE, APART, Reading
from oddswap.reasoning.verdicts.surprise import Surprise
from oddswap.reasoning.verdicts.views import View
from oddswap.values.grammar import capital, listed, number_word, ordinal, read_number, times_word
from oddswap.words.table import name_of, say, says
from oddswap.words.texts import TEXTS
from oddswap.words.verdicts import WORDINGS

NOT_COUNTED = TEXTS["not counted"]

CAME_ABOUT = TEXTS["came about"]
MEASURED = {APART: "shows a difference", ALIKE: "shows no difference"}
"""What measuring shows, by its code."""
STEPS_KNOWN = findings.ORDINARY, findings.OTHER_TURNS
"""The verdicts, beside that of lookalikes, with which turns from solved exist."""


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
def came_about_words(came: answers.CameAbout) -> str:
    """How it can have come about, a step after the other."""
    if came.verdict != findings.LOOKALIKE:
        unknown = came.moves is None and came.verdict in STEPS_KNOWN
        closed = f"; the box was closed by another way than it was opened: {say(came.closed)}" if came.closed else ""
        return CAME_ABOUT[came.verdict] + closed + ("; no such turns were found in the time that was given" if unknown else "")
    hidden = say(came.culprit) if came.culprit else "several pieces that look alike are in each other's places"
    placed = f"After the {came.stage}, {hidden}" if came.stage else capital(hidden)
    return (
        f"somebody solves it by sight. {placed}. They build the rest on that, as always, and at the end this is left. "
        "Nobody has taken anything apart"
    )


@says(findings.PuzzleAsTold)
def puzzle_words(assumed: findings.PuzzleAsTold) -> str:
    also = ", and every piece is in the kind of slot where it belongs" if assumed.kinds else ""
    return f"the puzzle is what the ticket says ({assumed.title}){also}"


@says(findings.OnceStraight)
def once_straight_words(finding: findings.OnceStraight) -> str:
    turns = " ".join((*finding.held.split(), *finding.turns))
    culprit = f"; one culprit would be that {say(finding.culprits[0])}" if finding.culprits else ""
    return f"once it is put straight by {turns}, {WORDINGS[finding.verdict].in_place}{culprit}"


@says(Surprise)
def surprise_words(surprise: Surprise) -> str:
    """How often it happens, or why that is not known."""
    if surprise.share is None:
        return f"how often this happens was not counted: {NOT_COUNTED[surprise.uncounted]}"
    times, of = surprise.share.numerator, surprise.share.denominator
    often = f"{number_word(times)} time{'s' * (times > 1)} in {number_word(of)}" if of > 1 else "every time"
    return f"whoever gets the rest right by sight meets this {often}"


@says(findings.ToMeasure)
def to_measure_words(pair: findings.ToMeasure) -> str:
    alike = f"{pair.one} looks the same when turned" if pair.one == pair.other else f"{pair.one} and {pair.other} are alike"
    return f"only measuring tells whether {alike}"


@says(Reading)
def reading_words(reading: Reading) -> str:
    """The verdict of one reading, with one of its culprits."""
    culprit = f"; one culprit would be that {say(reading.culprits[0])}" if reading.culprits else ""
    asked_anew = f"(ask anew with measured={reading.measured} behind the puzzle's name)"
    return f"if measuring {MEASURED[reading.measured]} {asked_anew}, {WORDINGS[reading.verdict].in_place}{culprit}"


@says(answers.ReadOtherwise)
def read_otherwise_words(finding: answers.ReadOtherwise) -> str:
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
def tried_otherwise_words(finding: TriedOtherwise) -> str:
    solves = "would solve it" if finding.solves else "would not solve it either"
    if finding.solved_as_read:
        solves = "would solve it, too" if finding.solves else "would not solve it"
    return f"{number_doubted(finding)}; then it is {finding.moves}, which {solves}"


@says(answers.SeenBefore)
def seen_before_words(finding: answers.SeenBefore) -> str:
    what = "the mirror image of this position" if finding.mirrored else "the same position"
    what += ", as far as both were seen" if finding.partly else ""
    what += ", if a likely slip of the description is mended" if finding.slipped else ""
    where = f"its page is {finding.page}" if finding.page else "it has no page yet"
    return f"seen before: {finding.ticket} is {what}, up to how the puzzle is held; {where}"


@says(partly.FewWholes)
def few_words(finding: partly.FewWholes) -> str:
    counted = listed(f"{number} {verdict}" for verdict, number in finding.verdicts)
    return f"what is told leaves {sum(n for _, n in finding.verdicts)} ways in which the whole may look: {counted}"


@says(partly.IfInPlace)
def in_place_words(finding: partly.IfInPlace) -> str:
    start = f"if everything that is unseen is in place{' as far as it can be' if finding.nearly else ''}"
    laws = f", because of the law of {listed(name_of(law) for law in finding.laws)}" if finding.laws else ""
    changes = "; ".join(say(change) for change in finding.changes)
    return f"{start}: {WORDINGS[finding.verdict].in_place}{laws}{f'; one culprit would be that {changes}' if changes else ''}"


@says(partly.IfOnlyTurned)
def only_turned_words(finding: partly.IfOnlyTurned) -> str:
    start, (total, reached) = "if everything that is unseen has only been turned", (finding.share.ways, finding.share.reached)
    why = say(finding.uncounted) if finding.uncounted else ""
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


@says(View)
def view_words(view: View) -> str:
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
