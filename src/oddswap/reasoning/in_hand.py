"""What was found as hands make it that hold the puzzle in their own way throughout."""

import re
from dataclasses import dataclass, replace
from itertools import takewhile

from oddswap.puzzles.base.puzzle import Puzzle, rotations_to
from oddswap.reasoning.answers import Answer
from oddswap.reasoning.checking.check import Lost, Trial
from oddswap.reasoning.checking.mistakes import Mistake
from oddswap.reasoning.ways.findings import Phase
from oddswap.values.notation import write
from oddswap.values.position import START, Holding
from oddswap.values.sequence import ROTATIONS

MOVE = re.compile(r"[^\s\[\]():,^]*[A-Za-z][^\s\[\]():,^]*")
"""A move in a text of moves, brackets and all."""
WHOLE = tuple(f"{axis}{amount}" for axis in ROTATIONS for amount in ("", "2", "'"))


@dataclass(frozen=True)
class InHand:
    """``answer`` has its moves as hands say them that hold what was described as in ``holding``.

    ``eye`` is how they hold the puzzle as the diagnosis has it: its slots are named by that, its arrangements drawn from there.
    ``first`` are whole-puzzle rotations to be made first, where those hands have not the turns of the way out. ``way`` is the
    way out that is easiest to follow, empty where there is none.
    """

    answer: Answer
    holding: Holding
    eye: Holding
    way: str
    first: str = ""

    @property
    def held(self) -> str:
        """The whole-puzzle rotations that lead to ``eye``."""
        return " ".join(rotations_to(self.eye, WHOLE))


def in_hand(answer: Answer, holding: Holding = START) -> InHand:
    """The answer for somebody who holds the puzzle as in ``holding``, where that has the turns of the way out; else for the
    holding that the answer has it in.

    >>> from oddswap.puzzles.catalogue import load
    >>> from oddswap.reasoning.answers import answer
    >>> cube, copy = load("cube:2"), load("cube:2,turns=R+U")
    >>> in_hand(answer(cube, cube.appearance(cube.follow("R U"))), START.turned("y")).way
    "U' B'"
    >>> done = in_hand(answer(copy, copy.appearance(copy.follow("R U y"))))
    >>> done.way, done.holding.own("F")
    ("U' R'", 'L')
    """
    puzzle, from_there = answer.turning, answer.turning.settled(answer.held)[1]
    moves = answer.easiest.turns if answer.easiest else ""
    if not puzzle.alphabet.is_box:
        return InHand(answer, START, START, f"{answer.held} {moves}".strip() if moves else "", answer.held)
    described = from_there.inverse.moves_by_hand(puzzle.read(moves).steps)
    if answer.held and any(str(step) not in puzzle.turns for step in described):
        return InHand(answer, from_there, START, moves, answer.held)
    eye = holding.after(from_there.inverse)
    return InHand(_said_from(answer, eye), holding, eye, said_from(puzzle, moves, eye))


def from_solved(answer: Answer, holding: Holding) -> Holding:
    """How hands hold what was described that hold a solved puzzle as in ``holding`` when they begin its set-up."""
    puzzle = answer.turning
    if not puzzle.alphabet.is_box:
        return START
    eye = holding.after(puzzle.settled(" ".join(rotations_first(answer.set_up)))[1].inverse)
    return eye.after(puzzle.settled(answer.held)[1])


def rotations_first(moves: str | None) -> list[str]:
    """The whole-puzzle rotations with which moves begin, such as those of a set-up."""
    return list(takewhile(lambda move: move[0] in ROTATIONS, (moves or "").split()))


def said_from(puzzle: Puzzle, moves: str, eye: Holding) -> str:
    """The same moves as hands say them that hold the puzzle so, in the same brackets."""
    return MOVE.sub(lambda move: write(eye.moves_by_hand(puzzle.read(move[0]).steps)), moves) if eye != START else moves


def trial_in_hand(puzzle: Puzzle, tried: Trial, holding: Holding) -> Trial:
    """What came of a sequence, its turns as hands say them that hold the puzzle so."""
    near = tuple(
        replace(n, moves=said_from(puzzle, n.moves, holding), changes=_mistakes_from(puzzle, n.changes, holding))
        for n in tried.near
    )
    return replace(tried, turns=_names_from(puzzle, tried.turns, holding), near=near)


def lost_in_hand(puzzle: Puzzle, lost: Lost, holding: Holding) -> Lost:
    """Where one may be, its turns as hands say them that hold the puzzle so."""
    parts = ("made", "undo", "rest")
    places = (
        replace(
            place,
            mistakes=_mistakes_from(puzzle, place.mistakes, holding),
            **{part: _names_from(puzzle, getattr(place, part), holding) for part in parts},
        )
        for place in lost.places
    )
    return replace(lost, places=tuple(places))


def _names_from(puzzle: Puzzle, names: tuple[str, ...], eye: Holding) -> tuple[str, ...]:
    return tuple(said_from(puzzle, name, eye) for name in names)


def _mistakes_from(puzzle: Puzzle, mistakes: tuple[Mistake, ...], eye: Holding) -> tuple[Mistake, ...]:
    named = ((_names_from(puzzle, m.made, eye), m.turn and said_from(puzzle, m.turn, eye)) for m in mistakes)
    return tuple(replace(m, made=made, turn=turn) for m, (made, turn) in zip(mistakes, named, strict=True))


def _said_from(answer: Answer, eye: Holding) -> Answer:
    if eye == START or answer.way_out is None or answer.way_out.moves is None:
        return answer
    puzzle = answer.turning

    def said(moves: str) -> str:
        return said_from(puzzle, moves, eye)

    def phased(phases: tuple[Phase, ...]) -> tuple[Phase, ...]:
        return tuple(replace(phase, moves=said(phase.moves)) for phase in phases)

    told = tuple(replace(way, moves=said(way.moves), turns=said(way.turns), phases=phased(way.phases)) for way in answer.told)
    way = replace(answer.way_out, moves=said(answer.way_out.moves), phases=phased(answer.way_out.phases))
    laid, made = (moves and said(moves) for moves in (answer.set_up, answer.made))
    return replace(answer, way_out=way, set_up=laid, made=made, told=told)
