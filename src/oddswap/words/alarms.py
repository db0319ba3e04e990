"""The table of alarms in words: what each sort of anomaly is, what its verdict means, and the reason."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from oddswap.reasoning.laws.sectors import Law
from oddswap.reasoning.verdicts.alarms import Reason, Swapped, Turned
from oddswap.values.grammar import capital, listed, singular
from oddswap.words.table import name_of, say, says
from oddswap.words.texts import TEXTS

if TYPE_CHECKING:
    from oddswap.reasoning.opening.law_families import LawFamily

REASONS = TEXTS["reasons"]
"""Why an alarm has its verdict, by the code of the reason: what it is called, where it has a name, and what it is."""
HEADING = "What looks wrong, and is it?"
NOTE = "one entry for each class under the symmetries of the puzzle; alike counts the members of the class"
NONE = "Nothing of one or two pieces can look wrong on this puzzle."
EXAMPLE = "{} of this sort, such as {}"
"""How many alarms are of one sort, and one of them as it is shown."""
POSTER, POSTER_OF, MIND = "Can it happen?", "{}, by its own moves", "Count before you touch."
FOOT = f"{MIND} Never force a layer."
"""What stands on a poster of alarms: its title, of which puzzle, and what to mind, of one without layers and of a solid."""


def such_as(sort: str, changes: Sequence[str]) -> str:
    """A sort of alarm below its picture; where others of the sort have another verdict, with an example."""
    return capital(sort) + (f", such as {listed(changes)}" if changes else "")


@says(Reason)
def reason_words(reason: Reason) -> str:
    """Why a verdict is what it is, as a clause or as the statements of laws."""
    return ": ".join(filter(None, reason_parts(reason)))


@says(Turned)
def turned_words(sort: Turned) -> str:
    """Which pieces are turned, how far, and whether both the same way."""
    first, *others = (_how_far(sort.order, steps) for steps in sort.steps)
    if not others:
        return f"one {singular(sort.family)} {first}"
    two, (other,) = f"two {sort.family}", others
    if first != other:
        return f"{two} turned, one {first.removeprefix('turned ')}, one {other.removeprefix('turned ')}"
    if 2 * sort.steps[0] == sort.order:
        return f"{two} {first}"
    return f"{two} {first}, {'the same way' if sort.steps[0] == sort.steps[1] else 'opposite ways'}"


@says(Swapped)
def swapped_words(sort: Swapped) -> str:
    """Which two have changed places, and whether one of them is turned."""
    return f"two {sort.kind} swapped" + (f", one of them {_how_far(sort.order, sort.steps)}" if sort.steps else "")


def changes_words(family: LawFamily) -> str:
    """What a hand would change to come to a family of law classes; empty where that is nothing, or not known."""
    return listed(map(say, family.sorts)) if family.sorts else ""


def _how_far(order: int, steps: int) -> str:
    if 2 * steps == order:
        return "flipped" if order == 2 else "turned half"
    return {3: "twisted", 4: "turned a quarter"}.get(order, f"turned {min(steps, order - steps)} of {order}")


def reason_parts(reason: Reason) -> tuple[str, str]:
    """What a reason is called, empty where it has no name, and what it is."""
    parts = {"families": reason.families, "sectors": map(name_of, reason.sectors), "laws": map(name_of, reason.laws)}
    lists = {key: listed(words or [""]) for key, words in ((key, tuple(words)) for key, words in parts.items())}
    own = {"held": reason.held or "a quarter", "note": reason.note and say(reason.note)}
    name, words = REASONS[reason.code]
    return name, words.format(statements=law_statements(reason.laws), **own, **lists).removesuffix(". ")


def law_statements(laws: Iterable[Law]) -> str:
    """The statements of laws, one after another."""
    return " ".join(map(say, laws))
