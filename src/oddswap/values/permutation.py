"""Permutations of 0 … n - 1 in image notation: ``p[i]`` is where i goes.

Any sequence of integers is read (tuple, list, numpy array); results are tuples. Composition is *first this,
then that*, from left to right, so permutations act on the right: *p then q* takes i to ``q[p[i]]``.
Only `permutation` and `from_cycles` check their input; the other functions trust it.
"""

import re
from collections.abc import Sequence
from math import lcm
from typing import Annotated

from oddswap.errors import BadPermutation, NotationError, quoted

Permutation = tuple[int, ...]


def permutation(images: Sequence[int]) -> Permutation:
    """The images as a tuple of ints; `BadPermutation` unless each of 0 … n - 1 stands there once.

    >>> permutation([2, 0, 1])
    (2, 0, 1)
    """
    try:
        found = tuple(int(i) for i in images)
    except (TypeError, ValueError):
        raise BadPermutation("a permutation is a list of whole numbers: where each place goes") from None
    if any(i != given for i, given in zip(found, images, strict=True)):
        raise BadPermutation("a permutation is a list of whole numbers, without fractions")
    if missing := set(range(len(found))).difference(found):
        raise BadPermutation(f"nothing goes to {min(missing)}: give each of 0 to {len(found) - 1} once")
    return found


Images = Annotated[Sequence[int], permutation]
"""What a public function takes: a door reads it by what stands beside the type."""


def compose(p: Sequence[int], q: Sequence[int]) -> Permutation:
    """First p, then q.

    >>> compose((1, 2, 0), (1, 0, 2))
    (0, 2, 1)
    """
    return tuple([int(q[i]) for i in p])


def inverse(p: Sequence[int]) -> Permutation:
    back = [0] * len(p)
    for i, image in enumerate(p):
        back[image] = i
    return tuple(back)


def support(p: Sequence[int]) -> tuple[int, ...]:
    """What p moves, in order."""
    return tuple(i for i, image in enumerate(p) if i != image)


def cycles(p: Images) -> tuple[tuple[int, ...], ...]:
    """The cycles of two or more, each from its smallest member, in the order of those.

    >>> cycles((1, 0, 2, 4, 5, 3))
    ((0, 1), (3, 4, 5))
    """
    found = []
    seen = [False] * len(p)
    for start in range(len(p)):
        cycle = []
        i = start
        while not seen[i]:
            seen[i] = True
            cycle.append(i)
            i = int(p[i])
        if len(cycle) > 1:
            found.append(tuple(cycle))
    return tuple(found)


def cycle_type(p: Images) -> tuple[int, ...]:
    """The lengths of all cycles, longest first, with a 1 for each fixed point.

    >>> cycle_type((1, 0, 2, 4, 5, 3))
    (3, 2, 1)
    """
    lengths = sorted((len(c) for c in cycles(p)), reverse=True)
    return (*lengths, *[1] * (len(p) - sum(lengths)))


def order(p: Sequence[int]) -> int:
    """How often p must be done until everything is back."""
    return lcm(*(len(c) for c in cycles(p)))


def sign_by_cycles(p: Images) -> int:
    """+1 or -1: a cycle of even length is odd.

    >>> sign_by_cycles([1, 0, 2]), sign_by_cycles([1, 2, 0])
    (-1, 1)
    """
    return -1 if sum(len(c) - 1 for c in cycles(p)) % 2 else 1


def sign_by_inversions(p: Images) -> int:
    """+1 or -1: the parity of the number of pairs that stand in the wrong order.

    >>> sign_by_inversions([1, 0, 2]), sign_by_inversions([1, 2, 0])
    (-1, 1)
    """
    return -1 if sum(p[i] > p[j] for j in range(len(p)) for i in range(j)) % 2 else 1


def sign_by_swaps(p: Images) -> int:
    """+1 or -1: the parity of the number of exchanges that sort p.

    >>> sign_by_swaps([1, 0, 2]), sign_by_swaps([1, 2, 0])
    (-1, 1)
    """
    images = list(p)
    parity = 1
    for i in range(len(images)):
        while (image := images[i]) != i:
            images[i], images[image] = images[image], image
            parity = -parity
    return parity


sign = sign_by_swaps
"""The fastest of the three."""


def from_cycles(text: str, labels: Sequence[object]) -> Permutation:
    """Read disjoint cycles; names are parted by spaces or commas, and a name left out stays where it is.

    The labels decide what the names are: ``range(5)`` counts from 0, ``range(1, 6)`` from 1, and any other
    names will do. `NotationError` where the text cannot be read.

    >>> from_cycles("(1 2 3)(4 5)", labels=range(1, 6))
    (1, 2, 0, 4, 3)
    >>> from_cycles("(UF UR)", labels=["UF", "UL", "UR"])
    (2, 1, 0)
    """
    index = {str(label): i for i, label in enumerate(labels)}
    images = list(range(len(index)))
    used: set[int] = set()
    cycle: list[int] | None = None
    for match in re.finditer(r"[()]|[^\s(),]+", text):
        word, column = match[0], match.start() + 1
        if word == "(":
            if cycle is not None:
                raise NotationError(text, column, "a cycle cannot stand inside another: close the first one")
            cycle = []
            opened = column
        elif cycle is None:
            raise NotationError(text, column, f"{quoted(word)} stands outside a cycle: write `(a b c)(d e)`")
        elif word == ")":
            for i, image in zip(cycle, cycle[1:] + cycle[:1], strict=True):
                images[i] = image
            cycle = None
        elif word not in index:
            known = ", ".join(list(index)[:6]) + (", …" if len(index) > 6 else "")
            raise NotationError(text, column, f"{quoted(word)} is not one of the names {known}")
        elif index[word] in used:
            raise NotationError(text, column, f"{quoted(word)} stands here a second time: write it once")
        else:
            used.add(index[word])
            cycle.append(index[word])
    if cycle is not None:
        raise NotationError(text, opened, "this cycle is never closed: add a `)`")
    return tuple(images)
