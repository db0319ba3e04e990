"""Exercises about worlds: changes by hand that make up for others, that lead to the same world, and repairs with few pieces."""

from __future__ import annotations

from collections.abc import Sequence

from oddswap.describing.changes import changed
from oddswap.lessons.exercises.written import parts
from oddswap.lessons.pictures.worlds import values_seen
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.verdicts.diagnosis import ORDINARY, diagnose
from oddswap.showing.ink.notes import Hint, Note, kindly
from oddswap.values.arrangement import Arrangement
from oddswap.values.grammar import listed

EXAMPLE = "changes such as: flip UF, swap UR UB, twist UFR cw"


@kindly
def check_made_up(changes: str, given: Sequence[str], *, name: str = "cube:3") -> Note:
    """Whether ``changes`` make up for the ``given`` ones, on other pieces, so that turning can do the rest.

    >>> check_made_up("flip DB, twist DBL ccw", ["flip UF", "twist UFR cw"])
    Yes: after your changes turning can do the rest.
    """
    puzzle = load(name)
    start = changed(puzzle, given)
    read = _read(puzzle, changes, start)
    again = _differing(start, read) & start.displaced()
    if again:
        return Note(f"Not yet. Leave {_slots(puzzle, again)} alone, and change other pieces.")
    return _by_turning(puzzle, read) or Note("Yes: after your changes turning can do the rest.")


@kindly
def check_same_world(changes: str, like: Sequence[str], *, only: str = "corners", name: str = "cube:3") -> Note:
    """Whether ``changes`` lead from solved to the same world as those of ``like``, and touch pieces of one family only.

    >>> check_same_world("swap UFR UFL", ["swap UF UR"])
    Yes: turning leads from the one to the other.
    """
    puzzle = load(name)
    read = _read(puzzle, changes, puzzle.solved)
    strangers = {slot for slot in read.displaced() if puzzle.kind_of[slot].family != only}
    if strangers:
        return Note(f"Not yet. Change the {only} only: you have also changed {_slots(puzzle, strangers)}.")
    values, aim = values_seen(puzzle, read), values_seen(puzzle, changed(puzzle, like))
    laws = [law for law in law_book(puzzle).laws if law.seen]
    for law, value, wanted in zip(laws, values, aim, strict=True):
        if value != wanted:
            return Note(f"Not yet. That is another world. Compare the two by this law: {law.statement}")
    return Note("Yes: turning leads from the one to the other.")


@kindly
def check_repair(changes: str, given: Sequence[str], *, name: str = "cube:3") -> Note:
    """Whether ``changes`` repair what the ``given`` ones did, with as few pieces in hand as can be.

    >>> check_repair("flip UF, flip UR, flip UB", ["flip UF"])
    Turning can do the rest, but you have had 3 pieces in hand, and 1 would do.
    """
    puzzle = load(name)
    start = changed(puzzle, given)
    read = _read(puzzle, changes, start)
    told = _by_turning(puzzle, read)
    if told:
        return told
    best = len(_differing(start, diagnose(puzzle, puzzle.appearance(start)).repair.result))
    mine = len(_differing(start, read))
    if mine > best:
        return Note(f"Turning can do the rest, but you have had {mine} pieces in hand, and {best} would do.")
    return Note(f"Yes: turning can do the rest, and nobody can do it with fewer pieces in hand than {best}.")


def _read(puzzle: Puzzle, changes: str, start: Arrangement) -> Arrangement:
    """``start`` after the changes; `Hint` where there are none."""
    state = changed(puzzle, parts(changes, EXAMPLE), start)
    if state == start:
        raise Hint("Not yet. Your changes undo each other: nothing has changed.")
    return state


def _by_turning(puzzle: Puzzle, state: Arrangement) -> Note | None:
    """A note with the laws that are still broken; ``None`` if turning can do the rest."""
    found = diagnose(puzzle, puzzle.appearance(state))
    if found.verdict == ORDINARY:
        return None
    return Note(f"Not yet. Turning cannot do the rest. Look at this law: {found.broken[0].statement}")


def _differing(one: Arrangement, other: Arrangement) -> set[int]:
    """The slots in which two arrangements differ."""
    pairs = zip(zip(one.pieces, one.twists, strict=True), zip(other.pieces, other.twists, strict=True), strict=True)
    return {slot for slot, (a, b) in enumerate(pairs) if a != b}


def _slots(puzzle: Puzzle, numbers: set[int]) -> str:
    return listed(puzzle.slots[number] for number in sorted(numbers))
