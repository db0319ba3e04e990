"""Exercises about what is half seen: how many ways are left, which photograph decides, and what photographs leave open."""

from __future__ import annotations

from collections.abc import Sequence
from math import prod

from oddswap.describing.sights import covered
from oddswap.lessons.exercises.proof import read_product
from oddswap.lessons.exercises.written import written
from oddswap.lessons.pictures.fork import ways_left
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.verdicts.completions import completions
from oddswap.reasoning.verdicts.views import View, after_view, views
from oddswap.showing.ink.notes import Note, kindly
from oddswap.values.grammar import listed, read_number

MOST = 2000
"""So many ways are gone through at most."""


@kindly
def check_ways(answer: object, slots: Sequence[str], name: str) -> Note:
    """Whether ``answer``, a number or a product, counts the ways in which covered ``slots`` of a solved puzzle may look.

    >>> check_ways("3 * 2", ["UF", "UR", "UB"], "cube:3")
    Not yet: that is too few. Hands could also put in each piece in another way round.
    >>> check_ways(48, ["UF", "UR", "UB"], "cube:3")
    Yes: 48 ways are left, and turning leads to 12 of them.
    """
    number = read_product(written(answer, "a number such as 24, or a product such as 4 * 3 * 2."))
    if number is None:
        return Note("That is no number yet. Write one such as 24, or a product such as 4 * 3 * 2.")
    puzzle = load(name)
    left = ways_left(puzzle, covered(puzzle, slots))
    if number == left.total:
        return Note(f"Yes: {read_number(left.total)} ways are left, and turning leads to {read_number(left.possible)} of them.")
    if number > left.total:
        return Note("Not yet: that is too many. A piece that sits in one slot is used up, and cannot sit in the next one too.")
    round_about = prod(puzzle.kind_of[puzzle.slot(slot)].twist for slot in slots)
    if number * round_about == left.total:
        return Note("Not yet: that is too few. Hands could also put in each piece in another way round.")
    if number == left.possible:
        return Note("Not yet: so many does turning lead to. Count what hands could put in, too.")
    return Note("Not yet: that is too few. For each covered slot ask which pieces may sit there, and in how many ways round.")


def check_photograph(corner: str, slots: Sequence[str], name: str) -> Note:
    """Whether a photograph from a ``corner``, named by its sides, decides whatever is in covered ``slots`` of a solved puzzle.

    >>> check_photograph("UFR", ["DF", "DB"], "cube:3")
    Not yet. It may be that after this photograph 4 ways are left, and turning leads to 1 of
    them: too little is seen of DF and DB.
    """
    puzzle, wanted = load(name), "".join(str(corner or "").upper().split())
    if not wanted:
        return Note("Nothing written yet. Write the sides that meet in a corner, such as UFR.")
    view = _view(puzzle, wanted)
    if view is None:
        return Note(f"No corner is called that. Write one of {listed(''.join(view.facets) for view in views(puzzle))}.")
    seen = covered(puzzle, slots)
    found = {after_view(puzzle, view, seen, whole) for whole in completions(puzzle, seen, MOST)}
    for then in sorted(found, key=lambda then: (len(then.uncertain), str(then.sights)), reverse=True):
        left = ways_left(puzzle, then)
        if left.verdict == "still mixed":
            open_ones = listed(puzzle.slots[b] for b in then.uncertain)
            return Note(
                f"Not yet. It may be that after this photograph {read_number(left.total)} ways are left, and turning leads to "
                f"{read_number(left.possible)} of them: too little is seen of {open_ones}."
            )
    return Note(f"Yes: whatever is there, this photograph decides. It can look in {read_number(len(found))} ways.")


@kindly
def check_open(moves: str, corners: Sequence[str], name: str) -> Note:
    """Whether photographs from ``corners`` of what ``moves`` make from solved leave it open whether turning leads there.

    >>> check_open("R U", ["UFR", "UBL"], "cube:3")
    Not yet: it is decided, as only 1 way is left. Pieces that share a colour can be
    mistaken for each other where only that side of them shows: bring several such pieces
    where little is seen of them.
    """
    puzzle = load(name)
    whole = puzzle.appearance(puzzle.follow(written(moves, "turns such as: R U F'")))
    seen = covered(puzzle, puzzle.slots)
    for corner in corners:
        seen = after_view(puzzle, _view(puzzle, corner), seen, whole)
    left = ways_left(puzzle, seen)
    if left.verdict == "still mixed":
        led = f"turning leads to {read_number(left.possible)} of them"
        return Note(f"Yes: {read_number(left.total)} ways are left, {led}, and so it is open.")
    ways = "1 way is" if left.total == 1 else f"{read_number(left.total)} ways are"
    return Note(
        f"Not yet: it is decided, as only {ways} left. Pieces that share a colour can be mistaken for each other where only "
        "that side of them shows: bring several such pieces where little is seen of them."
    )


def _view(puzzle: Puzzle, corner: str) -> View | None:
    return next((view for view in views(puzzle) if sorted(view.facets) == sorted(corner)), None)
