"""Pieces that are not what they seem, and what a hand would do to them, in words."""

from oddswap.reasoning.verdicts.exchanges import HiddenSwap, HiddenTurn
from oddswap.reasoning.verdicts.findings import Culprit
from oddswap.reasoning.verdicts.repairs import HandSwap, HandTurn, Repair
from oddswap.values.grammar import listed, singular
from oddswap.words.reader import EXPLAINER, Reader
from oddswap.words.table import says, says_so

CAUTIONS = (
    "Check the description again first: a slip of the pen is likelier than a misplaced piece.",
    "Ask the owner before you open anything, and follow the venue's own rules first.",
    "Never force a layer that sticks.",
    "Mind your eyes: springs, magnets and caps can fly off. Small parts stay away from small children.",
)


says_so({Culprit: "{0.changes:; }", Repair: "{0.by_hand: and }"})


@says(HiddenTurn)
def hidden_turn_words(change: HiddenTurn, reader: Reader = EXPLAINER) -> str:
    turned = " or ".join(turn_words(steps, change.order) for steps in change.steps)
    return f"the {change.piece} {singular(change.family)} is {turned}, which does not show"


@says(HiddenSwap)
def hidden_swap_words(change: HiddenSwap, reader: Reader = EXPLAINER) -> str:
    names = listed(f"the {piece} {singular(change.family)}" for piece in change.pieces)
    return f"{names} have changed places, and they look the same"


def hidden_change(change: HiddenTurn | HiddenSwap) -> str:
    """A hidden change by name, where it was described before.

    >>> hidden_change(HiddenTurn("FR", "edges", (1,), 2)), hidden_change(HiddenSwap(("FL", "BR"), "edges"))
    ('the FR edge', 'the swap of the FL and BR edges')
    """
    if isinstance(change, HiddenTurn):
        return f"the {change.piece} {singular(change.family)}"
    return f"the swap of the {listed(change.pieces)} {change.family}"


@says(HandTurn)
def hand_turn_words(change: HandTurn, reader: Reader = EXPLAINER) -> str:
    turned = turn_words(change.steps, change.order)
    return f"take out the {singular(change.family)} at {change.slot} and put it back {turned}"


@says(HandSwap)
def hand_swap_words(change: HandSwap, reader: Reader = EXPLAINER) -> str:
    here, there = change.slots
    also = f", the one that comes to {there} {turn_words(change.steps, change.order)}" if change.steps else ""
    return f"exchange the {singular(change.family)}s at {here} and {there}{also}"


def as_well_words(repair: Repair) -> str:
    """Which other single changes do as well, by kind."""
    words = [f"any {'one' if number == 1 else 'two'} of the {family}" for number, family in repair.as_well]
    return f"{' or '.join(words) or 'other pieces of the same kinds'} would do as well: the turns do the rest"


def cautions(repair: Repair) -> tuple[str, ...]:
    """What to mind before any repair by hand."""
    return CAUTIONS


def turn_words(steps: int, order: int) -> str:
    """How far a piece is turned in its place, as seen from outside.

    >>> turn_words(1, 2), turn_words(2, 3), turn_words(2, 4)
    ('flipped', 'twisted anticlockwise', 'half turned')
    """
    steps %= order
    if 2 * steps == order:
        return "flipped" if order == 2 else "half turned"
    word = "twisted" if order == 3 else "turned" if order == 4 else f"turned by {min(steps, order - steps)} of {order}"
    return f"{word} {'clockwise' if 2 * steps < order else 'anticlockwise'}"
