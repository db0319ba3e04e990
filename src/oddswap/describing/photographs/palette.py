"""How a colour that a visitor named may look as a sticker."""

import re
from functools import cache

import numpy as np

from oddswap.describing.photographs.measured import LIGHT
from oddswap.errors import BadPhotograph, quoted

DULL = 0.1
"""The part of white light that every sticker sends back, whatever its word."""


@cache
def look_of(word: str) -> str:
    """The ``#rrggbb`` of a colour's word, or of the last word in it that is one. `BadPhotograph`."""
    from PIL.ImageColor import getrgb

    for part in (word, *reversed(re.findall(r"[a-z]+", word.lower()))):
        try:
            return "#" + bytes(getrgb(part)[:3]).hex()
        except ValueError:
            continue
    raise BadPhotograph(
        f"[colours] {quoted(word)}: how that looks is not known: write a colour's name in CSS, or such as #f2e6c8"
    )


def logs_of(look: str) -> np.ndarray:
    """How a sticker of this ``#rrggbb`` may look, in logarithms of linear light: no dye takes all of a light away."""
    light = LIGHT[[int(look[k : k + 2], 16) for k in (1, 3, 5)]]
    return np.log(light * (1 - DULL) + DULL)
