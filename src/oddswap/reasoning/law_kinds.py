"""Laws that are no characters and no pairing laws: orbits that stay apart, groups that small sectors make, teams.

Each has a ``name``, a ``statement``, a ``type`` and a ``value`` of a label permutation: 0 where the law is kept; ``seen`` says
whether its value can be told by looking.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from oddswap.reasoning.characters import Law
from oddswap.reasoning.image import Image
from oddswap.reasoning.pairings import PairingLaw
from oddswap.reasoning.sectors import Sector, keeps
from oddswap.reasoning.statements import orbit_statement, other_statement, sector_name, teams_name, teams_statement
from oddswap.reasoning.teams import Teams


@dataclass(frozen=True, eq=False)
class OrbitLaw:
    """Every label stays in its orbit: the turns split these sectors off their kinds."""

    sectors: tuple[Sector, ...]
    every: tuple[Sector, ...]
    seen: bool
    type: str = "orbit"
    modulus: int | None = None
    name: str = "orbits"

    @property
    def statement(self) -> str:
        return orbit_statement(self.sectors)

    def value(self, permutation: np.ndarray) -> int:
        return 0 if keeps(self.every, permutation) is None else 1


@dataclass(frozen=True, eq=False)
class OtherLaw:
    """What small sectors do together lies in a group of which the other laws leave the index ``factor`` unsaid."""

    image: Image
    factor: int
    seen: bool
    type: str = "other"
    modulus: int | None = None

    @property
    def name(self) -> str:
        return "group of " + " and ".join(sector_name(s) for s in self.image.small if s.signed)

    @property
    def statement(self) -> str:
        return other_statement(self.image.small, self.factor)

    def value(self, permutation: np.ndarray) -> int:
        if not all(sector.kept(permutation) for sector in self.image.parts):
            return 0
        return 0 if self.image.chain.contains(self.image.of(permutation)) else 1


@dataclass(frozen=True, eq=False)
class TeamLaw:
    """Pieces that stay together in teams, whatever is turned (see `teams`)."""

    teams: Teams
    seen: bool
    type: str = "other"
    modulus: int | None = None

    @property
    def name(self) -> str:
        return teams_name(self.teams)

    @property
    def statement(self) -> str:
        return teams_statement(self.teams)

    def value(self, permutation: np.ndarray) -> int:
        return 0 if self.teams.kept(permutation) else 1


AnyLaw = Law | PairingLaw | OrbitLaw | OtherLaw | TeamLaw
