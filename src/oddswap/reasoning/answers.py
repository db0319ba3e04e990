"""The whole answer to one appearance: the diagnosis, a way out and a set-up where there is one."""

from __future__ import annotations

from dataclasses import dataclass, replace

from oddswap.puzzles.boxes import BoxPuzzle
from oddswap.puzzles.catalogue import load
from oddswap.puzzles.puzzle import Puzzle
from oddswap.reasoning.diagnosis import NOT_BY_TURNING, OTHER_TURNS, Diagnosis, diagnose
from oddswap.reasoning.held_ways import best_way_out
from oddswap.reasoning.outside_answer import ADVICE, NO_MODEL, found_outside, not_found_outside, told_outside
from oddswap.reasoning.search import Budget, Progress
from oddswap.reasoning.ways import Route, set_up
from oddswap.values.appearance import Appearance


@dataclass(frozen=True)
class Answer:
    """What is said about one appearance of a puzzle; ``way_out`` and ``set_up`` only where turning helps.

    Both speak of the puzzle as the diagnosis has it, which may be held otherwise than it was described.
    """

    puzzle: Puzzle
    appearance: Appearance
    diagnosis: Diagnosis
    way_out: Route | None
    set_up: str | None

    @property
    def verdict(self) -> str:
        return self.diagnosis.verdict

    @property
    def held(self) -> str:
        """The whole-puzzle rotations with which a way out begins, from how it was described."""
        return self.diagnosis.held

    @property
    def held_back(self) -> str:
        """Those with which a set-up ends, so that it makes what was described."""
        return self.puzzle.undone(self.held)

    @property
    def turning(self) -> Puzzle:
        """The puzzle with the turns that the way out is made of: all of them where this copy's do not lead out."""
        return _turning(self.puzzle, self.diagnosis)


def answer(
    puzzle: Puzzle,
    appearance: Appearance,
    budget: Budget | None = None,
    progress: Progress | None = None,
) -> Answer:
    """Diagnose an appearance and look for the shortest way out within ``budget``.

    >>> from oddswap.puzzles.catalogue import load
    >>> cube = load("cube:3")
    >>> found = answer(cube, cube.appearance(cube.follow("R U")))
    >>> found.verdict, found.way_out.moves, found.set_up
    ('ordinary', "U' R'", 'R U')
    """
    found = _answer(puzzle, appearance, budget, progress)
    if not found.held:
        return found
    note = f"it is held otherwise here than it was described: turn the whole puzzle by {found.held} first"
    return replace(found, diagnosis=replace(found.diagnosis, notes=(note, *found.diagnosis.notes)))


def _answer(puzzle: Puzzle, appearance: Appearance, budget: Budget | None, progress: Progress | None) -> Answer:
    diagnosis = diagnose(puzzle, appearance)
    if diagnosis.verdict == NOT_BY_TURNING and diagnosis.first is not None:
        outside = found_outside(puzzle, diagnosis, budget or Budget())
        if outside is not None:
            return Answer(puzzle, appearance, *outside)
        diagnosis = replace(diagnosis, notes=(*diagnosis.notes, *not_found_outside(puzzle)))
    if diagnosis.explanation is None:
        return Answer(puzzle, appearance, diagnosis, None, None)
    turning = _turning(puzzle, diagnosis)
    diagnosis, way = best_way_out(turning, diagnosis, budget, progress)
    route = set_up(turning, way, diagnosis.explanation)
    if isinstance(turning, BoxPuzzle):
        way = told_outside(turning, diagnosis.explanation, way, budget or Budget())
        if way.phases:
            diagnosis = replace(diagnosis, notes=(*diagnosis.notes, ADVICE, NO_MODEL))
    return Answer(puzzle, appearance, diagnosis, way, route)


def _turning(puzzle: Puzzle, diagnosis: Diagnosis) -> Puzzle:
    return load(diagnosis.explanation.puzzle) if diagnosis.verdict == OTHER_TURNS else puzzle
