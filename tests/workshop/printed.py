"""Printed pages as a reader has them: each run of text with its place and size, and pages in grey."""

from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np
import pypdfium2
from pypdf import PdfReader


@dataclass(frozen=True)
class Run:
    """A run of text, the middle of which lies at ``x, y`` points from the lower left corner, in ``size`` points."""

    text: str
    x: float
    y: float
    size: float


@cache
def pages(path: Path) -> list[str]:
    """The words of each page, on one line."""
    return [" ".join(page.extract_text().split()) for page in PdfReader(path).pages]


@cache
def runs(path: Path, number: int) -> list[Run]:
    found: list[Run] = []

    def visit(text, cm, tm, font, size):
        if text.strip():
            points = size * float(np.hypot(tm[0], tm[1]))
            text = text.strip()
            x, y = (tm[4] * cm[i] + tm[5] * cm[i + 2] + cm[i + 4] for i in (0, 1))
            found.append(Run(text, x + (0.33 if len(text) < 4 else 0.275) * points * len(text), y + 0.36 * points, points))

    PdfReader(path).pages[number].extract_text(visitor_text=visit)
    return found


def grey(path: Path, number: int, scale: float) -> np.ndarray:
    """A page as shares of white, (rows, columns), so many dots for a point."""
    document = pypdfium2.PdfDocument(path)
    try:
        return np.asarray(document[number].render(scale=scale, grayscale=True).to_numpy()).squeeze() / 255
    finally:
        document.close()
