"""What every law is: a quantity of sectors that no allowed move changes. Each kind of law has a file of its own."""

from typing import ClassVar

import numpy as np

from oddswap.forwards import forwarded
from oddswap.reasoning.laws.sectors import Measure


@forwarded
class Law:
    """A law; two are equal that speak alike of the same slots.

    ``type`` is sign, twist, mixed, pairing, orbit or other. ``modulus`` is what its quantity counts to; ``None`` where that is no
    number. ``seen`` says whether no exchange of lookalikes changes it, so that a broken law can be seen.
    """

    type: str
    modulus: int | None
    seen: bool
    additive: ClassVar[bool] = False
    """Whether its quantity adds as moves follow each other."""
    alone: ClassVar[bool] = False
    """Whether the others have no sense where it is broken."""

    @property
    def terms(self) -> tuple[tuple[int, Measure], ...]:
        """What it speaks of, each with how often that counts."""
        raise NotImplementedError

    def value(self, permutation: np.ndarray) -> int:
        """Its quantity at a label permutation that keeps every sector: 0 where the law is kept, or has no sense."""
        raise NotImplementedError

    def touched_by(self, permutation: np.ndarray) -> bool:
        """Whether a label permutation changes the law's quantity or its sense."""
        return bool(self.value(permutation)) or any(part.value(permutation) is None for _, part in self.terms if part.modulus)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Law) and (self.type, self.modulus, self.terms) == (other.type, other.modulus, other.terms)

    def __hash__(self) -> int:
        return hash((self.type, self.modulus, self.terms))
