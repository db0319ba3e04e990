"""Exercises on holdings and signs: a holding that mends a law, and turns that are odd on just some kinds of pieces."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from oddswap.describing.changes import changed
from oddswap.lessons.exercises.written import written
from oddswap.lessons.pictures.holdings import always_held, signs
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.law_book import law_book
from oddswap.showing.ink.notes import Note, kindly
from oddswap.values.alphabet import ROTATIONS
from oddswap.values.grammar import listed


@kindly
def check_holding(turns: str, name: str, changes: Sequence[str]) -> Note:
    """Whether these turns of the whole puzzle hold it such that the slabs' turns alone can have led to ``changes``.

    Every right answer is accepted, and any text at all gets a kind sentence.

    >>> check_holding("y2", "cube:3,centres=none", ["swap UF UB"])
    Not yet. Held like that, this law is still broken: The corners and the edges are always
    rearranged either both evenly or both oddly.
    """
    puzzle, turns = load(name), written(turns, "turns of the whole puzzle such as: x2 y")
    steps = puzzle.read(turns).steps
    held = puzzle.follow(turns, changed(puzzle, changes))
    slabs = [str(step) for step in steps if step.stem not in ROTATIONS]
    if slabs:
        return Note(f"Not yet. {slabs[0]} turns only a part of the puzzle. Hold all of it another way, with x, y or z.")
    broken = law_book(always_held(puzzle)).broken(held)
    if broken:
        return Note(f"Not yet. Held like that, this law is still broken: {broken[0].statement}")
    return Note("Yes: held like that no law is broken, so turns of the slabs alone can have led here.")


@kindly
def check_signs(moves: str, name: str, wanted: Mapping[str, str]) -> Note:
    """Whether turns are ``even`` or ``odd`` on the pieces of each kind as ``wanted``; other kinds are not asked.

    Every right answer is accepted, and any text at all gets a kind sentence.

    >>> check_signs("R", "cube:4", {"corners": "odd", "wings": "odd"})
    Not yet. Your turns are odd on the corners and even on the wings. A turn such as 2U
    changes that of the wings and no other that is asked for.
    """
    puzzle = load(name)
    found = signs(puzzle, puzzle.follow(written(moves, "turns such as: R U2 2F")))
    told = listed(f"{found[kind]} on the {kind}" for kind in wanted)
    wrong = [kind for kind in wanted if found[kind] != wanted[kind]]
    if not wrong:
        return Note(f"Yes: your turns are {told}.")
    for turn in puzzle.turns:
        made = signs(puzzle, puzzle.follow(turn))
        if [kind for kind in wanted if made[kind] == "odd"] == wrong:
            hint = f"A turn such as {turn} changes that of the {listed(wrong)} and no other that is asked for."
            return Note(f"Not yet. Your turns are {told}. {hint}")
    return Note(f"Not yet. Your turns are {told}. No single turn changes just that of the {listed(wrong)}: think of two.")
