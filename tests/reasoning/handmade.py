"""Puzzles without a body, made of kinds and moves: for groups that no solid has."""

from collections.abc import Iterable, Sequence

import numpy as np

from oddswap.puzzles.base.named import NamedPuzzle, named_puzzle
from oddswap.puzzles.base.puzzle import Kind
from oddswap.values.orbits import numbered

Shape = tuple[int, int]
"""How many slots a kind has, and in how many ways round a piece can be."""


def kinds_of(shapes: Iterable[Shape]) -> list[Kind]:
    kinds, first, start = [], 0, 0
    for number, (slots, twist) in enumerate(shapes):
        names = tuple(f"{chr(97 + number)}{i + 1}" for i in range(slots))
        kinds.append(Kind(f"kind {number + 1}", "pieces", names, twist, first, start))
        first, start = first + slots * twist, start + slots
    return kinds


def handmade(shapes: Sequence[Shape], moves: np.ndarray, looks: Sequence[int] | None = None) -> NamedPuzzle:
    """The puzzle of these kinds and moves, each a permutation of labels that is not the identity; all pieces differ."""
    kinds = kinds_of(shapes)
    labels = sum(slots * twist for slots, twist in shapes)
    looks = range(labels) if looks is None else looks
    per_kind = [look for kind in kinds for look in numbered([looks[label] for label in kind.labels])]
    named = {f"m{i + 1}": [int(x) for x in move] for i, move in enumerate(moves)}
    return named_puzzle("handmade", "a puzzle made for a test", kinds, named, per_kind, None)


def any_assembly(kinds: Iterable[Kind], rng: np.random.Generator) -> np.ndarray:
    """Every piece put in at random, as a label permutation."""
    images = []
    for kind in kinds:
        for slot in rng.permutation(len(kind.slots)):
            base = kind.first + kind.twist * int(slot)
            images.extend(base + (np.arange(kind.twist) + rng.integers(kind.twist)) % kind.twist)
    return np.array(images)


def any_move(kinds: Sequence[Kind], rng: np.random.Generator) -> np.ndarray:
    """A move of one or several kinds: of each some pieces go round, and some turn in their slots."""
    images = np.arange(kinds[-1].labels.stop)
    while (images == np.arange(len(images))).all():
        for kind in kinds:
            if rng.random() < 0.7:
                moving = rng.permutation(len(kind.slots))[: rng.integers(1, len(kind.slots) + 1)]
                twists = rng.integers(kind.twist, size=len(moving)) * (rng.random(len(moving)) < 0.6)
                for slot, target, twist in zip(moving, np.roll(moving, 1), twists, strict=True):
                    way = np.arange(kind.twist)
                    images[kind.first + kind.twist * slot + way] = kind.first + kind.twist * target + (way + twist) % kind.twist
    return images


def any_looks(kinds: Iterable[Kind], rng: np.random.Generator) -> list[int]:
    """Some kinds with twins or hidden turns; a look for each label."""
    looks = []
    for kind in kinds:
        sorts, step = max(1, int(rng.integers(1, len(kind.slots) + 1))), int(rng.choice(divisors(kind.twist)))
        sorts = len(kind.slots) if rng.random() < 0.4 else sorts
        for slot in range(len(kind.slots)):
            turned = int(rng.integers(kind.twist))
            looks.extend((slot % sorts) * kind.twist + (turned + t) % step for t in range(kind.twist))
    return looks


def divisors(n: int) -> list[int]:
    return [d for d in range(1, n + 1) if n % d == 0]
