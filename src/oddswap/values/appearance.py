"""Appearances: what can be seen, and nothing else. No labels; immutable, hashable; another type than arrangements."""

from dataclasses import dataclass

from oddswap.forwards import forwarded

Sight = frozenset[int]


@forwarded
@dataclass(frozen=True, slots=True)
class Appearance:
    """``sights[b]``: the looks that slot b may show, as the puzzle numbers them within the slot's kind.

    One look: seen for certain. Several: *this or that*. All looks of the kind: not seen. None at all: something that no
    piece of the puzzle can show there, which is a finding and not an input error. ``stickers`` holds what was read
    colour by colour, if it was: for each sticker place the facets whose colour it may have, empty for *not seen*.

    >>> Appearance("ring of two", (frozenset({0}), frozenset({0, 1}))).complete
    False
    """

    puzzle: str
    sights: tuple[Sight, ...]
    stickers: tuple[frozenset[str], ...] = ()

    @property
    def complete(self) -> bool:
        """Whether every slot shows one look for certain."""
        return all(len(sight) == 1 for sight in self.sights)

    @property
    def uncertain(self) -> tuple[int, ...]:
        """The slots that may show several looks: not seen, or one of several."""
        return tuple(b for b, sight in enumerate(self.sights) if len(sight) > 1)

    @property
    def foreign(self) -> tuple[int, ...]:
        """The slots that show what no piece of the puzzle can show."""
        return tuple(b for b, sight in enumerate(self.sights) if not sight)

    @property
    def looks(self) -> tuple[int, ...]:
        """The one look of each slot; ``ValueError`` unless the appearance is complete."""
        if not self.complete:
            raise ValueError("this appearance has parts that are not seen for certain")
        return tuple(next(iter(sight)) for sight in self.sights)
