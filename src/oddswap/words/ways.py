"""What is said of a way out beside its turns."""

from __future__ import annotations

from oddswap.reasoning.ways.findings import Composed, FromStages, NotInStages, ThroughOpenBox
from oddswap.words.reader import EXPLAINER, Reader
from oddswap.words.table import says

COMPOSED = {
    FromStages: "this way was put together from stages and is not the shortest",
    NotInStages: "nor was a way put together from stages, slot by slot or by three-cycles, that these turns allow",
    ThroughOpenBox: "this way leaves the box, changes what the turns inside cannot change, and finishes with them",
}


@says(*COMPOSED)
def composed_words(composed: Composed, reader: Reader = EXPLAINER) -> str:
    """How a way was put together."""
    return COMPOSED[type(composed)]
