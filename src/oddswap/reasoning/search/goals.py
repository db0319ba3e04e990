"""Goals with don't-cares: only some slots must look right, and what shows elsewhere does not matter.

Such a goal is one state in which every other slot shows nothing in particular, and moves act on it as on any state. The
start is seen through the same mask: the pieces that the goal speaks of show their looks, all others show nothing in
particular. Where pieces look alike, each choice of those that fill the wanted slots is a start of its own, so no way is
overlooked and a lower bound is one for all of them. Where slots may be empty, what shows nothing in particular still
shows whether it is there. A goal on a box is closed; on wedges it may have any outline.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import combinations, product
from math import comb, prod

import numpy as np

from oddswap.errors import NoSuchGoal
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.shape_tree import STAGES, around_home
from oddswap.reasoning.laws.lookalikes import TwinFamily, lookalikes
from oddswap.reasoning.search.seen import SeenModel, looks_of, within_shapes
from oddswap.reasoning.search.words import Moves, first_rows
from oddswap.values.orbits import gathered
from oddswap.values.position import Appearance

CHOICES = 100_000
"""At most so many choices of look-alike pieces are searched from."""


@dataclass(frozen=True, eq=False)
class PartTask:
    """A search to a goal with don't-cares: with ``moves`` from any of ``start`` (n, slots) to any of ``goals`` (m, slots).

    States have one code more than the puzzle's, for *nothing in particular*, and only the kinds that matter.
    """

    moves: Moves
    start: np.ndarray
    goals: np.ndarray
    names: tuple[str, ...]

    def named(self, word: list[int]) -> tuple[str, ...]:
        """The turns that a word of moves stands for."""
        return tuple(self.names[move] for move in word)


def goal(puzzle: Puzzle, slots: Iterable[str], like: Appearance | None = None) -> Appearance:
    """The appearance that shows at ``slots`` what ``like`` shows there (solved, when left out), and nothing elsewhere.

    >>> from oddswap.puzzles.catalogue import load
    >>> cross = goal(load("cube:3"), ["DF", "DB", "DL", "DR"])
    >>> sum(len(sight) == 1 for sight in cross.sights[8:20])
    4
    """
    wanted = {puzzle.slot(name) for name in slots}
    like = like or puzzle.appearance(puzzle.solved)
    sights = (s if b in wanted else looks_of(puzzle, k) for b, (k, s) in enumerate(zip(puzzle.kind_of, like.sights, strict=True)))
    return Appearance(puzzle.name, tuple(sights))


def shows(appearance: Appearance, wanted: Appearance) -> bool:
    """Whether an appearance shows what a goal wants, held as it is."""
    return all(seen <= sight for seen, sight in zip(appearance.sights, wanted.sights, strict=True))


def part_task(model: SeenModel, names: tuple[str, ...], start: np.ndarray, wanted: Appearance) -> PartTask:
    """The search with the named turns from a packed state to a goal with don't-cares, in any holding where that is free.

    `NoSuchGoal` where no arrangement of the pieces shows it.
    """
    masked, starts, goals = seen_through(model, start, wanted)
    chosen = [masked.names.index(name) for name in names]
    turns = Moves.of(masked.source[chosen], masked.lut[chosen])
    if model.blank is not None:
        return PartTask(turns.sliding(model.blank, model.ends[chosen]), starts, goals, names * 2)
    firsts = first_rows(turns.flat)
    goals = masked.closure(goals, model.puzzle.rotations)
    return PartTask(within_shapes(masked, turns.distinct), starts, goals, tuple(names[i] for i in firsts))


def seen_through(model: SeenModel, start: np.ndarray, wanted: Appearance) -> tuple[SeenModel, np.ndarray, np.ndarray]:
    """The model with its mask, every start, and the goal (one row, or one for each place that the blank may have)."""
    codes = _wanted(model, wanted)
    masked, kept = _masked(model, frozenset(model.puzzle.kind_of[model.slots[place]].first for place in codes))
    hollow, at, solid = _hollow(model), np.arange(len(start)), np.zeros((len(start), model.codes), dtype=bool)
    if hollow:
        solid = model.puzzle.solid(model.slots)
    before, pattern = ((model.codes + solid[at, state]).astype(np.uint8) for state in (start, model.solved))
    air = [place for place, code in codes.items() if hollow and not solid[place, code]]
    pattern[air] = model.codes
    codes = {place: code for place, code in codes.items() if place not in air}
    goals = pattern[None]
    if hollow and not model.puzzle.leaves_outline:
        goals = model.codes + _outlines(model)
        goals = goals[(goals[:, air] == model.codes).all(axis=1) & (goals[:, list(codes)] > model.codes).all(axis=1)]
    goals[:, list(codes)] = list(codes.values())
    if model.puzzle.bound:
        goals = np.array([np.where(placed >= 0, placed, goals[0]) for placed in _placed(model, wanted)], dtype=np.uint8)
        before = next(np.where(placed >= 0, placed, before) for placed in _placed(model, model.unpack(start))).astype(np.uint8)
    if model.blank is not None and model.blank not in codes.values():
        free = np.setdiff1d(np.arange(len(pattern)), list(codes))
        goals = np.repeat(goals, len(free), axis=0)
        goals[np.arange(len(free)), free] = model.blank
        before[start == model.blank] = model.blank
    choices = _choices(model, start, codes)
    starts = np.repeat(before[None], len(choices), axis=0)
    for row, places in zip(starts, choices, strict=True):
        row[places] = start[places]
    return masked, np.unique(starts[:, kept], axis=0), goals[:, kept]


def _hollow(model: SeenModel) -> bool:
    """Whether the shape of a puzzle is which of its slots are filled."""
    return model.puzzle.shape_first and bool(model.puzzle.void)


def _outlines(model: SeenModel) -> np.ndarray:
    """Which places are filled in each outline that turns give: uint8, shape (n, slots)."""
    shapes = around_home(model.puzzle, STAGES[1])
    if not shapes.whole:
        raise NoSuchGoal(f"{model.puzzle.name} has too many shapes for a goal with open slots: name every slot")
    return np.unpackbits(shapes.rows, axis=1, count=len(model.puzzle.slots))[:, model.slots]


def _placed(model: SeenModel, appearance: Appearance) -> Iterator[np.ndarray]:
    """For each shape that an appearance may have, what the pieces of the shape show in the places that are kept; -1 elsewhere."""
    puzzle = model.puzzle
    for image in puzzle.standing(appearance):
        arrangement = puzzle.arrangement(image)
        there = np.isin(arrangement.pieces, list(puzzle.bound))[model.slots]
        yield np.where(there, model.pack(puzzle.appearance(arrangement)).astype(int), -1)


def _wanted(model: SeenModel, wanted: Appearance) -> dict[int, int]:
    """The look that each wanted place must show, by the place among the model's slots."""
    puzzle, codes = model.puzzle, {}
    for place, b in enumerate(model.slots):
        looks, sight = looks_of(puzzle, puzzle.kind_of[b]), wanted.sights[b]
        if len(sight) == 1 and sight <= looks:
            codes[place] = next(iter(sight))
        elif not sight >= looks:
            what = "one of several looks" if sight else "what no piece shows there"
            raise NoSuchGoal(f"the goal wants {what} at {puzzle.slots[b]}: name one look of its kind, or leave it open")
    if not codes:
        raise NoSuchGoal("the goal leaves every slot open: name at least one that must look right")
    return codes


@lru_cache(maxsize=32)
def _masked(model: SeenModel, kinds: frozenset[int]) -> tuple[SeenModel, np.ndarray]:
    """The model with one code more, without the kinds that do not matter; and the places that it keeps.

    Where there is a shape all are kept. Where slots may be empty there are two codes more: nothing there, and something.
    """
    hollow, every = _hollow(model), model.puzzle.shape_first
    kept = np.flatnonzero([every or model.puzzle.kind_of[b].first in kinds for b in model.slots])
    more = np.arange(model.codes, model.codes + 1 + hollow)
    if more[-1] > 255:
        raise NoSuchGoal(f"{model.puzzle.name} has too many looks for a goal with open slots: {256 - len(more)} fit")
    extra = np.broadcast_to(more.astype(np.uint8), (len(model.names), len(kept), len(more)))
    source, lut = (
        np.searchsorted(kept, model.source[:, kept]).astype(np.uint8),
        np.concatenate([model.lut[:, kept], extra], axis=2),
    )
    return replace(model, slots=model.slots[kept], codes=model.codes + len(more), source=source, lut=lut), kept


def _choices(model: SeenModel, start: np.ndarray, codes: dict[int, int]) -> list[list[int]]:
    """For each choice of the pieces that fill the wanted slots, where they are at the start."""
    families = _family_of_look(model.puzzle)
    by_family = gathered(codes, lambda place: families[model.puzzle.kind_of[model.slots[place]].first, codes[place]])
    firsts = (model.puzzle.kind_of[b].first for b in model.slots)
    shown, picks = [families.get((first, int(code))) for first, code in zip(firsts, start, strict=True)], []
    for family, wanted in by_family.items():
        there = [place for place, one in enumerate(shown) if one is family]
        if len(there) < len(wanted):
            names = ", ".join(model.puzzle.slots[model.slots[place]] for place in wanted)
            raise NoSuchGoal(
                f"no arrangement satisfies this goal: it wants {len(wanted)} pieces at {names} that look like the "
                f"{model.puzzle.slots[family.pieces[0]]} piece, and there are {len(there)}"
            )
        picks.append((there, len(wanted)))
    if prod(comb(len(there), k) for there, k in picks) > CHOICES:
        raise NoSuchGoal(f"the goal leaves open which of the equal pieces fill it in more than {CHOICES} ways: name more slots")
    return [[p for part in parts for p in part] for parts in product(*(combinations(there, k) for there, k in picks))]


def _family_of_look(puzzle: Puzzle) -> dict[tuple[int, int], TwinFamily]:
    return {
        (family.kind.first, int(puzzle.looks[puzzle.base_label[family.pieces[0]] + twist])): family
        for family in lookalikes(puzzle).families
        for twist in range(family.kind.twist)
    }
