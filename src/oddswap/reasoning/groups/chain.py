"""How a stabiliser chain is built: levels, sifting, the random descent, and the test that completes it.

Many permutations at once are the rows of one array of small unsigned integers, and all work is done on whole
arrays. *p then q* is ``q[p]``.

The descent takes a pool of random elements from the top to the bottom. At each level the pool gives the orbit
of the next base point; each member is then divided by the element of the transversal that does the same to
that point, which leaves a pool of random elements of the stabiliser. Every element of a level is a product
of elements of the level above, so the group of each level contains those below it.

Sources: C. C. Sims, in: Computational Problems in Abstract Algebra (1970) 169-183, for the chain and its
test; Á. Seress, Permutation Group Algorithms (2003), chapter 4, for the random construction, and 2.3 for
random subproducts; F. Celler, C. R. Leedham-Green, S. H. Murray, A. C. Niemeyer, E. A. O'Brien, Comm. Algebra
23 (1995) 4931-4948, for product replacement.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

POOL = 32
"""Random elements that descend together; also how many must sift before an unproved chain is accepted."""
ROUNDS_AT_FIRST, ROUNDS_AGAIN, ROUNDS_BETWEEN = 24, 12, 2
"""Rounds of mixing; with these the first descent was complete for nearly all seeds on cubes up to 7 × 7 × 7."""
ROWS_AT_ONCE = 1024


def identities(count: int, like: np.ndarray) -> np.ndarray:
    """As many rows that move nothing, of the width and type of `like`."""
    return np.tile(np.arange(like.shape[1], dtype=like.dtype), (count, 1))


def moving(perms: np.ndarray) -> np.ndarray:
    """Shape (k, n): whether row i moves point j."""
    return perms != np.arange(perms.shape[1], dtype=perms.dtype)


def nontrivial(perms: np.ndarray) -> np.ndarray:
    """The rows that move anything."""
    return perms[moving(perms).any(axis=1)]


def inverses(perms: np.ndarray) -> np.ndarray:
    """Each row undone."""
    count, degree = perms.shape
    undone = np.empty(count * degree, dtype=perms.dtype)
    undone[perms + np.arange(count)[:, None] * degree] = np.arange(degree, dtype=perms.dtype)
    return undone.reshape(count, degree)


def products(first: np.ndarray, then: np.ndarray, rows: np.ndarray) -> np.ndarray:
    """Row i of `first`, followed by row ``rows[i]`` of `then`."""
    return then.ravel().take(first + rows[:, None] * first.shape[1])


@dataclass(frozen=True, eq=False)
class Transversal:
    """One base point, its orbit under the level's group, and the way back from each point of the orbit.

    `gens`, shape (k, n), generate the level's group. ``back[i]`` takes ``orbit[i]`` to the base point, which
    comes first, with the identity. ``row[x]`` is the place of point x in the orbit, or -1.
    """

    gens: np.ndarray
    orbit: np.ndarray
    back: np.ndarray
    row: np.ndarray

    def __post_init__(self):
        for array in (self.gens, self.orbit, self.back, self.row):
            array.setflags(write=False)

    @classmethod
    def at(cls, point: int, like: np.ndarray) -> Transversal:
        """One point without generators."""
        row = np.full(like.shape[1], -1)
        row[point] = 0
        return cls(like[:0], np.array([point]), identities(1, like), row)

    def grown(self, more: np.ndarray, shortcuts: np.ndarray) -> Transversal:
        """With more generators and the orbit closed under all of them.

        The shortcuts, elements of the larger group, are tried first: the orbit is found in fewer steps, and
        few members of a pool stand in the transversal themselves, where division leaves nothing of them.
        """
        gens = np.concatenate([self.gens, more])
        level = self._reaching(self.orbit, shortcuts)
        fresh = level.orbit
        while fresh.size:
            before = len(level.orbit)
            level = level._reaching(fresh, gens)
            fresh = level.orbit[before:]
        return Transversal(gens, level.orbit, level.back, level.row)

    def _reaching(self, points: np.ndarray, perms: np.ndarray) -> Transversal:
        """With the images of these points of the orbit under these permutations."""
        images = perms[:, points].ravel()
        source = np.full(self.row.size, -1)
        source[images] = np.arange(images.size)
        source[self.orbit] = -1
        new = np.flatnonzero(source >= 0)
        if not new.size:
            return self
        which, origin = np.divmod(source[new], points.size)
        row = self.row.copy()
        row[new] = len(self.orbit) + np.arange(new.size)
        back = products(inverses(perms[which]), self.back, row[points[origin]])
        return Transversal(self.gens, np.append(self.orbit, new), np.concatenate([self.back, back]), row)

    def divided(self, perms: np.ndarray) -> np.ndarray:
        """Each row, followed by the way back from where it takes the base point, a point of the orbit."""
        return products(perms, self.back, self.row[perms[:, self.orbit[0]]])

    def schreier_generators(self) -> Iterator[np.ndarray]:
        """Generators of the base point's stabiliser in the level's group, in batches, identities left out."""
        forth = inverses(self.back)
        step = max(1, ROWS_AT_ONCE // len(forth))
        for start in range(0, len(self.gens), step):
            perms = self.divided(np.concatenate([g[forth] for g in self.gens[start : start + step]]))
            yield nontrivial(perms)


def sift(levels: Sequence[Transversal], perms: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Divide each row by one level after the other: what is left of it, and how many levels it passed.

    A row is in the chain if it passed all levels and nothing is left but the identity.
    """
    left, depth = perms.copy(), np.full(len(perms), len(levels))
    active, rest = np.arange(len(perms)), perms
    for i, level in enumerate(levels):
        stays = level.row[rest[:, level.orbit[0]]] >= 0
        if not stays.all():
            stuck = active[~stays]
            left[stuck], depth[stuck] = rest[~stays], i
            active, rest = active[stays], rest[stays]
        rest = level.divided(rest)
    left[active] = rest
    return left, depth


def outside(levels: Sequence[Transversal], perms: np.ndarray) -> np.ndarray:
    """What sifting leaves of those rows that are not in the chain."""
    left, _ = sift(levels, perms)
    return nontrivial(left)


def random_subproducts(gens: np.ndarray, rng: np.random.Generator) -> np.ndarray:
    """A pool of products of the generators in random order, each of them taken or left out at random.

    Of the members of a pool, on average at least half lie outside any given proper subgroup.
    """
    pool = identities(POOL, gens)
    for g in rng.permutation(gens):
        chosen = rng.random(POOL) < 0.5
        pool[chosen] = g[pool[chosen]]
    return pool


def mix(pool: np.ndarray, rng: np.random.Generator, rounds: int) -> np.ndarray:
    """Product replacement on whole arrays: each round multiplies one random half of the pool by the other.

    The pool goes on generating the same group.
    """
    pool, half = pool.copy(), len(pool) // 2
    for turn in range(rounds):
        order = rng.permutation(len(pool))
        changed, other = order[:half], order[half : 2 * half]
        pool[changed] = products(pool[changed], pool, other) if turn % 2 else products(pool[other], pool, changed)
    return pool


def descend(
    levels: Sequence[Transversal], start: int, pool: np.ndarray, preference: np.ndarray, rng: np.random.Generator
) -> list[Transversal]:
    """The chain enlarged, from level `start` down, by a pool of elements that fix the base points before it.

    `preference` lists all points that ever move; the first that still does is the next base point.
    """
    grown = list(levels)
    for i in range(start, pool.shape[1]):
        moved = moving(pool).any(axis=0)[preference]
        if not moved.any():
            break
        if i == len(grown):
            grown.append(Transversal.at(preference[moved.argmax()], pool))
        shortcuts = products(pool, pool, rng.permutation(len(pool)))
        grown[i] = grown[i].grown(pool, shortcuts)
        pool = mix(grown[i].divided(pool), rng, ROUNDS_BETWEEN)
    return grown


def complete(levels: Sequence[Transversal], preference: np.ndarray, rng: np.random.Generator) -> list[Transversal]:
    """The chain with every Schreier generator of every level in the levels below, which proves it complete.

    From the bottom up, the products of the transversals are then closed under the generators of their level, so
    they are its whole group. A generator that is missing goes down as a new pool, and the test starts again.
    """
    done = list(levels)
    i = len(done) - 1
    while i >= 0:
        batches = (outside(done[i + 1 :], batch) for batch in done[i].schreier_generators())
        missing = next((batch for batch in batches if len(batch)), None)
        if missing is None:
            i -= 1
        else:
            done = descend(done, i + 1, np.resize(missing, (POOL, missing.shape[1])), preference, rng)
            i = len(done) - 1
    return done
