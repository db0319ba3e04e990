"""Teams: pieces that stay together, whatever is turned, and the finer sectors that a puzzle has where they do.

The slots of one sector, or of several together, fall into teams such that every turn takes a whole team to a whole team: blocks
of imprimitivity, common to these sectors. With k teams of which each has b slots of a sector, that sector's pieces are rearranged
as in S_b ≀ S_k, all with the same rearrangement of teams; where the b of a team only go round in a circle, as in C_b ≀ S_k. Three
sorts of finer sectors say so: the teams themselves (`Teams`), those who are in them (`Shares`), and circles as twists (`Rings`).
They have signs and twist sums like all sectors, so that laws are read off them alike.

Source of the search for blocks: M. D. Atkinson, Math. Comp. 29 (1975) 911–913 (`orbits.block_system`).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import factorial

import numpy as np

from oddswap.puzzles.base.symmetry import followed
from oddswap.reasoning.groups.stabiliser_chain import ring_of, turns_over
from oddswap.reasoning.laws.sectors import Sector
from oddswap.values.orbits import block_system

TIED = 5
"""Sectors of fewer slots are kept whole by the image and need no teams."""

Blocks = tuple[tuple[int, ...], ...]
"""A sector's rows by team, in the order of the teams."""


@dataclass(frozen=True)
class Shares(Sector):
    """The slots of a sector in ``teams`` teams, ``share`` in each: what is left to say once the teams are placed."""

    teams: int
    share: int

    @property
    def signed(self) -> bool:
        return self.share > 1

    @property
    def assembly_order(self) -> int:
        return self.twist ** len(self.slots) * factorial(self.share) ** self.teams


@dataclass(frozen=True)
class Rings(Sector):
    """Teams of which a member's share only goes round in a circle: a slot for each team, how far round for its twist."""

    teams: Teams
    member: Sector
    circles: Blocks

    @classmethod
    def of(cls, teams: Teams, member: Sector, circles: Blocks) -> Rings:
        slots = tuple(member.slots[circle[0]] for circle in circles)
        return cls(member.kind, slots, member.labels[np.array(circles), 0], False, teams, member, circles)

    @cached_property
    def place(self) -> dict[int, tuple[int, int]]:
        at = {row: (team, step) for team, circle in enumerate(self.circles) for step, row in enumerate(circle)}
        return {label: at[row] for label, (row, _) in self.member.place.items()}

    @property
    def signed(self) -> bool:
        return False

    @property
    def assembly_order(self) -> int:
        return self.twist ** len(self.slots)

    def kept(self, permutation: np.ndarray) -> bool:
        images = np.array([self.place[label] for label in permutation[self.labels.ravel()].tolist()])
        team, step = images.T.reshape(2, *self.labels.shape)
        round_by = (step - np.arange(self.twist)) % self.twist
        return bool((team == team[:, :1]).all() and (round_by == round_by[:, :1]).all())


@dataclass(frozen=True)
class Teams(Sector):
    """A sector of which the slots are teams; ``blocks`` are the rows of each of its ``members`` by team.

    ``round`` tells for each member whether its share in a team goes round in a circle, in the order of its blocks.
    """

    members: tuple[Sector, ...]
    blocks: tuple[Blocks, ...]
    round: tuple[bool, ...]

    @classmethod
    def of(cls, members: Sequence[Sector], blocks: Sequence[Blocks], round: Sequence[bool]) -> Teams:
        first = members[0]
        slots = tuple(first.slots[team[0]] for team in blocks[0])
        labels = first.labels[[team[0] for team in blocks[0]], :1]
        return cls(first.kind, slots, labels, False, tuple(members), tuple(blocks), tuple(round))

    @cached_property
    def place(self) -> dict[int, tuple[int, int]]:
        found = {}
        for member, blocks in zip(self.members, self.blocks, strict=True):
            for number, rows in enumerate(blocks):
                found.update((label, (number, 0)) for label in member.labels[list(rows)].ravel().tolist())
        return found

    @cached_property
    def rings(self) -> tuple[Rings, ...]:
        """The members whose shares go round in circles, as sectors."""
        found = zip(self.members, self.blocks, self.round, strict=True)
        return tuple(Rings.of(self, member, blocks) for member, blocks, is_round in found if is_round)

    def kept(self, permutation: np.ndarray) -> bool:
        """Whether a label permutation that keeps the members takes every team to a team, and every circle round."""
        for team in range(len(self.slots)):
            shares = zip(self.members, self.blocks, strict=True)
            labels = np.concatenate([member.labels[list(blocks[team]), 0] for member, blocks in shares])
            if len({self.place[label] for label in permutation[labels].tolist()}) > 1:
                return False
        return all(ring.kept(permutation) for ring in self.rings)

    def finer(self) -> Iterator[Sector]:
        """The sectors that stand for the members."""
        yield self
        yield from self.rings
        for member, blocks, is_round in zip(self.members, self.blocks, self.round, strict=True):
            share = 1 if is_round else len(blocks[0])
            if member.twist > 1 or share > 1:
                yield Shares(member.kind, member.slots, member.labels, member.whole, len(blocks), share)


def teams_of(parts: Sequence[Sector], generators: Sequence[np.ndarray]) -> tuple[Teams, ...]:
    """The teams of the sectors of five slots or more: of each the strictest division, and what moves alike gathered.

    >>> from oddswap.puzzles.catalogue import load
    >>> from oddswap.reasoning.laws.sectors import sectors
    >>> box = load("cuboid:1x4x4")
    >>> [[len(team) for team in teams.blocks[0]] for teams in teams_of(sectors(box, box.generators), box.generators)]
    [[4, 4]]
    """
    gathered: list[tuple[np.ndarray, list[Sector], list[Blocks], list[bool]]] = []
    for sector in parts:
        if len(sector.slots) < TIED:
            continue
        rows = np.array([[sector.place[label][0] for label in g[sector.labels[:, 0]].tolist()] for g in generators])
        blocks, goes_round = _strictest(rows)
        moved = _moved(rows, blocks)
        for leader, members, divisions, is_round in gathered:
            if (order := _alike(leader, moved)) is not None:
                members.append(sector)
                divisions.append(tuple(blocks[team] for team in order))
                is_round.append(goes_round)
                break
        else:
            gathered.append((moved, [sector], [blocks], [goes_round]))
    return tuple(
        Teams.of(members, divisions, is_round)
        for _, members, divisions, is_round in gathered
        if len(members) > 1 or len(divisions[0][0]) > 1
    )


def refined(parts: Sequence[Sector], teams: Sequence[Teams]) -> tuple[Sector, ...]:
    """The sectors with those in teams replaced by the finer ones."""
    members = {id(member) for each in teams for member in each.members}
    return (*(sector for sector in parts if id(sector) not in members), *(finer for each in teams for finer in each.finer()))


def _strictest(rows: np.ndarray) -> tuple[Blocks, bool]:
    """The division that leaves the fewest rearrangements, and whether its blocks go round; single slots if there is no other.

    Nothing is stricter than a ring of them all, which a law of its own speaks of.
    """
    count = rows.shape[1]
    single = tuple((row,) for row in range(count))
    if ring_of(rows, count):
        return single, False
    found = [(factorial(count), single, False)]
    for system in {block_system(rows, count, (0, other)) for other in range(1, count)}:
        if len(system) > 1:
            circles, size = _circles(rows, system), len(system[0])
            inside = factorial(size) if circles is None else size
            found.append((inside ** len(system) * factorial(len(system)), circles or system, circles is not None))
    return min(found)[1:]


def _moved(rows: np.ndarray, blocks: Blocks) -> np.ndarray:
    """How each generator moves the blocks, shape (generators, blocks)."""
    team = np.empty(rows.shape[1], dtype=np.intp)
    for number, block in enumerate(blocks):
        team[list(block)] = number
    return team[rows[:, [block[0] for block in blocks]]]


def _alike(one: np.ndarray, other: np.ndarray) -> list[int] | None:
    """For each team of one its counterpart in other, so that all generators move both alike; ``None`` if there is none."""
    if one.shape != other.shape:
        return None
    for start in range(one.shape[1]):
        counterpart = np.full(one.shape[1], -1)
        counterpart[0] = start
        if followed(counterpart, 0, list(zip(one, other, strict=True))) and len({*counterpart.tolist()} - {-1}) == one.shape[1]:
            return counterpart.tolist()
    return None


def _circles(rows: np.ndarray, blocks: Blocks) -> Blocks | None:
    """The blocks, each in the order in which its slots go round, where in a block they do nothing else; else ``None``."""
    size = len(blocks[0])
    moved = _moved(rows, blocks)
    carried, queue = {0: np.array(blocks[0])}, [0]
    for team in queue:
        for step, row in zip(moved, rows, strict=True):
            if step[team] not in carried:
                carried[int(step[team])] = row[carried[team]]
                queue.append(int(step[team]))
    inside = set()
    for team, images in carried.items():
        for step, row in zip(moved, rows, strict=True):
            at = {int(x): i for i, x in enumerate(carried[int(step[team])])}
            inside.add(tuple(at[int(x)] for x in row[images]))
    ring = ring_of(list(inside), size)
    if ring is None or any(turns_over(ring, element) for element in inside):
        return None
    return tuple(tuple(carried[team][[*ring]].tolist()) for team in range(len(blocks)))
