"""The laws of a puzzle: quantities that no allowed move changes, read off the moves, and proved complete.

Method. Every sector (see `sectors`) has a sign and a twist sum; one of at most four slots is kept whole. The image of the
turns in the product Q of all these is computed exactly (`image`), and laws are read off it: characters, pairing laws, the rest
by cause (`rigid`); where fewer turns split a kind, that every label stays in its orbit comes first. Where the shape decides
the turns, loops at home stand for these (`walls`). Certificate: ``|A| * |image| / |Q|`` can only be too large for the group's
order, that of a randomised stabiliser chain only too small; where they agree, the laws are proved complete. As long as they do
not, teams are looked for (`teams`), and then more sectors are kept whole: all of them allow exactly what is reached.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property, lru_cache
from math import prod
from typing import TYPE_CHECKING

import numpy as np

from oddswap.forwards import fetched, forwarded
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.whole_turns import holdings, turns_fit_every_holding
from oddswap.reasoning.groups.chain import Transversal
from oddswap.reasoning.groups.stabiliser_chain import StabiliserChain
from oddswap.reasoning.laws.image import LawImage, coset_names, walk
from oddswap.reasoning.laws.law_kinds import OrbitLaw, TeamLaw, laws_of_image
from oddswap.reasoning.laws.lookalikes import Lookalikes, lookalikes, whole_kinds, within
from oddswap.reasoning.laws.sectors import Law, Sector, sectors
from oddswap.values.orbits import orbit_labels
from oddswap.values.position import Arrangement

if TYPE_CHECKING:
    from oddswap.reasoning.laws.structure import Certificate

count_of_shapes = fetched("puzzles.base.shapes:count_of_shapes")
copies_held = fetched("puzzles.base.shapes:copies_held")
walls = fetched("reasoning.laws.walls:walls")
certify = fetched("reasoning.laws.structure:certify")
teams_of = fetched("reasoning.laws.teams:teams_of")
refined = fetched("reasoning.laws.teams:refined")
read_off = fetched("reasoning.laws.rigid:read_off")

LARGE = 600
"""A puzzle of more labels is proved by its structure, where that succeeds, and not by a chain on all labels."""
COSETS = 100_000
"""So many cosets are walked at most where they must be counted one by one."""


LeadsTo = Callable[[np.ndarray], bool]
"""Whether the puzzle's group contains a label permutation."""


def holdings_apart(puzzle: Puzzle, leads_to: LeadsTo) -> tuple[np.ndarray, ...]:
    """One of all holdings between which the puzzle's group leads, as label permutations; as it is held comes first."""
    if turns_fit_every_holding(puzzle) and not puzzle.chosen:
        return (np.arange(puzzle.degree),)
    found: list[np.ndarray] = []
    for _, rotation in holdings(puzzle):
        if not any(leads_to(np.argsort(other)[rotation]) for other in found):
            found.append(rotation)
    return tuple(found)


def is_held_visibly(puzzle: Puzzle, leads_to: LeadsTo) -> bool:
    """Whether no reachable appearance looks the same in another holding, nor as a reachable one does in a holding to which the
    group does not lead: as far as a piece shows it that looks like no other, or pieces alike that would show elsewhere.

    >>> from oddswap.puzzles.catalogue import load
    >>> is_held_visibly(load("cube:2"), lambda rotation: True)
    True
    """
    orbit = orbit_labels(puzzle.generators, puzzle.degree)
    shown = [(kind.first, puzzle.looks[kind.labels]) for kind in puzzle.kinds]
    alike = [first + np.flatnonzero(looks == look) for first, looks in shown for look in np.unique(looks)]
    places = [np.flatnonzero(np.isin(orbit, orbit[labels])) for labels in alike]
    of_one = [where for where, labels in zip(places, alike, strict=True) if len(labels) == 1]

    def shows(rotation: np.ndarray) -> bool:
        if leads_to(rotation):
            return any((rotation[where] != where).all() for where in of_one)
        return any(np.isin(rotation[where], where, invert=True).all() for where in places)

    return all(shows(rotation) for _, rotation in holdings(puzzle)[1:])


@forwarded
@dataclass(frozen=True, eq=False)
class LawBook:
    """A puzzle's laws with their certificate.

    ``order`` counts the arrangements that the turns reach, ``assembly_order`` those that a hand could put together over
    the turns' own label orbits, ``wide_order`` over whole kinds. ``allowed`` is what the laws allow. ``unexplained`` is the
    factor between that and what the turns reach: 1 when ``complete``. ``hidden`` are the lookalikes that keep the sectors.
    ``image`` is that in what the ``sectors`` have; ``read`` is the one that the laws are read off: the same, or that in what
    finer sectors have where pieces stay in teams. Laws speak of one holding, and what keeps them in one of its ``holdings`` can
    be reached; all holdings are counted where they have the same turns, else one.
    """

    puzzle: Puzzle
    sectors: tuple[Sector, ...]
    laws: tuple[Law, ...]
    image: LawImage
    read: LawImage
    hidden: Lookalikes
    proof: StabiliserChain | Certificate

    @property
    def chain(self) -> StabiliserChain:
        """The chain on all labels; `TypeError` for a large puzzle whose laws are proved complete by its structure."""
        if not isinstance(self.proof, StabiliserChain):
            raise TypeError("this puzzle is proved by its structure and has no chain on all labels")
        return self.proof

    @cached_property
    def holdings(self) -> tuple[np.ndarray, ...]:
        """The ways to hold the puzzle between which its group does not lead, as label permutations; one where it is fixed."""
        return holdings_apart(self.puzzle, self.leads_to)

    def held(self, permutation: np.ndarray) -> Iterator[np.ndarray]:
        """A label permutation as it is in each of these holdings."""
        return (np.argsort(rotation)[permutation] for rotation in self.holdings)

    @property
    def times(self) -> int:
        """In how many holdings everything is counted."""
        return len(self.holdings) if turns_fit_every_holding(self.puzzle) else 1

    @cached_property
    def shapes(self) -> int | None:
        """How many shapes the turns give, as it is held; ``None`` where they are more than were gone through."""
        return count_of_shapes(self.puzzle)

    @cached_property
    def places(self) -> int:
        """In how many shapes arrangements are counted, however it is held; at home alone where they are too many."""
        return self.shapes * copies_held(self.puzzle) if self.shapes else 1

    @property
    def allowed(self) -> int:
        return self.places * self.times * self.read.allowed

    @property
    def order(self) -> int:
        return self.places * self.times * self.proof.order

    @property
    def assembly_order(self) -> int:
        return self.places * self.times * prod(s.assembly_order for s in self.sectors)

    @cached_property
    def wide_order(self) -> int:
        return self.places * prod(s.assembly_order for s in whole_kinds(self.puzzle))

    @property
    def complete(self) -> bool:
        return self.proof.order == self.read.allowed

    @property
    def unexplained(self) -> int:
        return self.read.allowed // self.proof.order

    @property
    def index(self) -> int:
        return self.assembly_order // self.order

    @property
    def index_wide(self) -> int:
        return self.wide_order // self.order

    @property
    def by_image(self) -> bool:
        """Whether an arrangement that keeps the sectors can be reached exactly when its image can."""
        return self.read is self.image

    @cached_property
    def additive(self) -> bool:
        """Whether all is said by characters: then A/G is an abelian group, and law quantities add."""
        return all(law.additive for law in self.laws)

    @cached_property
    def held_visibly(self) -> bool:
        """Whether what the turns reach never looks the same in two holdings."""
        return is_held_visibly(self.puzzle, self.leads_to)

    def class_of(self, permutation: np.ndarray) -> bytes:
        """A name for the coset *permutation, then any turns*."""
        return self.names_of(self._modelled(permutation)[None])[0]

    def names_of(self, models: np.ndarray) -> list[bytes]:
        """The names of the cosets of several models, (n, points), as `class_of` gives them."""
        return coset_names(self.levels, models)

    def walk(self, start: np.ndarray, steps: list[np.ndarray]):
        """The classes that relabellings make of one, by name, with a model of a member each; at most ``COSETS``."""
        return walk(self.levels, self._modelled(start), self.steps(steps), COSETS)

    @property
    def levels(self) -> tuple[Transversal, ...]:
        return (self.image.chain if self.by_image else self.chain).levels

    def _modelled(self, permutation: np.ndarray) -> np.ndarray:
        """What classes are told apart by: the image where the laws say all, else the label permutation itself."""
        return self.image.of(permutation) if self.by_image else permutation

    def steps(self, relabellings: list[np.ndarray]) -> list[np.ndarray]:
        """What relabellings do to models, each of those once."""
        return list({step.tobytes(): step for step in map(self._modelled, relabellings)}.values())

    def broken_at(self, permutation: np.ndarray) -> tuple[Law, ...]:
        """The laws that a label permutation breaks, held so that these are fewest; outside its orbits, the orbit law alone."""
        return self._broken(self.best_held(permutation))

    def best_held(self, permutation: np.ndarray) -> np.ndarray:
        """A label permutation as it is in the holding in which it breaks the fewest laws, and in which they have a sense."""
        if len(self.holdings) == 1:
            return permutation
        found = [(self._broken(held), self.puzzle.homed(held) is None, held) for held in self.held(permutation)]
        return min(found, key=lambda one: (one[1], any(law.alone for law in one[0]), len(one[0])))[2]

    def _broken(self, permutation: np.ndarray) -> tuple[Law, ...]:
        if (home := self.puzzle.homed(permutation)) is None:
            return ()
        alone = (law for law in self.laws if law.alone and law.value(home))
        return next(((law,) for law in alone), None) or tuple(law for law in self.laws if law.value(home))

    def broken(self, arrangement: Arrangement) -> tuple[Law, ...]:
        """The laws that an arrangement breaks."""
        return self.broken_at(self.puzzle.permutation(arrangement))

    def reaches(self, arrangement: Arrangement) -> bool:
        """Whether the turns lead from solved to exactly this arrangement, labels and all, in any holding."""
        return self.reaches_permutation(self.puzzle.permutation(arrangement))

    def reaches_permutation(self, permutation: np.ndarray) -> bool:
        """The same of a label permutation."""
        return any(map(self.leads_to, self.held(permutation)))

    def found(self, permutation: np.ndarray) -> bool:
        """Whether turns are known to lead to what breaks no law, as it is held."""
        return self.complete or self.chain.contains(self.puzzle.homed(permutation))

    def leads_to(self, permutation: np.ndarray) -> bool:
        """Whether a label permutation is in the puzzle's group."""
        return self.puzzle.homed(permutation) is not None and not self._broken(permutation)


@lru_cache(maxsize=32)
def law_book(puzzle: Puzzle) -> LawBook:
    """All laws of a puzzle, with the certificate.

    >>> from oddswap import load
    >>> [law.type for law in law_book(load("cube:2")).laws]
    ['twist']
    """
    generators = loops = list(puzzle.generators)
    if not puzzle.steady:
        found = walls(puzzle)
        generators, loops = list(found.above), list(found.loops)
    parts = sectors(puzzle, generators)
    hidden = within(lookalikes(puzzle), parts)
    unseen = hidden.generators()
    image = read = LawImage(parts, tuple(generators))
    proof = certify(parts, loops, image.allowed) if puzzle.degree > LARGE else None
    proof = proof or StabiliserChain.from_generators(loops, puzzle.degree, order_bound=image.allowed)
    laws: list[Law] = []
    if split := tuple(sector for sector in parts if not sector.whole):
        laws.append(OrbitLaw(split, parts, hidden.order == lookalikes(puzzle).order))
    if teams := teams_of(parts, generators) if proof.order < image.allowed else ():
        read = LawImage(refined(parts, teams), image.generators)
        laws += [TeamLaw(each, all(each.kept(k) for k in unseen)) for each in teams]
    if proof.order < read.allowed:
        read = read_off(read, proof.order)
    if proof.order < read.allowed:
        proof = proof.verify()
    return LawBook(puzzle, parts, (*laws, *laws_of_image(read, unseen)), image, read, hidden, proof)
