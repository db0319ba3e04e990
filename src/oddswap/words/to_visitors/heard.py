"""What was found, and what may have slipped, as whoever holds the puzzle hears it: by colours and places, by no slot."""

from collections import Counter
from dataclasses import replace
from types import MappingProxyType

from oddswap.puzzles.base.mechanism import DIRECTIONS
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.answers import HeldOtherwise, MadeByHand
from oddswap.reasoning.in_hand import said_from
from oddswap.reasoning.opening.outside import ChangedOutside
from oddswap.reasoning.verdicts import findings, slips
from oddswap.reasoning.verdicts.exchanges import HiddenSwap, HiddenTurn
from oddswap.reasoning.verdicts.first_looks import SmallestTurn, TurnsBreak
from oddswap.reasoning.verdicts.repairs import HandSwap, HandTurn, Repair
from oddswap.reasoning.verdicts.slips import Slip
from oddswap.reasoning.verdicts.views import View, ViewsSampled
from oddswap.reasoning.ways.findings import FillSlots
from oddswap.values.grammar import listed, number_word
from oddswap.values.position import Arrangement, Holding
from oddswap.values.sequence import FACES
from oddswap.words.culprits import QUARTERS, each_mirrored_words, mirrored_words, moved_by_hand, turn_words, turned_too
from oddswap.words.findings import whence
from oddswap.words.table import Reader, say
from oddswap.words.to_visitors.moves import LAYERS, SIDES
from oddswap.words.to_visitors.places import family_words, piece_words, place_words

FOR_EXPLAINERS = (HeldOtherwise, TurnsBreak, SmallestTurn, ChangedOutside, ViewsSampled)
"""What a visitor has no use for: it speaks of how slots are named, of laws by their names, or of how we searched."""


def heard(puzzle: Puzzle, finding: object, reader: Reader, at: Arrangement | None = None) -> str:
    """Say a finding in the reader's colours and holding; empty for what is no use to a visitor.

    Pieces are looked for where they sit in the arrangement ``at``, where that is given.

    >>> from oddswap.puzzles.catalogue import load
    >>> from oddswap.words.table import visitor
    >>> heard(load("cube:3"), HandTurn("UFR", "corners", 1, 3), visitor(load("cube:3")))
    'take out the top front right corner and put it back twisted clockwise'
    """
    if not reader.plain:
        return say(finding)

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
        case HandSwap(slots, family):
            what = f"{family_words(puzzle, family)} in the places of {listed(map(place, slots))}"
            return f"{moved_by_hand(what, finding)}{turned_too(finding, place(slots[1]))}"
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
    return say(finding)


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
    if puzzle.rotations and set(facets) <= set(FACES):
        return f"the {listed(LAYERS[reader.holding.hand(facet)] for facet in facets)} side{'s' if len(facets) > 1 else ''}"
    colours = dict.fromkeys(reader.colours.get(puzzle.geometry.paints[facet]) for facet in facets)
    if None in colours:
        return f"the sides that you called {listed(facets)}"
    return f"the {listed(colours)} side{'s' if len(colours) > 1 else ''}"


def reader_if(puzzle: Puzzle, slip: slips.Slip, reader: Reader) -> Reader:
    """The reader as they hold the puzzle and see its colours, if they made that slip."""
    own, colours = puzzle.settled(slip.held)[1].own, dict(reader.colours)
    if isinstance(slip.mistake, slips.OtherScheme):
        colours |= {b: reader.colours[a] for a, b in slip.mistake.faces if a in reader.colours}
    return replace(reader, colours=MappingProxyType(colours), holding=Holding(tuple(map(own, reader.holding.faces))))


def slip_for_anybody(puzzle: Puzzle, slip: slips.Slip, reader: Reader) -> str:
    """Say what may have slipped, without a capital letter.

    >>> from oddswap.puzzles.catalogue import load
    >>> from oddswap.words.table import visitor
    >>> cube = load("cube:3")
    >>> slip = slips.Slip(slips.FacesExchanged(("U", "F")), cube.appearance(cube.solved), middles={"U": "U", "F": "F"})
    >>> slip_for_anybody(cube, slip, visitor(cube, {"U": "white", "F": "red"}))
    'the white side and the red side were told for each other'
    """
    seen = reader_if(puzzle, slip, reader)

    def side(face: str) -> str:
        middle = slip.middles.get(face)
        if middle is None:
            return f"{SIDES[reader.holding.hand(face)]} side"
        return f"the {seen.colours[middle]} side" if middle in seen.colours else f"the side that you called {middle}"

    def colour(paint: str) -> str:
        return seen.colours.get(paint, f"the colour that you called {paint}")

    def place(slot: str) -> str:
        return place_words(puzzle, slot, reader.holding)

    def sticker(at: slips.Sticker) -> str:
        if len(at.slot) == 1:
            return f"the middle of {SIDES[reader.holding.hand(at.face)]} side"
        return f"the sticker of {place(at.slot)} on {side(at.face)}"

    match slip.mistake:
        case slips.FacesExchanged(faces):
            return f"{' and '.join(map(side, faces))} were told for each other"
        case slips.FaceTurned(face, quarters):
            return f"{side(face)} was read turned by {QUARTERS[quarters]}"
        case slips.EachFaceMirrored(faces=faces) as mistake:
            who = "every face was" if faces == FACES else f"{listed(map(side, faces))} were each"
            return f"{who} read {each_mirrored_words(mistake, reader.holding)}"
        case slips.FaceMirrored(face) as mistake:
            return f"{side(face)} was read {mirrored_words(mistake, reader.holding)}"
        case slips.OtherScheme(faces):
            return "your copy has " + ", ".join(f"{colour(b)} where you expected {reader.colours.get(b, b)}" for _, b in faces)
        case slips.StickerMisread(at, face):
            return f"{sticker(at)} is {colour(face)}"
        case slips.ColoursConfused((one, other), (a, b)):
            same = len(a.slot) > 1 < len(b.slot) and side(a.face) == side(b.face)
            at = f"{side(a.face)} of {place(a.slot)} and of {place(b.slot)}" if same else f"{sticker(a)} and {sticker(b)}"
            return f"{colour(one)} and {colour(other)} were confused, on {at}"
        case slips.TwistMistold(slot):
            return f"{place(slot)} is twisted the other way"
    return say(slip)
