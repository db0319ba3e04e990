"""Scrambles for filming, and for workshops, after which a plan surely meets trouble."""

from random import Random

from oddswap.errors import BadOption, BadPlan
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.whole_turns import turns_fit_every_holding
from oddswap.reasoning.budget import Limit, started
from oddswap.reasoning.laws.lookalikes import lookalikes
from oddswap.reasoning.teaching.carried_out import CarriedOut, carry_out
from oddswap.reasoning.teaching.plans import Plan

TRIES = 40
"""So many scrambles are tried at most."""


def trouble_scramble(puzzle: Puzzle, plan: Plan, length: int = 20, seed: int = 0, budget: Limit = None) -> tuple[str, CarriedOut]:
    """A scramble of ``length`` turns, drawn by ``seed``, and the plan carried out after it, which meets trouble.

    Where nothing fixes the holding, the puzzle is held another way at the end. `BadPlan` for a puzzle on which nothing
    can be mistaken for something else, and where no scramble that was tried leads to trouble.
    """
    if length < 1:
        raise BadOption(f"a scramble of {length} turns is none: ask for at least one")
    if puzzle.shape_first:
        raise BadPlan(
            f"no scramble is drawn for {puzzle.name}, whose {puzzle.shape_word} decides the turns: give turns of your own"
        )
    if not _may_mislead(puzzle):
        raise BadPlan(f"{puzzle.name} has no lookalikes and its holding is fixed, so no scramble leads to a false parity on it")
    random, clock = Random(seed), started(budget)
    for tried in range(TRIES):
        if tried and clock.spent:
            raise BadPlan(f"the time ended after {tried} scrambles, none of which leads to trouble: give more seconds")
        moves = " ".join(_drawn(puzzle, length, random))
        if puzzle.rotations and turns_fit_every_holding(puzzle):
            moves += f" {random.choice(list(puzzle.rotations))}"
        done = carry_out(puzzle, plan, puzzle.follow(moves), clock)
        if done.troubles and done.finished:
            return moves, done
    raise BadPlan(f"none of {TRIES} scrambles of {length} turns of {puzzle.name} leads to trouble: ask for more turns")


def _may_mislead(puzzle: Puzzle) -> bool:
    """Whether the holding is free for the same turns, or pieces that change places have twins or turn unseen."""
    families = lookalikes(puzzle).of_pieces
    return bool(puzzle.rotations and turns_fit_every_holding(puzzle)) or any(
        len(family.kind.slots) > 1 and (len(family.pieces) > 1 or family.hidden > 1) for family in families
    )


def _drawn(puzzle: Puzzle, length: int, random: Random) -> list[str]:
    """Turns of which no two neighbours turn the same slab, nor three in a row slabs of one axis."""
    turns, names = list(puzzle.turns), []
    lines = {name: {turn.axis, tuple(-part for part in turn.axis)} for name, turn in puzzle.turns.items()}

    def follows(name: str) -> bool:
        same_slab = names and puzzle.turns[names[-1]].step.name == puzzle.turns[name].step.name
        return not same_slab and [puzzle.turns[before].axis in lines[name] for before in names[-2:]] != [True, True]

    while len(names) < length:
        if not any(map(follows, turns)):
            raise BadPlan(f"{puzzle.name} turns about one axis only, and no scramble is longer than 2 turns there: ask for 2")
        name = random.choice(turns)
        if follows(name):
            names.append(name)
    return names
