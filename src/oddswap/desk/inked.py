"""How a sketch is laid over a picture of its arrangement: what was painted, and what was covered as not seen."""

from collections.abc import Mapping

from oddswap.desk.sketch import Sketch, facet_at
from oddswap.showing.ink.palette import UNKNOWN

Inks = dict[str | tuple[str, str], str]
"""By piece, or by piece and facet: both are named by where they belong."""


def inked(sketch: Sketch, colours: Mapping[str, str]) -> tuple[Inks, Inks]:
    """The inks and the words of what does not show as the arrangement has it; ``colours`` are those of the paints."""
    puzzle, shown, words = sketch.puzzle, {}, {}
    for slot in sketch.covered:
        piece = sketch.arrangement.pieces[slot]
        for key in _parts(sketch, piece):
            shown[key], words[key] = UNKNOWN, "?"
    for (slot, face), paints in sketch.painted.items():
        key = (puzzle.slots[sketch.arrangement.pieces[slot]], facet_at(puzzle, sketch.arrangement, slot, face))
        if len(paints) == 1:
            shown[key] = colours[next(iter(paints))]
            words.pop(key, None)
        else:
            shown[key], words[key] = UNKNOWN, "/".join(sorted(paints)) if paints else "?"
    return shown, words


def _parts(sketch: Sketch, piece: int) -> list[str | tuple[str, str]]:
    """What can be inked of a piece: its facets on a solid, else the piece, and nothing of a blank."""
    puzzle = sketch.puzzle
    if puzzle.geometry is None:
        return [] if piece == puzzle.blank else [puzzle.slots[piece]]
    facets = dict.fromkeys(face.facet for face in puzzle.geometry.bodies[piece].faces if face.facet)
    return [(puzzle.slots[piece], facet) for facet in facets]
