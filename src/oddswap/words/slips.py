"""Likely slips of a description in words."""

from __future__ import annotations

from oddswap.reasoning.verdicts.slips import (
    ColoursConfused,
    FaceMirrored,
    FacesExchanged,
    FaceTurned,
    OtherScheme,
    PhotographsMirrored,
    Slip,
    Sticker,
    StickerMisread,
    TwistMistold,
)
from oddswap.words.reader import EXPLAINER, Reader
from oddswap.words.table import say, says, says_so

QUARTERS = ("", "a quarter turn clockwise", "a half turn", "a quarter turn anticlockwise")

says_so(
    {
        PhotographsMirrored: "every photograph is mirrored, left for right",
        FacesExchanged: "the faces {0.faces[0]} and {0.faces[1]} are told for each other",
        FaceMirrored: "the face {0.face} was read from right to left",
        TwistMistold: "the piece at {0.slot} is turned the other way than was told",
    }
)


@says(Slip)
def slip_words(slip: Slip, reader: Reader = EXPLAINER) -> str:
    return say(slip.mistake, reader)


@says(FaceTurned)
def face_turned_words(mistake: FaceTurned, reader: Reader = EXPLAINER) -> str:
    return f"the face {mistake.face} was read turned by {QUARTERS[mistake.quarters]}"


@says(OtherScheme)
def scheme_words(mistake: OtherScheme, reader: Reader = EXPLAINER) -> str:
    return "this copy has another colour scheme: " + ", ".join(f"{a}'s colour where {b}'s is expected" for a, b in mistake.faces)


@says(StickerMisread)
def misread_words(mistake: StickerMisread, reader: Reader = EXPLAINER) -> str:
    return f"{say(mistake.sticker, reader)} was misread: it has {mistake.face}'s colour"


@says(ColoursConfused)
def confused_words(mistake: ColoursConfused, reader: Reader = EXPLAINER) -> str:
    (one, other), (a, b) = mistake.faces, mistake.stickers
    return f"{one}'s colour and {other}'s were confused: {say(a, reader)} and {say(b, reader)}"


@says(Sticker)
def sticker_words(sticker: Sticker, reader: Reader = EXPLAINER) -> str:
    return (
        f"the sticker of {sticker.slot} on {sticker.face}" if len(sticker.slot) > 1 else f"the middle sticker of {sticker.face}"
    )
