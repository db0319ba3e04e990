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
from math import prod

import numpy as np

from oddswap.errors import OddswapError
from oddswap.reasoning.groups import StabiliserChain
from oddswap.reasoning.image import Image
from oddswap.reasoning.orbits import orbits
from oddswap.reasoning.subgroups import enumerate_group

MOST_COSETS = 8000
"""A factor with more cosets than this is not taken apart."""
MOST_STEPS = 400
"""So many stabilisers are made at most."""


class TooTangled(OddswapError):
    """More than could be followed: too many cosets of one factor, or too many different stabilisers."""


@dataclass(frozen=True, eq=False)
class Group:
    """Permutations ``rows`` of some points, and the proved order of the group that they generate."""

    rows: np.ndarray
    order: int

    def stabiliser(self, points: Sequence[int]) -> Group:
        """The subgroup that fixes each of these points."""
        chain = StabiliserChain.from_generators(self.rows, self.rows.shape[1], order_bound=self.order, first=points)
        depth = sum(point in set(points) for point in chain.base)
        left = chain.levels[depth:]
        rows = left[0].gens.astype(np.intp) if left else np.arange(self.rows.shape[1])[None]
        return Group(rows, prod(len(level.orbit) for level in left))


@dataclass(frozen=True, eq=False)
class Factors:
    """An image and the hidden relabellings' share in each of its factors, as points: the image's own, then cosets.

    ``plain`` are the image's points of factors with no share; ``blocks`` are the cosets of each other factor, its own first.
    """

    group: Group
    plain: tuple[int, ...]
    plain_order: int
    blocks: tuple[tuple[int, ...], ...]
    hidden_order: int

    @classmethod
    def of(cls, image: Image, unseen: Iterable[np.ndarray]) -> Factors:
        hidden = np.array([image.of(k) for k in unseen], dtype=np.intp).reshape(-1, image.degree)
        rows = np.array([image.of(g) for g in image.generators], dtype=np.intp).reshape(-1, image.degree)
        plain, plain_order, blocks, pieces, start, hidden_order = [], 1, [], [rows], image.degree, 1
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
            acted = _on_cosets(whole, inside, own[rows[:, points]])
            pieces.append(start + acted)
            blocks.append(tuple(range(start, start + acted.shape[1])))
            start += acted.shape[1]
        return cls(Group(np.concatenate(pieces, axis=1), image.order), tuple(plain), plain_order, tuple(blocks), hidden_order)

    @cached_property
    def kernel(self) -> Group:
        """What does nothing to the factors without a share."""
        return self.group.stabiliser(self.plain) if self.plain else self.group

    @property
    def common_order(self) -> int:
        """The order of the intersection of K and G."""
        return self.group.stabiliser([*self.plain, *(block[0] for block in self.blocks)]).order

    def count(self) -> int:
        """How many double cosets there are; `TooTangled` where that was too much."""
        steps = iter(range(MOST_STEPS))
        return self.plain_order // (self.group.order // self.kernel.order) * _orbits_on_tuples(self.kernel, self.blocks, steps)


def _orbits_on_tuples(group: Group, blocks: Sequence[tuple[int, ...]], steps: Iterator[int]) -> int:
    blocks = sorted(blocks, key=len)
    moved = (group.rows != np.arange(group.rows.shape[1])).any(axis=0)
    still = [block for block in blocks if not moved[list(block)].any()]
    blocks = [block for block in blocks if moved[list(block)].any()]
    times = prod(map(len, still))
    if not blocks:
        return times
    first, rest = np.array(blocks[0]), blocks[1:]
    across = np.array([point for block in rest for point in block], dtype=np.intp)
    known: list[tuple[StabiliserChain, Group, int]] = []
    for orbit in orbits(group.rows[:, first] - first[0], len(first)):
        if next(steps, None) is None:
            raise TooTangled("too many classes to be followed")
        fixing = group.stabiliser([int(first[orbit[0]])])
        chain = _acting_on(fixing.rows, across)
        for i, (other, followed, count) in enumerate(known):
            if other.order == chain.order and other.contains_many(_restricted(fixing.rows, across)).all():
                known[i] = other, followed, count + 1
                break
        else:
            known.append((chain, fixing, 1))
    return times * sum(count * _orbits_on_tuples(fixing, rest, steps) for _, fixing, count in known)


def _restricted(rows: np.ndarray, points: np.ndarray) -> np.ndarray:
    place = np.zeros(rows.shape[1], dtype=np.intp)
    place[points] = np.arange(len(points))
    return place[rows[:, points]]


def _acting_on(rows: np.ndarray, points: np.ndarray) -> StabiliserChain:
    return StabiliserChain.from_generators(_restricted(rows, points), len(points)).verify()


def _factors(image: Image) -> Iterator[tuple[np.ndarray, np.ndarray]]:
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


def _on_cosets(whole: np.ndarray, inside: np.ndarray, rows: np.ndarray) -> np.ndarray:
    """How rows act on the cosets *anything inside, then an element*, as numbers; that of the identity is 0."""

    def names(elements: np.ndarray) -> list[bytes]:
        return [min(row.tobytes() for row in each) for each in elements[:, inside].astype(np.uint8)]

    number: dict[bytes, int] = {}
    representatives = []
    for element, name in zip(whole, names(whole), strict=True):
        if name not in number:
            number[name] = len(number)
            representatives.append(element)
    return np.array([[number[name] for name in names(row[np.array(representatives)])] for row in rows], dtype=np.intp)
