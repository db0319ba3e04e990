"""The edition as a single file to hand on: all its pages as data, and a frame that shows one after the other."""

from base64 import b64encode
from collections.abc import Mapping
from pathlib import PurePosixPath

from oddswap.showing.pages.template import fill_template, script_data

PICTURES = {".png": "image/png", ".webp": "image/webp", ".svg": "image/svg+xml", ".gif": "image/gif"}


def single_page(files: Mapping[str, bytes]) -> str:
    """One page of HTML with all the files of an edition, by their names in its folder.

    >>> "Hello" in single_page({"index.html": b"<p>Hello"})
    True
    """
    held = {name: _told(PurePosixPath(name).suffix, data) for name, data in files.items()}
    return fill_template(__file__, "single.html", files=script_data(held))


def _told(suffix: str, data: bytes) -> str:
    """A text as it is, and a picture as an address that holds it."""
    if suffix in PICTURES:
        return f"data:{PICTURES[suffix]};base64,{b64encode(data).decode('ascii')}"
    return data.decode("utf-8")
