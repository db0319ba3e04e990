"""Likely slips of a description in words."""

from oddswap.puzzles.solids.cutting import TOP
from oddswap.reasoning.verdicts import slips
from oddswap.values.alphabet import FACES
from oddswap.values.grammar import listed
from oddswap.values.holding import Holding
from oddswap.words.reader import EXPLAINER, Reader
from oddswap.words.table import says, says_so

QUARTERS = ("", "a quarter turn clockwise", "a half turn", "a quarter turn anticlockwise")

says_so(
    {
        slips.PhotographsMirrored: "every photograph is mirrored, left for right",
        slips.FacesExchanged: "the faces {0.faces: and } are told for each other",
        slips.ColoursConfused: "{0.faces[0]}'s colour and {0.faces[1]}'s were confused: {0.stickers: and }",
        slips.Slip: "{0.mistake}",
        slips.StickerMisread: "{0.sticker} was misread: it has {0.face}'s colour",
        slips.TwistMistold: "the piece at {0.slot} is turned the other way than was told",
    }
)


@says(slips.EachFaceMirrored)
def each_face_words(mistake: slips.EachFaceMirrored, reader: Reader = EXPLAINER) -> str:
    who = "every face was" if mistake.faces == FACES else f"the faces {listed(mistake.faces)} were each"
    return f"{who} read {each_mirrored_words(mistake, reader.holding)}"


def each_mirrored_words(mistake: slips.EachFaceMirrored, holding: Holding) -> str:
    """Say how several faces were read, as they are held."""
    match [axis_by_hand(axis, holding) for axis in mistake.axes]:
        case "x", "z":
            return "from right to left, as a mirroring camera shows it"
        case "y", "z":
            return "from the bottom row up"
    return "mirrored"


@says(slips.FaceMirrored)
def face_mirrored_words(mistake: slips.FaceMirrored, reader: Reader = EXPLAINER) -> str:
    return f"the face {mistake.face} was read {mirrored_words(mistake, reader.holding)}"


def mirrored_words(mistake: slips.FaceMirrored, holding: Holding) -> str:
    """Say how a face was read, as it is held."""
    hand = holding.hand(mistake.face)
    upside_down = axis_by_hand(mistake.axis, holding) == slips.axis_of(TOP[hand])
    return "from the bottom row up" if upside_down else "from right to left"


def axis_by_hand(axis: str, holding: Holding) -> str:
    """The axis of the hands along which an axis of the puzzle's own lies."""
    return slips.axis_of(next(hand for hand, own in zip(FACES, holding.faces, strict=True) if slips.axis_of(own) == axis))


@says(slips.FaceTurned)
def face_turned_words(mistake: slips.FaceTurned, reader: Reader = EXPLAINER) -> str:
    return f"the face {mistake.face} was read turned by {QUARTERS[mistake.quarters]}"


@says(slips.OtherScheme)
def scheme_words(mistake: slips.OtherScheme, reader: Reader = EXPLAINER) -> str:
    return "this copy has another colour scheme: " + ", ".join(f"{a}'s colour where {b}'s is expected" for a, b in mistake.faces)


@says(slips.Sticker)
def sticker_words(sticker: slips.Sticker, reader: Reader = EXPLAINER) -> str:
    return (
        f"the sticker of {sticker.slot} on {sticker.face}" if len(sticker.slot) > 1 else f"the middle sticker of {sticker.face}"
    )
