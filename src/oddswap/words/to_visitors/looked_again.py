"""Likely slips of a description, asked of whoever wrote it: in their colours, as they hold the puzzle."""

from dataclasses import replace
from types import MappingProxyType

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.verdicts import slips
from oddswap.values.alphabet import FACES
from oddswap.values.grammar import listed
from oddswap.values.holding import Holding
from oddswap.words.reader import Reader
from oddswap.words.slips import QUARTERS, each_mirrored_words, mirrored_words
from oddswap.words.table import say
from oddswap.words.to_visitors.moves import SIDES
from oddswap.words.to_visitors.places import place_words


def reader_if(puzzle: Puzzle, slip: slips.Slip, reader: Reader) -> Reader:
    """The reader as they hold the puzzle and see its colours, if they made that slip."""
    own, colours = puzzle.settled(slip.held)[1].own, dict(reader.colours)
    if isinstance(slip.mistake, slips.OtherScheme):
        colours |= {b: reader.colours[a] for a, b in slip.mistake.faces if a in reader.colours}
    return replace(reader, colours=MappingProxyType(colours), holding=Holding(tuple(map(own, reader.holding.faces))))


def slip_for_anybody(puzzle: Puzzle, slip: slips.Slip, reader: Reader) -> str:
    """Say what may have slipped, without a capital letter.

    >>> from oddswap.puzzles.catalogue import load
    >>> from oddswap.words.reader import visitor
    >>> cube = load("cube:3")
    >>> slip = slips.Slip(slips.FacesExchanged(("U", "F")), cube.appearance(cube.solved), middles={"U": "U", "F": "F"})
    >>> slip_for_anybody(cube, slip, visitor(cube, {"U": "white", "F": "red"}))
    'the white side and the red side were told for each other'
    """
    seen = reader_if(puzzle, slip, reader)

    def side(face: str) -> str:
        middle = slip.middles.get(face)
        if middle is None:
            return f"{_by_hand(face, reader)} side"
        return f"the {seen.colours[middle]} side" if middle in seen.colours else f"the side that you called {middle}"

    def colour(paint: str) -> str:
        return seen.colours.get(paint, f"the colour that you called {paint}")

    def place(slot: str) -> str:
        return place_words(puzzle, slot, reader.holding)

    def sticker(at: slips.Sticker) -> str:
        if len(at.slot) == 1:
            return f"the middle of {_by_hand(at.face, reader)} side"
        return f"the sticker of {place(at.slot)} on {side(at.face)}"

    match slip.mistake:
        case slips.FacesExchanged(faces):
            return f"{' and '.join(map(side, faces))} were told for each other"
        case slips.FaceTurned(face, quarters):
            return f"{side(face)} was read turned by {QUARTERS[quarters]}"
        case slips.EachFaceMirrored(faces=faces) as mistake if faces != FACES:
            return f"{listed(map(side, faces))} were each read {each_mirrored_words(mistake, reader.holding)}"
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
    return say(slip, reader)


def _by_hand(face: str, reader: Reader) -> str:
    return SIDES[reader.holding.hand(face)]
