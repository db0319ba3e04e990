"""Laws of orbits that stay apart and of teams, and how all the laws of a puzzle are read off its image."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import numpy as np

from oddswap.forwards import fetched
from oddswap.reasoning.laws.characters import laws_of, pairing_laws, unsaid
from oddswap.reasoning.laws.image import LawImage
from oddswap.reasoning.laws.sectors import Law, Measure, Sector, keeps

if TYPE_CHECKING:
    from oddswap.reasoning.laws.teams import Teams

own_laws = fetched("reasoning.laws.rigid:own_laws")
ties = fetched("reasoning.laws.rigid:ties")


class OrbitLaw(Law):
    """Every label stays in its orbit: the turns split these sectors off their kinds, of ``every`` sector."""

    sectors: tuple[Sector, ...]
    every: tuple[Sector, ...]
    seen: bool
    type = "orbit"
    modulus = None
    additive = alone = True

    @property
    def terms(self) -> tuple[tuple[int, Measure], ...]:
        return tuple((1, Measure(sector, "orbit", None)) for sector in self.sectors)

    def value(self, permutation: np.ndarray) -> int:
        return 0 if keeps(self.every, permutation) else 1


class TeamsElsewhere(Measure):
    """How many teams go elsewhere; its sector is teams."""

    def value(self, permutation: np.ndarray) -> int | None:
        if not self.sector.kept(permutation):
            return None
        heads = enumerate(permutation[self.sector.labels[:, 0]].tolist())
        return sum(self.sector.place[label] != (row, 0) for row, label in heads)


class TeamLaw(Law):
    """Pieces that stay together in teams, whatever is turned (see `teams`)."""

    teams: Teams
    seen: bool
    modulus = None

    @property
    def terms(self) -> tuple[tuple[int, Measure], ...]:
        return ((1, TeamsElsewhere(self.teams, "team", len(self.teams.slots) + 1)),)

    def value(self, permutation: np.ndarray) -> int:
        return 0 if self.teams.kept(permutation) else 1


def laws_of_image(image: LawImage, unseen: list[np.ndarray]) -> Iterator[Law]:
    """The laws that can be read off an image: characters, pairing laws, those of single sectors, and of what ties sectors."""
    parts, generators = image.parts, list(image.generators)
    yield from laws_of(parts, generators, unseen)
    yield from pairing_laws(parts, generators, unseen)
    if unsaid(image) > 1:
        own = own_laws(image, unseen)
        yield from own
        yield from ties(image, own, unseen)
