"""What the proof by structure leaves in hand, and its words (see `structure` for the theorem)."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from oddswap.reasoning.groups import StabiliserChain
from oddswap.reasoning.sectors import Sector
from oddswap.reasoning.statements import listed, sector_name

NAMED = 4
"""More kinds than this are counted, not named."""


@dataclass(frozen=True, eq=False)
class Certificate:
    """The order of a puzzle's group, proved: ``kernel_order`` times the order of ``image``.

    ``cycles`` holds a prime for each sector of ``large``: the length of the cycle that shows it to be rearranged in every
    even way. ``image`` acts on the signs and twist sums of ``large`` and on the labels of ``small``.
    """

    large: tuple[Sector, ...]
    small: tuple[Sector, ...]
    cycles: tuple[int, ...]
    kernel_order: int
    image: StabiliserChain

    @property
    def order(self) -> int:
        return self.kernel_order * self.image.order

    @property
    def sentences(self) -> tuple[str, ...]:
        """The proof in words, step by step."""
        return tuple(_sentences(self))


def _sentences(certificate: Certificate) -> Iterator[str]:
    large, small = certificate.large, [sector for sector in certificate.small if sector.labels.size > 1]
    if not large:
        yield "A stabiliser chain on all labels counts exactly as many arrangements as the laws allow."
        return
    several, twisted = len(large) > 1, [sector for sector in large if sector.twist > 1]
    yield (
        f"The {_named(large)} can be rearranged in every even way{', each kind for itself' if several else ''}: the turns bring "
        "any slot to any other, and some sequence has a cycle of a prime number of slots, more than half of them and at least "
        f"three fewer than all ({_cycles(certificate)}). That is enough (Jordan 1873; Wielandt 1964, Theorem 13.9)."
    )
    if several:
        yield (
            "Only signs and twist sums can tie one of these kinds to another: wherever two have equally many slots, some "
            "sequence has cycles of other lengths on one than on the other. That is enough "
            "(Goursat 1889, Hölder 1895, Hall 1936)."
        )
    if twisted:
        yield (
            f"The twists of the {_named(twisted)} are bound by nothing but their sum{'s' if len(twisted) > 1 else ''}: some "
            "sequence brings every piece back to its slot and twists them unequally. That is enough, as commutators show."
        )
    rest = ["signs", *(["twist sums"] if twisted else []), *(["all that moves of the smaller kinds"] if small else [])]
    yield (
        f"So the turns lead from any arrangement to any other that agrees with it in what is left: {listed(rest)}. "
        f"Together these take {certificate.image.order} values, counted by a stabiliser chain: exactly as many as the laws allow."
    )


def _cycles(certificate: Certificate) -> str:
    """The lengths of the cycles by number of slots: ``5 of 8, 17 or 19 of 24``."""
    found: dict[int, set[int]] = {}
    for sector, length in zip(certificate.large, certificate.cycles, strict=True):
        found.setdefault(len(sector.slots), set()).add(length)
    return ", ".join(f"{' or '.join(map(str, sorted(found[size])))} of {size}" for size in sorted(found))


def _named(parts: Sequence[Sector]) -> str:
    return listed(map(sector_name, parts)) if len(parts) <= NAMED else f"pieces of {len(parts)} kinds"
