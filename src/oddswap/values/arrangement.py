"""Arrangements: which piece sits in which slot, which way round. Labelled, immutable, hashable."""

from dataclasses import dataclass

from oddswap.forwards import forwarded


@forwarded
@dataclass(frozen=True, slots=True)
class Arrangement:
    """``pieces[b]`` is the home slot of the piece that sits in slot b (a number), ``twists[b]`` its twist there.

    A twist counts from the reference that the puzzle gives each slot: 0 when the first-named face of the piece's home
    shows on the first-named face of its slot, and +1 for each clockwise step, seen from outside.

    >>> Arrangement("ring of three", (1, 0, 2), (0, 0, 0))
    Arrangement(puzzle='ring of three', pieces=(1, 0, 2), twists=(0, 0, 0))
    """

    puzzle: str
    pieces: tuple[int, ...]
    twists: tuple[int, ...]

    def __post_init__(self) -> None:
        if sorted(self.pieces) != list(range(len(self.twists))):
            raise ValueError("pieces must name every slot exactly once, with one twist for each slot")

    def displaced(self) -> frozenset[int]:
        """The slots whose piece is not at home or not the right way round."""
        return frozenset(b for b, (p, t) in enumerate(zip(self.pieces, self.twists, strict=True)) if p != b or t)
