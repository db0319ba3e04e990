"""A picture's file as pixels, turned upright as its EXIF says, of which nothing else is kept; what is no picture is refused."""

import warnings
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path

import numpy as np

from oddswap.errors import BadPhotograph, quoted
from oddswap.values.text_file import read_bytes

LARGEST = 30_000_000
"""Bytes of a picture's file, at most."""
PIXELS = {"JPEG": 60_000_000, "PNG": 25_000_000, "WEBP": 25_000_000}
"""Pixels by format, at most: so much takes 0.4 GB while it is opened; a JPEG is opened small."""
SIDE = 1600
"""Pixels of the longer side that are kept; more show no more of a sticker."""


@dataclass(frozen=True, eq=False)
class Picture:
    """``pixels`` (height, width, 3), bytes in sRGB, upright; each stands for ``scale`` pixels of the file."""

    pixels: np.ndarray
    scale: float


def open_picture(path: Path) -> Picture:
    """The picture in a file. `BadPhotograph`."""
    try:
        data = read_bytes(path, LARGEST)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or error
        raise BadPhotograph(f"{quoted(path.name)} cannot be read ({reason}): name a picture in the ticket's folder") from None
    return read_picture(data, path.name)


def read_picture(data: bytes, name: str = "the picture") -> Picture:
    """The picture that these bytes are, as JPEG, PNG or WebP. `BadPhotograph`."""
    from PIL import Image, ImageOps

    if len(data) > LARGEST:
        raise BadPhotograph(f"{quoted(name)} is larger than {LARGEST // 1_000_000} MB: save it smaller")
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            image = Image.open(BytesIO(data), formats=tuple(PIXELS))
    except Image.DecompressionBombError:
        raise BadPhotograph(_too_large(name, "JPEG")) from None
    except Exception:  # decoders raise whatever a damaged file leads them to
        raise BadPhotograph(f"{quoted(name)} is no picture as {', '.join(PIXELS)}: save it as one of these") from None
    width, height = image.size
    if width * height > PIXELS[image.format]:
        raise BadPhotograph(_too_large(name, image.format))
    try:
        image.draft("RGB", (SIDE, SIDE))
        image = image if image.mode == "RGB" else image.convert("RGB")
        image.thumbnail((SIDE, SIDE), Image.Resampling.BOX)
        image = ImageOps.exif_transpose(image)
    except Exception:  # as above
        raise BadPhotograph(f"{quoted(name)} is damaged: save or send it once more") from None
    return Picture(np.asarray(image), max(width, height) / max(image.size))


def _too_large(name: str, form: str) -> str:
    return f"{quoted(name)} has more than {PIXELS[form] // 1_000_000} million pixels: save it smaller"
