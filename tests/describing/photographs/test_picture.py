"""Pictures' files: three formats, turned upright, with limits; what is no picture is refused in one sentence."""

import io
import struct
import zlib

import numpy as np
import pytest
from PIL import Image

from oddswap.describing.photographs.picture import LARGEST, open_picture, read_picture
from oddswap.errors import BadPhotograph


def saved(image, form, **how) -> bytes:
    file = io.BytesIO()
    image.save(file, form, **how)
    return file.getvalue()


def halves(width=60, height=40):
    image = Image.new("RGB", (width, height), "red")
    image.paste("blue", (0, 0, width // 2, height))
    return image


@pytest.mark.parametrize("form", ["JPEG", "PNG", "WEBP"])
def test_three_formats_are_read(form):
    picture = read_picture(saved(halves(), form))
    assert picture.pixels.shape == (40, 60, 3) and picture.scale == 1
    assert picture.pixels[20, 10, 2] > 200 > 60 > picture.pixels[20, 10, 0]


@pytest.mark.parametrize("mode", ["L", "P", "RGBA", "LA", "1", "CMYK", "I;16"])
def test_every_sort_of_pixel_is_read(mode):
    image = Image.new("RGB", (30, 20), "white").convert("L" if mode == "I;16" else mode)
    form = "JPEG" if mode == "CMYK" else "PNG"
    assert read_picture(saved(image.convert("I;16") if mode == "I;16" else image, form)).pixels.shape == (20, 30, 3)


def test_it_is_turned_upright_as_its_exif_says():
    """Tag 0x0112 of EXIF (CIPA DC-008): 6 means that the first row is the right-hand side."""
    exif = Image.Exif()
    exif[0x0112], exif[0x010F] = 6, "a maker"
    picture = read_picture(saved(halves(), "JPEG", exif=exif))
    assert picture.pixels.shape == (60, 40, 3)
    assert picture.pixels[10, 20, 2] > 200 > picture.pixels[50, 20, 2]  # its left half, blue, is on top now


def test_a_large_one_is_made_smaller_and_says_so():
    picture = read_picture(saved(Image.new("RGB", (6400, 1000)), "PNG"))
    assert picture.pixels.shape == (250, 1600, 3) and picture.scale == 4


def bomb(width, height) -> bytes:
    """A PNG that says how large it is, and has no pixels."""
    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    chunks = [(b"IHDR", head), (b"IDAT", zlib.compress(b"")), (b"IEND", b"")]
    packed = (struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data)) for name, data in chunks)
    return b"\x89PNG\r\n\x1a\n" + b"".join(packed)


WHOLE = saved(halves(600, 400), "JPEG")
BAD = {
    "a text": (b"puzzle = 'cube:3'", "is no picture"),
    "nothing": (b"", "is no picture"),
    "another format": (saved(halves(), "GIF"), "is no picture as JPEG, PNG, WEBP"),
    "half a file": (WHOLE[: len(WHOLE) * 95 // 100], "is damaged"),
    "too many pixels": (bomb(9000, 9000), "million pixels"),
    "far too many": (bomb(60_000, 60_000), "million pixels"),
    "too many bytes": (b"\xff" * (LARGEST + 1), "larger than 30 MB"),
    "no pixels": (bomb(50, 50), "is damaged"),
}


@pytest.mark.parametrize("case", BAD)
def test_what_is_no_picture_is_refused(case):
    data, said = BAD[case]
    with pytest.raises(BadPhotograph, match=said) as caught:
        read_picture(data)
    assert "\n" not in str(caught.value)


def test_noise_never_does_anything_else():
    draw = np.random.default_rng(1)
    for form in ("JPEG", "PNG", "WEBP"):
        whole = bytearray(saved(halves(), form))
        for _ in range(60):
            spoilt = bytearray(whole)
            for at in draw.integers(0, len(spoilt), 4):
                spoilt[at] = draw.integers(0, 256)
            try:
                assert read_picture(bytes(spoilt)).pixels.ndim == 3
            except BadPhotograph:
                pass


@pytest.mark.parametrize("name", [".", "missing.jpg"])
def test_what_cannot_be_opened_is_refused(name, tmp_path):
    with pytest.raises(BadPhotograph, match="cannot be read"):
        open_picture(tmp_path / name)
