"""What was found, as whoever has the puzzle in their hands hears it: by colours and places, by no slot and no name of a face."""

from collections import Counter

from oddswap.puzzles.base.mechanism import DIRECTIONS
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.answers import HeldOtherwise, MadeByHand
from oddswap.reasoning.in_hand import said_from
from oddswap.reasoning.opening.outside import ChangedOutside
from oddswap.reasoning.verdicts import findings
from oddswap.reasoning.verdicts.exchanges import HiddenSwap, HiddenTurn
from oddswap.reasoning.verdicts.law_breaking import SmallestTurn, TurnsBreak
from oddswap.reasoning.verdicts.repairs import HandSwap, HandTurn, Repair
from oddswap.reasoning.verdicts.slips import Slip
from oddswap.reasoning.verdicts.views import View, ViewsSampled
from oddswap.reasoning.ways.findings import FillSlots
from oddswap.values.arrangement import Arrangement
from oddswap.values.grammar import listed, number_word
from oddswap.words.culprits import turn_words
from oddswap.words.half_seen import whence
from oddswap.words.reader import Reader
from oddswap.words.table import say
from oddswap.words.to_visitors.looked_again import slip_for_anybody
from oddswap.words.to_visitors.moves import LAYERS
from oddswap.words.to_visitors.places import family_words, piece_words, place_words

FOR_EXPLAINERS = (HeldOtherwise, TurnsBreak, SmallestTurn, ChangedOutside, ViewsSampled)
"""What a visitor has no use for: it speaks of how slots are named, of laws by their names, or of how we searched."""


def heard(puzzle: Puzzle, finding: object, reader: Reader, at: Arrangement | None = None) -> str:
    """Say a finding in the reader's colours and holding; empty for what is no use to a visitor.

    Pieces are looked for where they sit in the arrangement ``at``, where that is given.

    >>> from oddswap.puzzles.catalogue import load
    >>> from oddswap.words.reader import visitor
    >>> heard(load("cube:3"), HandTurn("UFR", "corners", 1, 3), visitor(load("cube:3")))
    'take out the top front right corner and put it back twisted clockwise'
    """
    if not reader.plain:
        return say(finding, reader)

    def place(slot: str) -> str:
        return place_words(puzzle, slot, reader.holding)

    def pieces(names: tuple[str, ...]) -> str:
        return piece_names(puzzle, names, reader, at)

    match finding:
        case Slip():
            return slip_for_anybody(puzzle, finding, reader)
        case findings.Culprit(changes=changes):
            return "; ".join(heard(puzzle, change, reader, at) for change in changes)
        case HiddenTurn(piece=piece, steps=steps, order=order):
            return f"{pieces((piece,))} is {' or '.join(turn_words(n, order) for n in steps)}, which does not show"
        case HiddenSwap():
            return f"{pieces(finding.pieces)} have changed places, and they look the same"
        case Repair(by_hand=changes):
            return " and ".join(heard(puzzle, change, reader) for change in changes)
        case HandTurn(slot, _, steps, order):
            return f"take out {place(slot)} and put it back {turn_words(steps, order)}"
        case HandSwap((here, there), family, steps, order):
            also = f", the one that comes to {place(there)} {turn_words(steps, order)}" if steps else ""
            return f"swap the {family_words(puzzle, family)} in the places of {place(here)} and {place(there)}{also}"
        case View():
            return _view_words(puzzle, finding, reader)
        case findings.SlotAsked(slot):
            return f"what you see at {place(slot)}" if slot in puzzle.slots else slot
        case findings.StrangeSight(slot):
            return f"{place(slot)} shows what no piece can show there: a sticker was moved, or a colour misread"
        case findings.SeenTooOften(names):
            return f"seen more often than the puzzle has it: {pieces(names)}"
        case findings.NotSeen(names):
            return f"seen nowhere: {pieces(names)}"
        case findings.WiderTurns(turns):
            others = said_from(puzzle, " ".join(turns), reader.holding)
            return f"these turns lead there too, and your copy may not make them: {others}"
        case MadeByHand():
            return "a hand did it: the turns of this copy do not lead there"
        case FillSlots(slots=slots, last=last):
            return f"fill the last {len(slots)} places together" if last else f"fill {listed(map(place, slots))}"
        case _ if isinstance(finding, FOR_EXPLAINERS):
            return ""
    return say(finding, reader)


def piece_names(puzzle: Puzzle, names: tuple[str, ...], reader: Reader, at: Arrangement | None = None) -> str:
    """Pieces as the visitor finds them on the puzzle; twins that are called alike are counted."""
    counts = Counter(piece_words(puzzle, name, reader, at) for name in names)
    return listed(words if count == 1 else f"{number_word(count)} of {words}s" for words, count in counts.items())


def sort_of_culprit(puzzle: Puzzle, culprit: findings.Culprit) -> str:
    """What sort of pieces a culprit is, where there are too many to name each."""
    words = [
        f"one of the {family_words(puzzle, change.family)}"
        if isinstance(change, HiddenTurn)
        else f"two of the {family_words(puzzle, change.family)} that look alike"
        for change in culprit.changes
    ]
    return listed(dict.fromkeys(words))


def _view_words(puzzle: Puzzle, view: View, reader: Reader) -> str:
    """From where to take a photograph, as the hands have it, and the sides that it shows."""
    sides = side_words(puzzle, view.facets, reader)
    if view.corner:
        return f"one photograph from the corner where {sides} meet"
    direction = (float(DIRECTIONS[reader.holding.own(face)] @ view.direction) for face in "RUF")
    return f"one photograph {whence(direction)}, that shows {sides}"


def side_words(puzzle: Puzzle, facets: tuple[str, ...], reader: Reader) -> str:
    """Sides by their colours; where they have none of their own by their places, else by the names that the visitor used."""
    if puzzle.rotations:
        return f"the {listed(LAYERS[reader.holding.hand(facet)] for facet in facets)} side{'s' if len(facets) > 1 else ''}"
    colours = dict.fromkeys(reader.colours.get(puzzle.geometry.paints[facet]) for facet in facets)
    if None in colours:
        return f"the sides that you called {listed(facets)}"
    return f"the {listed(colours)} side{'s' if len(colours) > 1 else ''}"
