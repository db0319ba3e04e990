"""What a half-seen puzzle leaves open, and what to look at next, in words."""

from collections.abc import Iterable

from oddswap.reasoning.verdicts import partly
from oddswap.reasoning.verdicts.assignments import CountingEnded, TooManyStates
from oddswap.reasoning.verdicts.counting import ClassesUnnamed, TooManyClasses, TooManyToTry
from oddswap.reasoning.verdicts.counting_held import HoldingsMixed
from oddswap.reasoning.verdicts.views import View, ViewsSampled
from oddswap.values.grammar import listed, read_number
from oddswap.words.reader import EXPLAINER, Reader
from oddswap.words.table import name_of, say, says, says_so
from oddswap.words.verdicts import WORDINGS

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
