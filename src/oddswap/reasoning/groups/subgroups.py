"""Subgroups by generators: stabilisers, normal closures, loops at home; and all elements of a small group.

Permutations are rows p of whole numbers, and point j goes to ``p[j]``; *p then q* is ``q[p]``.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable

import numpy as np
from numpy.typing import ArrayLike

from oddswap.errors import OddswapError
from oddswap.reasoning.groups.chain import identities, inverses, nontrivial, products
from oddswap.reasoning.groups.stabiliser_chain import StabiliserChain
from oddswap.values.orbits import checked


def pointwise_stabiliser(gens: ArrayLike, points: Iterable[int], degree: int, seed: int = 0) -> np.ndarray:
    """Generators, shape (k, n), of the subgroup that fixes each of the points; proved to be all of it.

    >>> pointwise_stabiliser([[1, 2, 3, 0], [1, 0, 2, 3]], points=[0, 1], degree=4).tolist()
    [[0, 1, 3, 2]]
    """
    points = set(points)
    chain = StabiliserChain.from_generators(gens, degree, seed, first=points).verify()
    depth = sum(point in points for point in chain.base)
    gens = chain.levels[depth].gens if depth < len(chain.levels) else checked([], degree)
    return np.unique(nontrivial(gens), axis=0).astype(np.intp)


def normal_closure(gens: ArrayLike, by: ArrayLike, degree: int, seed: int = 0) -> np.ndarray:
    """Generators of the smallest group that contains `gens` and that conjugation by each row of `by` keeps.

    The given generators come first; each further one is a conjugate of one before it. Seress 2003, 2.3.

    >>> len(normal_closure([[1, 2, 0, 3]], by=[[1, 2, 3, 0]], degree=4))
    2
    """
    found, by = nontrivial(checked(gens, degree)), checked(by, degree)
    undone = inverses(by)
    done = 0
    while done < len(found):
        chain = StabiliserChain.from_generators(found, degree, seed)
        while done < len(found):
            conjugates = products(found[done][undone], by, np.arange(len(by)))
            new = conjugates[~chain.contains_many(conjugates)]
            if len(new):
                found = np.concatenate([found, new[:1]])
                break
            done += 1
    return found.astype(np.intp)


def loops_at_home(
    arrows: Iterable[tuple[Hashable, Hashable, ArrayLike]], home: Hashable, degree: int
) -> np.ndarray:
    """Generators, shape (k, n), of the group of all loops at one state, where the moves depend on the state.

    An arrow is (state before, state after, permutation), and may be walked backwards. Each arrow gives one
    loop: from home along a spanning tree to its start, along it, and back along the tree (Schreier's lemma,
    as in Seress 2003, 4.1, for a puzzle with several states). Identities and repetitions are left out.

    >>> swap, turn = [1, 0, 2], [1, 2, 0]
    >>> loops_at_home([("a", "b", turn), ("b", "a", turn), ("b", "b", swap)], home="a", degree=3).tolist()
    [[2, 0, 1], [2, 1, 0]]
    """
    arrows = list(arrows)
    steps = checked([p for _, _, p in arrows], degree)
    along: dict[Hashable, list[tuple[Hashable, np.ndarray]]] = {}
    for (start, end, _), step, undone in zip(arrows, steps, inverses(steps), strict=True):
        along.setdefault(start, []).append((end, step))
        along.setdefault(end, []).append((start, undone))
    path = {home: identities(1, steps)[0]}
    frontier = [home]
    for state in frontier:
        for reached, step in along.get(state, ()):
            if reached not in path:
                path[reached] = step[path[state]]
                frontier.append(reached)
    place = {state: i for i, state in enumerate(path)}
    kept = [i for i, (start, _, _) in enumerate(arrows) if start in path]
    forth = np.array(list(path.values()))
    starts, ends = ([place[arrows[i][side]] for i in kept] for side in (0, 1))
    there = products(forth[starts], steps, np.array(kept, dtype=np.intp))
    loops = products(there, inverses(forth), np.array(ends, dtype=np.intp))
    return np.unique(nontrivial(loops), axis=0).astype(np.intp)


def schreier_generators(gens: ArrayLike, point: int, degree: int) -> np.ndarray:
    """Generators, shape (k, n), of the stabiliser of one point (Schreier's lemma; Seress 2003, 4.1).

    >>> schreier_generators([[1, 2, 0]], point=0, degree=3).shape
    (0, 3)
    """
    rows = checked(gens, degree)
    return loops_at_home([(x, int(p[x]), p) for p in rows for x in range(degree)], point, degree)


def enumerate_group(gens: ArrayLike, degree: int, limit: int = 100_000) -> np.ndarray:
    """Every element, shape (order, n), breadth first from the identity; `OddswapError` beyond the limit.

    >>> enumerate_group([[1, 2, 0]], degree=3).tolist()
    [[0, 1, 2], [1, 2, 0], [2, 0, 1]]
    """
    rows = checked(gens, degree)
    frontier = identities(1, rows)
    found = {frontier.tobytes(): frontier[0]}
    while len(frontier):
        before = len(found)
        for p in rows:
            for element in p[frontier]:
                found.setdefault(element.tobytes(), element)
        if len(found) > limit:
            raise OddswapError(f"the group has more than {limit} elements, too many to list one by one")
        frontier = np.array(list(found.values())[before:])
    return np.array(list(found.values())).astype(np.intp)
