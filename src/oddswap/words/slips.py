"""Likely slips of a description in words."""

from oddswap.reasoning.verdicts import slips
from oddswap.words.reader import EXPLAINER, Reader
from oddswap.words.table import says, says_so

QUARTERS = ("", "a quarter turn clockwise", "a half turn", "a quarter turn anticlockwise")

says_so(
    {
        slips.PhotographsMirrored: "every photograph is mirrored, left for right",
        slips.FacesExchanged: "the faces {0.faces: and } are told for each other",
        slips.FaceMirrored: "the face {0.face} was read from right to left",
        slips.ColoursConfused: "{0.faces[0]}'s colour and {0.faces[1]}'s were confused: {0.stickers: and }",
        slips.Slip: "{0.mistake}",
        slips.StickerMisread: "{0.sticker} was misread: it has {0.face}'s colour",
        slips.TwistMistold: "the piece at {0.slot} is turned the other way than was told",
    }
)


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
