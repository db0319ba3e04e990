"""Pieces that are not what they seem, what a hand would do to them, and likely slips of a description, in words."""

from oddswap.puzzles.solids.cutting import TOP
from oddswap.reasoning.verdicts import slips
from oddswap.reasoning.verdicts.exchanges import HiddenSwap, HiddenTurn
from oddswap.reasoning.verdicts.repairs import HandSwap, HandTurn, Repair
from oddswap.values.grammar import listed, number_word, singular
from oddswap.values.position import START, Holding
from oddswap.values.sequence import FACES
from oddswap.words.table import says
from oddswap.words.texts import TEXTS

CAUTIONS = tuple(TEXTS["cautions"])


QUARTERS = ("", "a quarter turn clockwise", "a half turn", "a quarter turn anticlockwise")


@says(HiddenTurn)
def hidden_turn_words(change: HiddenTurn) -> str:
    turned = " or ".join(turn_words(steps, change.order) for steps in change.steps)
    return f"the {change.piece} {singular(change.family)} is {turned}, which does not show"


@says(HiddenSwap)
def hidden_swap_words(change: HiddenSwap) -> str:
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
def hand_turn_words(change: HandTurn) -> str:
    turned = turn_words(change.steps, change.order)
    return f"take out the {singular(change.family)} at {change.slot} and put it back {turned}"


@says(HandSwap)
def hand_swap_words(change: HandSwap) -> str:
    return f"{moved_by_hand(f'{change.family} at {listed(change.slots)}', change)}{turned_too(change, change.slots[1])}"


def moved_by_hand(what: str, change: HandSwap) -> str:
    """Pieces that swap, or that go round where they are more than two."""
    return (
        f"swap the {what}" if len(change.slots) == 2 else f"move the {what} round, each to the next place, the last to the first"
    )


def turned_too(change: HandSwap, there: str) -> str:
    """How the piece that comes to the second place is turned, if it is."""
    return f", the one that comes to {there} {turn_words(change.steps, change.order)}" if change.steps else ""


def as_well_words(repair: Repair) -> str:
    """Which other single changes do as well, by kind."""
    words = [f"any {'one' if number == 1 else 'two'} of the {family}" for number, family in repair.as_well]
    others = f"{' or '.join(words)} would" if words else "other pieces of the same kinds may"
    touched = {slot for change in repair.by_hand for slot in getattr(change, "slots", None) or (change.slot,)}
    fewer = f"; fewer than {number_word(len(touched))} pieces are not enough" if len(touched) > 2 else ""
    return f"{others} do as well: the turns do the rest{fewer}"


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


@says(slips.EachFaceMirrored)
def each_face_words(mistake: slips.EachFaceMirrored) -> str:
    who = "every face was" if mistake.faces == FACES else f"the faces {listed(mistake.faces)} were each"
    return f"{who} read {each_mirrored_words(mistake, START)}"


def each_mirrored_words(mistake: slips.EachFaceMirrored, holding: Holding) -> str:
    """Say how several faces were read, as they are held."""
    match [axis_by_hand(axis, holding) for axis in mistake.axes]:
        case "x", "z":
            return "from right to left, as a mirroring camera shows it"
        case "y", "z":
            return "from the bottom row up"
    return "mirrored"


def mirrored_words(mistake: slips.FaceMirrored, holding: Holding) -> str:
    """Say how a face was read, as it is held."""
    hand = holding.hand(mistake.face)
    upside_down = axis_by_hand(mistake.axis, holding) == slips.axis_of(TOP[hand])
    return "from the bottom row up" if upside_down else "from right to left"


def axis_by_hand(axis: str, holding: Holding) -> str:
    """The axis of the hands along which an axis of the puzzle's own lies."""
    return slips.axis_of(next(hand for hand, own in zip(FACES, holding.faces, strict=True) if slips.axis_of(own) == axis))


@says(slips.FaceMirrored)
def face_mirrored_words(mistake: slips.FaceMirrored) -> str:
    return f"the face {mistake.face} was read {mirrored_words(mistake, START)}"


@says(slips.FaceTurned)
def face_turned_words(mistake: slips.FaceTurned) -> str:
    return f"the face {mistake.face} was read turned by {QUARTERS[mistake.quarters]}"


@says(slips.OtherScheme)
def scheme_words(mistake: slips.OtherScheme) -> str:
    return "this copy has another colour scheme: " + ", ".join(f"{a}'s colour where {b}'s is expected" for a, b in mistake.faces)


@says(slips.Sticker)
def sticker_words(sticker: slips.Sticker) -> str:
    return (
        f"the sticker of {sticker.slot} on {sticker.face}" if len(sticker.slot) > 1 else f"the middle sticker of {sticker.face}"
    )
