"""Laws of sectors that the turns move less freely than signs and twist sums tell: turned together, rings, programmes, bases.

A sector of n slots is *bound* where the group H of what the turns do to it is smaller than its sign and twist sum allow. Why it
is so is said by cause. Its pieces may turn only all together: then H lies in S_n × C_m. They may only go round a ring, or round
and over, as C_n or D_n. Six that are rearranged as PGL(2, 5) or PSL(2, 5) keep one of six *programmes*: five rounds of three
pairs, in which every pair comes once (synthemes and totals; J. J. Sylvester, Phil. Mag. 24 (1844) 285–296, from memory). S_6
permutes the programmes as it does the six pieces, but by its outer automorphism, so that the stabiliser of a programme, of
index 6, fixes no piece. For any other H its stabiliser chain says all: once the pieces of its base have found their places,
nothing is left to choose. So it does for sectors that are bound together only. Of what no sum forbids each such law leaves one
in ``factor``.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import combinations
from math import factorial, gcd
from typing import ClassVar

import numpy as np

from oddswap.reasoning.groups.modular import relations
from oddswap.reasoning.groups.stabiliser_chain import StabiliserChain, ring_of, turns_over
from oddswap.reasoning.laws.characters import unsaid
from oddswap.reasoning.laws.image import SMALL, LawImage
from oddswap.reasoning.laws.sectors import Law, Measure, Sector
from oddswap.reasoning.laws.teams import Rings, Shares

Programme = frozenset[frozenset[frozenset[int]]]
"""Five rounds of three pairs of the numbers 0 to 5, in which every pair comes once."""


class SectorLaw(Law):
    """A law of one ``sector``; it has no sense where teams are broken."""

    sector: Sector
    what: ClassVar[str]
    modulus = None

    @property
    def terms(self) -> tuple[tuple[int, Measure], ...]:
        return ((1, Measure(self.sector, self.what, None)),)

    def value(self, permutation: np.ndarray) -> int:
        return self.value_of(*zip(*places_of(self.sector, permutation), strict=True)) if self.sector.kept(permutation) else 0

    def value_of(self, rows: Sequence[int], twists: Sequence[int]) -> int:
        """Its quantity where the piece of each row of the sector goes to one of ``rows``, with one of ``twists``."""
        raise NotImplementedError

    def touched_by(self, permutation: np.ndarray) -> bool:
        return not self.sector.kept(permutation) or self.value(permutation) != 0


class TogetherLaw(SectorLaw):
    """Pieces that are turned only all together: counted from the ``offset`` of each row, all have the same twist."""

    offsets: tuple[int, ...]
    seen: bool
    what = "way round"

    @property
    def factor(self) -> int:
        count, ways = len(self.offsets), self.sector.twist
        return ways ** (count - 1) // gcd(count, ways)

    def value_of(self, rows: Sequence[int], twists: Sequence[int]) -> int:
        steps = zip(twists, self.offsets, rows, strict=True)
        return 0 if len({(twist + offset - self.offsets[row]) % self.sector.twist for twist, offset, row in steps}) == 1 else 1


class RingLaw(SectorLaw):
    """The pieces of a sector go round as one body, or over where ``turned_over``; ``ring`` holds its rows in their order."""

    ring: tuple[int, ...]
    turned_over: bool
    seen: bool
    what = "ring"

    @property
    def even(self) -> bool:
        """Whether it says that its pieces are rearranged evenly."""
        return len(self.ring) % (4 if self.turned_over else 2) == 1

    @property
    def factor(self) -> int:
        return factorial(len(self.ring) - 1) // (1 + self.turned_over) // (1 + self.even)

    def value_of(self, rows: Sequence[int], twists: Sequence[int]) -> int:
        at = np.argsort(self.ring)[[rows[row] for row in self.ring]]
        steps = set(((np.roll(at, -1) - at) % len(at)).tolist())
        return 0 if steps == {1} or (self.turned_over and steps == {len(at) - 1}) else 1


class ProgrammeLaw(SectorLaw):
    """Six pieces keep one of the ``programmes``: the first from solved, from elsewhere that of which the value is the number."""

    programmes: tuple[Programme, ...]
    seen: bool
    what = "programme"
    factor = 6

    @property
    def rounds(self) -> list[list[tuple[int, ...]]]:
        """The rounds of the programme, as pairs of rows."""
        return sorted(sorted(tuple(sorted(pair)) for pair in games) for games in self.programmes[0])

    def value_of(self, rows: Sequence[int], twists: Sequence[int]) -> int:
        return self.programmes.index(seated(self.programmes[0], np.argsort(rows).tolist()))


class BaseLaw(Law):
    """The places of the pieces of a ``base`` decide all the rest of the sectors that an image keeps whole."""

    image: LawImage
    factor: int
    seen: bool
    modulus = None

    @property
    def terms(self) -> tuple[tuple[int, Measure], ...]:
        return tuple((1, Measure(sector, "group", None)) for sector in self.image.small)

    @property
    def base(self) -> tuple[tuple[Sector, int, int], ...]:
        """Sector and row of one piece after another, and how many choices it has while those before it stay."""
        small, chain = self.image.small, self.image.chain
        points = [(sector, row) for sector in small for row in range(len(sector.slots)) for _ in range(sector.twist)]
        return tuple((*points[p], size) for p, size in zip(chain.base, chain.orbit_sizes, strict=True) if p < len(points))

    def value(self, permutation: np.ndarray) -> int:
        """0 where it is kept, or has no sense as teams are broken."""
        if not all(sector.kept(permutation) for sector in self.image.parts):
            return 0
        return 0 if self.image.chain.contains(self.image.of(permutation)) else 1


OwnLaw = TogetherLaw | RingLaw | ProgrammeLaw | BaseLaw


def places_of(sector: Sector, permutation: np.ndarray) -> list[tuple[int, int]]:
    """To which row, and with which twist, the piece of each row of a sector goes."""
    return [sector.place[label] for label in permutation[sector.labels[:, 0]].tolist()]


def seated(programme: Programme, way: Sequence[int]) -> Programme:
    """A programme with other players: who was number i is number ``way[i]``."""
    return frozenset(frozenset(frozenset(way[i] for i in pair) for pair in round) for round in programme)


def all_programmes() -> tuple[Programme, ...]:
    """The six programmes of six players."""
    pairs = [frozenset(pair) for pair in combinations(range(6), 2)]
    rounds = [frozenset(three) for three in combinations(pairs, 3) if len(frozenset().union(*three)) == 6]
    return tuple(frozenset(five) for five in combinations(rounds, 5) if len(frozenset().union(*five)) == 15)


def read_off(image: LawImage, order: int) -> LawImage:
    """The image with as few sectors as it takes kept whole for it to allow no more than ``order``.

    First those that are bound by themselves; then whichever are bound together.
    """
    large = [part for part in image.parts if len(part.slots) > SMALL]
    bound = [part for part in large if _is_bound(part, image.generators)]
    read = replace(image, bound=tuple(bound))
    if read.allowed > order:
        loose = [part for part in large if not _among(part, bound)]
        read = replace(image, bound=tuple(_least(large, loose, lambda kept: replace(image, bound=kept).allowed == order)))
    return read


def own_laws(image: LawImage, unseen: list[np.ndarray]) -> tuple[OwnLaw, ...]:
    """The laws, each by its cause, of every sector of an image that is bound by itself."""
    parts = (part for part in image.small if _is_bound(part, image.generators))
    return tuple(law for part in parts for law in _laws_of_part(part, image.generators, unseen))


def ties(image: LawImage, own: Sequence[OwnLaw], unseen: list[np.ndarray]) -> Iterator[BaseLaw]:
    """What sectors do together and no other law says, as a law for each set of sectors that are tied; ``own`` as above."""

    def part_of(parts: Sequence[Sector]) -> LawImage:
        return LawImage(tuple(parts), image.generators, tuple(part for part in image.bound if _among(part, parts)))

    def left_by(parts: Sequence[Sector]) -> int:
        return unsaid(part_of(parts), [law for law in own if _among(law.terms[0][1].sector, parts)])

    parts, left = [part for part in image.parts if part.labels.size > 1], unsaid(image, own)
    while left > 1:
        parts = _least(parts, parts[::-1], lambda kept, whole=left: left_by(kept) == whole)
        tied = _least(parts, parts[::-1], lambda kept: left_by(kept) > 1)
        others = [part for part in parts if not _among(part, tied)]
        if left_by(tied) * left_by(others) != left:
            tied, others = parts, []
        yield _base_law(part_of(tied), left_by(tied), unseen)
        parts, left = others, left_by(others)


def _least(things: Sequence[Sector], loose: Iterable[Sector], enough: Callable[[tuple[Sector, ...]], bool]) -> list[Sector]:
    """The things without as many of the loose ones as can be left out one by one, so that it is still enough."""
    kept = list(things)
    for thing in loose:
        fewer = tuple(each for each in kept if each is not thing)
        if enough(fewer):
            kept = list(fewer)
    return kept


def _among(part: Sector, parts: Iterable[Sector]) -> bool:
    return any(part is each for each in parts)


def _is_bound(part: Sector, generators: tuple[np.ndarray, ...]) -> bool:
    """Whether the sector is bound by itself; what is left of one in teams is not looked at without them."""
    return not isinstance(part, Shares | Rings) and unsaid(LawImage((part,), generators, (part,))) > 1


def _laws_of_part(part: Sector, generators: tuple[np.ndarray, ...], unseen: list[np.ndarray]) -> Iterator[OwnLaw]:
    places = np.array([places_of(part, g) for g in generators])
    rows, count = places[..., 0].tolist(), len(part.slots)
    found: list[OwnLaw] = []
    if part.twist > 1 and count > 1 and (offsets := _offsets(part.twist, places)):
        found.append(TogetherLaw(part, offsets, True))
    if count > SMALL and (ring := ring_of(rows, count)):
        found.append(RingLaw(part, ring, any(turns_over(ring, row) for row in rows), True))
    elif count == 6 and StabiliserChain.from_generators(rows, count).order in (60, 120):
        programmes = sorted(all_programmes(), key=lambda plan: any(seated(plan, row) != plan for row in rows))
        found.append(ProgrammeLaw(part, tuple(programmes), True))
    yield from (replace(law, seen=not any(law.touched_by(k) for k in unseen)) for law in found if law.factor > 1)
    if count > SMALL and not found:
        alone = LawImage((part,), generators, (part,))
        yield _base_law(alone, unsaid(alone), unseen)


def _offsets(ways: int, places: np.ndarray) -> tuple[int, ...] | None:
    """How far to turn each row's home so that every move twists all pieces alike; ``None`` where nothing does.

    ``places`` (moves, rows, 2) hold where the pieces go, and their twists. Twist + offset there - offset here = one number for
    each move: solved for the power of a prime as relations of the unknowns' coefficients.
    """
    moves, count, _ = places.shape
    prime = next(p for p in range(2, ways + 1) if ways % p == 0)
    power = next((k for k in range(1, ways) if prime**k == ways), 0)
    here, there = np.eye(count, dtype=np.int64), np.swapaxes(np.eye(count, dtype=np.int64)[places[..., 0]], 1, 2)
    unknown = [(here - there).swapaxes(0, 1).reshape(count, -1), np.repeat(np.eye(moves, dtype=np.int64), count, axis=1)]
    vectors = np.concatenate([places[..., 1].reshape(1, -1), *unknown]) % ways
    found = relations(vectors, [ways] * len(vectors), prime, power) if power else []
    return next((tuple(row[1 : 1 + count].tolist()) for row in found if row[0] == 1), None)


def _base_law(image: LawImage, factor: int, unseen: list[np.ndarray]) -> BaseLaw:
    sense = all(sector.kept(k) for sector in image.parts for k in unseen)
    return BaseLaw(image, factor, sense and all((image.of(k) == np.arange(image.degree)).all() for k in unseen))
