"""Laws that are no characters and no pairing laws: orbits that stay apart, groups that small sectors make, teams."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from oddswap.reasoning.laws.characters import count_characters, laws_of
from oddswap.reasoning.laws.image import LawImage
from oddswap.reasoning.laws.law import Law
from oddswap.reasoning.laws.pairings import pairing_laws
from oddswap.reasoning.laws.sectors import Measure, Sector, keeps
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
    def terms(self) -> tuple[tuple[int, Measure], ...]:
        return tuple((1, Measure(sector, "orbit", None)) for sector in self.sectors)

    def value(self, permutation: np.ndarray) -> int:
        return 0 if keeps(self.every, permutation) is None else 1


@dataclass(frozen=True, eq=False, repr=False)
class OtherLaw(Law):
    """What small sectors do together lies in a group of which the other laws leave the index ``factor`` unsaid."""

    image: LawImage
    factor: int
    seen: bool
    type = "other"
    modulus = None

    @property
    def terms(self) -> tuple[tuple[int, Measure], ...]:
        return tuple((1, Measure(sector, "group", None)) for sector in self.image.small if sector.signed)

    def value(self, permutation: np.ndarray) -> int:
        if not all(sector.kept(permutation) for sector in self.image.parts):
            return 0
        return 0 if self.image.chain.contains(self.image.of(permutation)) else 1


class TeamsElsewhere(Measure):
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
    def terms(self) -> tuple[tuple[int, Measure], ...]:
        return ((1, TeamsElsewhere(self.teams, "team", len(self.teams.slots) + 1)),)

    def value(self, permutation: np.ndarray) -> int:
        return 0 if self.teams.kept(permutation) else 1


def laws_of_image(image: LawImage, unseen: list[np.ndarray]) -> Iterator[Law]:
    """The laws that can be read off an image: characters, pairing laws, and the rest by name."""
    parts, generators = image.parts, list(image.generators)
    yield from laws_of(parts, generators, unseen)
    pairs = pairing_laws(parts, generators, unseen)
    yield from pairs
    factor = image.whole_order // image.order // count_characters(parts, generators) // 3 ** len(pairs)
    if factor > 1:
        sense = all(sector.kept(k) for sector in parts for k in unseen)
        yield OtherLaw(image, factor, sense and all((image.of(k) == np.arange(image.degree)).all() for k in unseen))
