"""Likely slips of a description in words."""

from oddswap.reasoning.verdicts import slips
from oddswap.words.reader import EXPLAINER, Reader
from oddswap.words.table import say, says, says_so

QUARTERS = ("", "a quarter turn clockwise", "a half turn", "a quarter turn anticlockwise")

says_so(
    {
        slips.PhotographsMirrored: "every photograph is mirrored, left for right",
        slips.FacesExchanged: "the faces {0.faces: and } are told for each other",
        slips.FaceMirrored: "the face {0.face} was read from right to left",
        slips.TwistMistold: "the piece at {0.slot} is turned the other way than was told",
    }
)


@says(slips.Slip)
def slip_words(slip: slips.Slip, reader: Reader = EXPLAINER) -> str:
    return say(slip.mistake, reader)


@says(slips.FaceTurned)
def face_turned_words(mistake: slips.FaceTurned, reader: Reader = EXPLAINER) -> str:
    return f"the face {mistake.face} was read turned by {QUARTERS[mistake.quarters]}"


@says(slips.OtherScheme)
def scheme_words(mistake: slips.OtherScheme, reader: Reader = EXPLAINER) -> str:
    return "this copy has another colour scheme: " + ", ".join(f"{a}'s colour where {b}'s is expected" for a, b in mistake.faces)


@says(slips.StickerMisread)
def misread_words(mistake: slips.StickerMisread, reader: Reader = EXPLAINER) -> str:
    return f"{say(mistake.sticker, reader)} was misread: it has {mistake.face}'s colour"


@says(slips.ColoursConfused)
def confused_words(mistake: slips.ColoursConfused, reader: Reader = EXPLAINER) -> str:
    (one, other), (a, b) = mistake.faces, mistake.stickers
    return f"{one}'s colour and {other}'s were confused: {say(a, reader)} and {say(b, reader)}"


@says(slips.Sticker)
def sticker_words(sticker: slips.Sticker, reader: Reader = EXPLAINER) -> str:
    return (
        f"the sticker of {sticker.slot} on {sticker.face}" if len(sticker.slot) > 1 else f"the middle sticker of {sticker.face}"
    )
