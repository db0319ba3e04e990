"""What the proof by structure leaves in hand (see `structure` for the theorem)."""

from dataclasses import dataclass

from oddswap.reasoning.groups.stabiliser_chain import StabiliserChain
from oddswap.reasoning.laws.sectors import Sector


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
