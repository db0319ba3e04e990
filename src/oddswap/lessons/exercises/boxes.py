"""Exercises on boxes that leave their outline: out and back with the law of the two fours kept, and a box brought home."""

from __future__ import annotations

from collections.abc import Sequence

from oddswap.describing.changes import changed
from oddswap.errors import OddswapError
from oddswap.lessons.exercises.written import written
from oddswap.lessons.pictures.in_and_out import ended_elsewhere
from oddswap.lessons.pictures.two_fours import signs_of_fours
from oddswap.puzzles.boxes.box import BoxPuzzle
from oddswap.puzzles.boxes.lifting import lifted
from oddswap.puzzles.catalogue import load, with_turns_out_of_the_box
from oddswap.reasoning.ways.way_out import looks_solved
from oddswap.showing.ink.notes import Note, kindly
from oddswap.values.arrangement import Arrangement
from oddswap.values.grammar import listed

EXAMPLE = "turns such as: U 2F2 RR2 2F2 U'"


@kindly
def check_return(moves: str, wanted: tuple[str, str], name: str = "cuboid:2x3x4") -> Note:
    """Whether turns take the box out of its outline and back, with the black and the white corners as ``wanted``.

    Every right answer is accepted, and any text at all gets a kind sentence.

    >>> check_return("U2", ("odd", "odd"))
    Not yet. Your turns never leave the outline. A quarter turn such as U does.
    """
    box, moves = with_turns_out_of_the_box(load(name)), written(moves, EXAMPLE)
    try:
        outlines = box.outlines(moves)
        end = box.follow(moves)
    except OddswapError as error:
        return Note(f"That cannot be turned yet: {error}.")
    if not box.closed(end):
        return _open(box, end)
    if all((outline == box.filled).all() for outline in outlines):
        return Note("Not yet. Your turns never leave the outline. A quarter turn such as U does.")
    signs = signs_of_fours(box, end)
    if signs is None:
        return Note("Not yet. It is a box again, but some corner of one four has come among the other: undo what took it there.")
    told = f"the black corners are {signs[0]} and the white ones {signs[1]}"
    if signs != wanted:
        return Note(f"Not yet. It is a box again, and {told}. {_hint(signs, wanted)}")
    return Note(f"Yes: out of the outline and back, and {told}.")


@kindly
def check_home(moves: str, changes: Sequence[str], name: str = "cuboid:2x3x4") -> Note:
    """Whether turns bring the box home from ``changes`` by hand, on a copy that may leave its outline.

    >>> check_home("U 2F2 RR2 2F2 U'", ["swap UFR UBL"])
    Yes: all is home again.
    """
    puzzle = load(name)
    box = with_turns_out_of_the_box(puzzle)
    start = lifted(puzzle, box, changed(puzzle, changes))
    try:
        end = box.follow(written(moves, EXAMPLE), start)
    except OddswapError as error:
        return Note(f"That cannot be turned yet: {error}.")
    if looks_solved(box, box.appearance(end)):
        return Note("Yes: all is home again.")
    if not box.closed(end):
        return _open(box, end)
    names = [box.slots[piece] for piece in sorted(ended_elsewhere(box, box.solved, end))]
    away = f"{len(names)} pieces are" if len(names) > 6 else f"{listed(names)} {'is' if len(names) == 1 else 'are'}"
    return Note(f"Not yet. It is a box again, but {away} not at home. {_law(box, end)}")


def _open(box: BoxPuzzle, end: Arrangement) -> Note:
    out = int((box.outline(end) & ~box.filled).sum())
    return Note(f"Not yet. The box is still out of its outline: {out} pieces stand out. Undo what you did, the last turn first.")


def _hint(signs: tuple[str, str], wanted: tuple[str, str]) -> str:
    if sum(one != other for one, other in zip(signs, wanted, strict=True)) == 2:
        return "Half a turn of a whole outer slab changes both fours."
    return "Half a turn of a whole slab changes both fours or none. Let a layer that stands out, such as RR, make one on the way."


def _law(box: BoxPuzzle, end: Arrangement) -> str:
    signs = signs_of_fours(box, end)
    if signs is not None and signs[0] != signs[1]:
        told = f"The black corners are {signs[0]} and the white ones {signs[1]}"
        return f"{told}, and no half turn of a whole slab will change that: leave the outline."
    return "Go there, act, come back: first bring the two corners to where you can swap them, and undo that at the end."
