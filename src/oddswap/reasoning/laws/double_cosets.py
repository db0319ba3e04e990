r"""Double cosets K\Q/G of a product Q of small groups, for a K that is a product too: what can be told apart by looking.

G acts on the cosets K_i\Q_i of each factor, and K\Q/G are its orbits on tuples of them. They are counted without listing tuples:
for one coset from each orbit of G on the first factor's, the orbits of its stabiliser on tuples of the rest. Stabilisers that do
the same to the rest are followed once, so that factors which nothing ties cost nothing. Where K_i is trivial the cosets are
Q_i itself, and all stabilisers are the kernel of G on Q_i: there are |Q_i| / |G_i| orbits.

Orders are proved: that of the group is given, and a stabiliser's is known from its orbit.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import takewhile
from math import prod

import numpy as np

from oddswap.errors import OddswapError
from oddswap.reasoning.budget import Clock
from oddswap.reasoning.groups.stabiliser_chain import StabiliserChain, enumerate_group
from oddswap.reasoning.laws.image import LawImage
from oddswap.values.orbits import orbits

MOST_COSETS = 8000
"""A factor with more cosets than this is not taken apart."""
MOST_STEPS = 400
"""So many stabilisers are made at most."""


class TooTangled(OddswapError):
    """More than could be followed: too many cosets of one factor, or too many different stabilisers."""


@dataclass(frozen=True, eq=False)
class KnownGroup:
    """Permutations ``rows`` of some points, and the proved order of the group that they generate."""

    rows: np.ndarray
    order: int

    def stabiliser(self, points: Sequence[int]) -> KnownGroup:
        """The subgroup that fixes each of these points."""
        chain = StabiliserChain.from_generators(self.rows, self.rows.shape[1], order_bound=self.order, first=points)
        depth = sum(point in set(points) for point in chain.base)
        left = chain.levels[depth:]
        rows = left[0].gens.astype(np.intp) if left else np.arange(self.rows.shape[1])[None]
        return KnownGroup(rows, prod(len(level.orbit) for level in left))


@dataclass(frozen=True, eq=False)
class CosetShare:
    """The cosets *anything inside, then an element* of one factor on the image's ``points``, numbered; the identity's is 0."""

    points: np.ndarray
    inside: np.ndarray
    numbers: dict[bytes, int]
    representatives: np.ndarray

    @classmethod
    def of(cls, points: np.ndarray, whole: np.ndarray, inside: np.ndarray) -> CosetShare:
        numbers: dict[bytes, int] = {}
        representatives = []
        for element, name in zip(whole, _names(whole, inside), strict=True):
            if name not in numbers:
                numbers[name] = len(numbers)
                representatives.append(element)
        return cls(points, inside, numbers, np.array(representatives))

    def acted(self, rows: np.ndarray) -> np.ndarray:
        """How rows of this factor act on the numbers."""
        images = (_names(row[self.representatives], self.inside) for row in rows)
        return np.array([[self.numbers[name] for name in names] for names in images], dtype=np.intp)

    def number(self, row: np.ndarray) -> int:
        """The number of the coset of an element of Q."""
        own = np.searchsorted(self.points, row[self.points])
        return self.numbers[_names(own[None], self.inside)[0]]


def _names(elements: np.ndarray, inside: np.ndarray) -> list[bytes]:
    return [min(row.tobytes() for row in each) for each in elements[:, inside].astype(np.uint8)]


def coset_factors(image: LawImage, unseen: Iterable[np.ndarray]) -> CosetFactors:
    """The factors of an image, and what relabellings that show nothing do in each."""
    hidden = np.array([image.of(k) for k in unseen], dtype=np.intp).reshape(-1, image.degree)
    rows = np.array([image.of(g) for g in image.generators], dtype=np.intp).reshape(-1, image.degree)
    plain, plain_order, blocks, pieces, start, hidden_order = [], 1, [], [rows], image.degree, 1
    shares = []
    for points, whole in _factors(image):
        own = np.zeros(image.degree, dtype=np.intp)
        own[points] = np.arange(len(points))
        share = np.unique(own[hidden[:, points]], axis=0)
        if (share == np.arange(len(points))).all():
            plain.extend(points.tolist())
            plain_order *= len(whole)
            continue
        inside = enumerate_group(share, len(points), MOST_COSETS)
        hidden_order *= len(inside)
        shares.append(CosetShare.of(points, whole, inside))
        acted = shares[-1].acted(own[rows[:, points]])
        pieces.append(start + acted)
        blocks.append(tuple(range(start, start + acted.shape[1])))
        start += acted.shape[1]
    group = KnownGroup(np.concatenate(pieces, axis=1), image.order)
    return CosetFactors(group, tuple(plain), plain_order, tuple(blocks), hidden_order, tuple(shares))


@dataclass(frozen=True, eq=False)
class CosetFactors:
    """An image and the hidden relabellings' share in each of its factors, as points: the image's own, then cosets.

    ``plain`` are the image's points of factors with no share; ``blocks`` are the cosets of each other factor, its own first.
    """

    group: KnownGroup
    plain: tuple[int, ...]
    plain_order: int
    blocks: tuple[tuple[int, ...], ...]
    hidden_order: int
    shares: tuple[CosetShare, ...]

    @cached_property
    def _chain(self) -> tuple[np.ndarray, StabiliserChain]:
        """The points that the identity's coset of K is, and the image as a chain on these points first."""
        points = np.array([*self.plain, *(block[0] for block in self.blocks)], dtype=np.intp)
        rows, degree = self.group.rows, self.group.rows.shape[1]
        return points, StabiliserChain.from_generators(rows, degree, order_bound=self.group.order, first=points.tolist())

    def contains(self, row: np.ndarray) -> bool:
        """Whether an element of Q lies in KG: whether G takes K to the same coset of K as it does.

        Level by level the base point's target is brought back by the transversal, so nothing is listed.
        """
        points, chain = self._chain
        cosets = [block[0] + share.number(row) for block, share in zip(self.blocks, self.shares, strict=True)]
        targets = np.array([*row[list(self.plain)], *cosets], dtype=np.intp)
        place = {point: i for i, point in enumerate(points.tolist())}
        for level in chain.levels:
            if level.orbit[0] not in place:
                break
            found = level.row[targets[place[int(level.orbit[0])]]]
            if found < 0:
                return False
            targets = level.back[found][targets].astype(np.intp)
        return bool((targets == points).all())

    @cached_property
    def kernel(self) -> KnownGroup:
        """What does nothing to the factors without a share."""
        return self.group.stabiliser(self.plain) if self.plain else self.group

    @property
    def common_order(self) -> int:
        """The order of the intersection of K and G."""
        return self.group.stabiliser([*self.plain, *(block[0] for block in self.blocks)]).order

    def count(self, clock: Clock) -> int:
        """How many double cosets there are; `TooTangled` where that was too much, or the time ended."""
        steps = takewhile(lambda _: not clock.spent, range(MOST_STEPS))
        return self.plain_order // (self.group.order // self.kernel.order) * _orbits_on_tuples(self.kernel, self.blocks, steps)


def _orbits_on_tuples(group: KnownGroup, blocks: Sequence[tuple[int, ...]], steps: Iterator[int]) -> int:
    blocks = sorted(blocks, key=len)
    moved = (group.rows != np.arange(group.rows.shape[1])).any(axis=0)
    still = [block for block in blocks if not moved[list(block)].any()]
    blocks = [block for block in blocks if moved[list(block)].any()]
    times = prod(map(len, still))
    if not blocks:
        return times
    first, rest = np.array(blocks[0]), blocks[1:]
    across = np.array([point for block in rest for point in block], dtype=np.intp)
    known: list[tuple[StabiliserChain, KnownGroup, int]] = []
    for orbit in orbits(group.rows[:, first] - first[0], len(first)):
        if next(steps, None) is None:
            raise TooTangled("too many classes to be followed")
        fixing = group.stabiliser([int(first[orbit[0]])])
        acting = _restricted(fixing.rows, across)
        chain = StabiliserChain.from_generators(acting, len(across)).verify()
        for i, (other, followed, count) in enumerate(known):
            if other.order == chain.order and other.contains_many(acting).all():
                known[i] = other, followed, count + 1
                break
        else:
            known.append((chain, fixing, 1))
    return times * sum(count * _orbits_on_tuples(fixing, rest, steps) for _, fixing, count in known)


def _restricted(rows: np.ndarray, points: np.ndarray) -> np.ndarray:
    place = np.zeros(rows.shape[1], dtype=np.intp)
    place[points] = np.arange(len(points))
    return place[rows[:, points]]


def _factors(image: LawImage) -> Iterator[tuple[np.ndarray, np.ndarray]]:
    """For each factor of Q its points, and all its elements as permutations of them."""
    start = 0
    for sector in image.small:
        size = sector.labels.size
        yield np.arange(start, start + size), _wreath_product(len(sector.slots), sector.twist)
        start += size
    found: dict[tuple[int, ...], list[range]] = {}
    for part in image.rest:
        found.setdefault(part.sector.slots, []).append(range(start, start + part.modulus))
        start += part.modulus
    for ranges in found.values():
        yield np.concatenate(ranges), _cyclic_product([len(each) for each in ranges])


def _cyclic_product(sizes: Sequence[int]) -> np.ndarray:
    """All of C_a × C_b × …, each on points of its own."""
    gens = []
    for i, size in enumerate(sizes):
        before, after = sum(sizes[:i]), sum(sizes[i + 1 :])
        turned = [np.arange(before), before + np.roll(np.arange(size), -1), before + size + np.arange(after)]
        gens.append(np.concatenate(turned))
    return enumerate_group(gens, sum(sizes))


def _wreath_product(slots: int, ways: int) -> np.ndarray:
    """All of C_ways ≀ S_slots on its labels."""
    labels = np.arange(slots * ways).reshape(slots, ways)
    gens = [labels.copy() for _ in range(3)]
    gens[0][0] = np.roll(labels[0], -1)
    gens[1][[0, -1]] = labels[[-1, 0]]
    gens[2] = np.roll(labels, 1, axis=0)
    return enumerate_group([g.ravel() for g in gens], labels.size, MOST_COSETS)
