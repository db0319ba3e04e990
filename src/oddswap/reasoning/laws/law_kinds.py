"""Laws that are no characters and no pairing laws: orbits that stay apart, groups that small sectors make, teams."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from oddswap.reasoning.laws.image import Image
from oddswap.reasoning.laws.law import Law
from oddswap.reasoning.laws.sectors import Coordinate, Sector, keeps
from oddswap.reasoning.laws.teams import Teams


@dataclass(frozen=True, eq=False, repr=False)
class OrbitLaw(Law):
    """Every label stays in its orbit: the turns split these sectors off their kinds, of ``every`` sector."""

    sectors: tuple[Sector, ...]
    every: tuple[Sector, ...]
    seen: bool
    type = "orbit"
    modulus = None
    additive = alone = True

    @property
    def terms(self) -> tuple[tuple[int, Coordinate], ...]:
        return tuple((1, Coordinate(sector, "orbit", None)) for sector in self.sectors)

    def value(self, permutation: np.ndarray) -> int:
        return 0 if keeps(self.every, permutation) is None else 1


@dataclass(frozen=True, eq=False, repr=False)
class OtherLaw(Law):
    """What small sectors do together lies in a group of which the other laws leave the index ``factor`` unsaid."""

    image: Image
    factor: int
    seen: bool
    type = "other"
    modulus = None

    @property
    def terms(self) -> tuple[tuple[int, Coordinate], ...]:
        return tuple((1, Coordinate(sector, "group", None)) for sector in self.image.small if sector.signed)

    def value(self, permutation: np.ndarray) -> int:
        if not all(sector.kept(permutation) for sector in self.image.parts):
            return 0
        return 0 if self.image.chain.contains(self.image.of(permutation)) else 1


class Placing(Coordinate):
    """How many teams go elsewhere; its sector is teams."""

    def value(self, permutation: np.ndarray) -> int | None:
        if not self.sector.kept(permutation):
            return None
        heads = enumerate(permutation[self.sector.labels[:, 0]].tolist())
        return sum(self.sector.place[label] != (row, 0) for row, label in heads)


@dataclass(frozen=True, eq=False, repr=False)
class TeamLaw(Law):
    """Pieces that stay together in teams, whatever is turned (see `teams`)."""

    teams: Teams
    seen: bool
    type = "other"
    modulus = None

    @property
    def terms(self) -> tuple[tuple[int, Coordinate], ...]:
        return ((1, Placing(self.teams, "team", len(self.teams.slots) + 1)),)

    def value(self, permutation: np.ndarray) -> int:
        return 0 if self.teams.kept(permutation) else 1
