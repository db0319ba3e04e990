"""Boxes as stickers on integer cells, with turns by their names and every way to hold them, independent of the puzzle engine.

A sticker is a cell and a direction out of it. In the middle of a face, where a piece only turns in its place, four marks along
the face stand for the sticker. Cells have coordinates from -(n - 1) to n - 1 in steps of two. A permutation says where each
place goes.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache
from itertools import product
from random import Random

Vector = tuple[int, int, int]
Perm = tuple[int, ...]
OUT: dict[str, Vector] = {"U": (0, 1, 0), "D": (0, -1, 0), "F": (0, 0, 1), "B": (0, 0, -1), "L": (-1, 0, 0), "R": (1, 0, 0)}
RINGS = {"U": "FLBR", "D": "FRBL", "F": "URDL", "B": "ULDR", "L": "UFDB", "R": "UBDF"}
"""Where a quarter turn clockwise, looked at from outside, takes what faces each way: from the first to the second, and so on."""
ROTATIONS = {"x": "R", "y": "U", "z": "F"}


class Box:
    """The box of width, height and depth ``sides``; ``bare``: nothing is seen in the middle of a face, nor counted."""

    def __init__(self, sides: Vector, bare: bool = False):
        self.sides = sides
        self.places: list[tuple[Vector, Vector]] = []
        self.colours: list[str] = []
        for cell in product(*(range(1 - n, n, 2) for n in sides)):
            for face, way in OUT.items():
                axis = next(a for a in range(3) if way[a])
                if cell[axis] != way[axis] * (sides[axis] - 1):
                    continue
                middle = all(not c or way[a] for a, c in enumerate(cell)) and sides.count(1) < 2
                touching = sum(abs(c) == n - 1 for c, n in zip(cell, sides, strict=True))
                if bare and touching == 1:
                    continue
                marks = [side for side in OUT.values() if not side[axis]] if middle and touching == 1 else [way]
                for mark in marks:
                    self.places.append((cell, mark))
                    self.colours.append(face)
        self.number = {place: i for i, place in enumerate(self.places)}
        self.still = tuple(range(len(self.places)))
        self.rotations = self._rotations()

    def turn(self, name: str) -> Perm:
        """The turn or rotation of that name."""
        depth, letter, amount = re.fullmatch(r"(\d*)([UDFBLRxyz])(2|'|)", name).groups()
        quarters, face = {"": 1, "2": 2, "'": 3}[amount], ROTATIONS.get(letter, letter)
        axis = next(a for a in range(3) if OUT[face][a])
        layer = None if letter in ROTATIONS else OUT[face][axis] * (self.sides[axis] + 1 - 2 * int(depth or 1))
        image = []
        for cell, way in self.places:
            if layer is None or cell[axis] == layer:
                for _ in range(quarters):
                    cell, way = turned(cell, face), turned(way, face)
            image.append(self.number[cell, way])
        return tuple(image)

    def made(self, moves: str) -> Perm:
        """The permutation of a sequence."""
        image = self.still
        for name in moves.split():
            image = then(image, self.turn(name))
        return image

    def _rotations(self) -> list[Perm]:
        """Every rotation that keeps the outline: by a quarter where the two sides across are equal, else by a half."""
        names = []
        for axis, letter in enumerate("xyz"):
            across = [n for a, n in enumerate(self.sides) if a != axis]
            names.append(letter if across[0] == across[1] else f"{letter}2")
        return closed([self.turn(name) for name in names], self.still)

    def is_carried(self, turns: Iterable[str]) -> bool:
        """Whether each rotation takes each of these turns to one of them."""
        every = {self.turn(name) for name in turns}
        return all(then(then(inverse(r), turn), r) in every for r in self.rotations for turn in every)

    def seen(self, image: Perm) -> str:
        """What an arrangement looks like: the colour at each place."""
        shown = [""] * len(image)
        for home, place in enumerate(image):
            shown[place] = self.colours[home]
        return "".join(shown)

    def reached(self, turns: Iterable[str], most: int = 10**6) -> dict[str, Perm]:
        """The appearances that turns lead to from solved, each with an arrangement, by walking on what is seen."""
        moves = [self.turn(name) for name in turns]
        found = {self.seen(self.still): self.still}
        for image in (queue := [self.still]):
            for move in moves:
                after = then(image, move)
                if (shown := self.seen(after)) not in found:
                    found[shown] = after
                    queue.append(after)
                    assert len(found) <= most
        return found

    def distances(self, turns: Iterable[str], reached: dict[str, Perm]) -> dict[str, int]:
        """How many turns it takes from each of these appearances to solved in any holding."""
        moves = [self.turn(name) for name in turns]
        far = {shown: 0 for r in self.rotations if (shown := self.seen(r)) in reached}
        for shown in (queue := list(far)):
            for move in moves:
                after = self.seen(then(reached[shown], move))
                if after not in far:
                    far[after] = far[shown] + 1
                    queue.append(after)
        return far


def turned(vector: Vector, face: str) -> Vector:
    """A quarter turn clockwise about a face, looked at from outside."""
    ring, image = RINGS[face], [0, 0, 0]
    for way, amount in ((way, sum(a * b for a, b in zip(vector, out, strict=True))) for way, out in OUT.items()):
        if amount > 0:
            to = OUT[ring[(ring.index(way) + 1) % 4]] if way in ring else OUT[way]
            image = [i + amount * t for i, t in zip(image, to, strict=True)]
    return (image[0], image[1], image[2])


def then(first: Perm, second: Perm) -> Perm:
    return tuple(second[place] for place in first)


def inverse(image: Perm) -> Perm:
    back = [0] * len(image)
    for here, there in enumerate(image):
        back[there] = here
    return tuple(back)


def closed(steps: list[Perm], still: Perm) -> list[Perm]:
    """Everything that these steps generate, where that is little."""
    found = {still}
    for image in (queue := [still]):
        for step in steps:
            if (after := then(image, step)) not in found:
                found.add(after)
                queue.append(after)
    return queue


@cache
def box_of(name: str) -> Box:
    """The box of a puzzle's name, whatever its turns."""
    head, *options = name.split(",")
    family, size = head.split(":")
    sides = tuple(map(int, size.split("x"))) if family == "cuboid" else (int(size),) * 3
    return Box(sides, "centres=none" in options)


def chosen(name: str) -> list[str]:
    """The turns of a puzzle's name, written out: R stands for R R2 R', and R2 for itself alone."""
    (listed,) = [part.removeprefix("turns=") for part in name.split(",") if part.startswith("turns=")]
    powers = {turn: ("2",) if turn.endswith("2") else ("", "2", "'") for turn in listed.split("+")}
    return list(dict.fromkeys(turn.rstrip("2'") + power for turn in powers for power in powers[turn]))


def random_moves(names: list[str], rng: Random, length: int) -> str:
    return " ".join(rng.choices(names, k=length))
