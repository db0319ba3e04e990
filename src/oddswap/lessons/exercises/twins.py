"""Exercises about twins: letters that make them, what is behind an appearance, beads that let a law seem broken."""

from __future__ import annotations

import re
from math import factorial, prod

from oddswap.describing.changes import changed
from oddswap.errors import quoted
from oddswap.lessons.exercises.written import parts
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.lookalikes import lookalikes
from oddswap.reasoning.verdicts.diagnosis import LOOKALIKE, diagnose
from oddswap.showing.ink.notes import Hint, Note, kindly
from oddswap.values.grammar import listed


@kindly
def check_letters(letters: str, looks: int, *, name: str = "tiles:2x3") -> Note:
    """Whether with these letters on its tiles a tray can look in exactly so many ways, the blank anywhere.

    >>> check_letters("apart", 60)
    Not yet. With these letters the tray can look in 360 ways. Twins: 2 times a. Every set
    of twins divides the 720 arrangements by the number of orders in which its members can
    lie.
    """
    puzzle = _lettered(name, "letters", letters)
    families = [family.pieces for family in lookalikes(puzzle).families]
    every = factorial(len(puzzle.slots))
    ways = every // prod(factorial(len(pieces)) for pieces in families)
    if ways == looks:
        return Note(f"Yes: with these letters the tray can look in {ways} ways.")
    sets = [f"{len(pieces)} times {_word(puzzle, pieces[0])}" for pieces in families if len(pieces) > 1]
    return Note(
        f"Not yet. With these letters the tray can look in {ways} ways. Twins: {listed(sets) if sets else 'none'}. Every set of "
        f"twins divides the {every} arrangements by the number of orders in which its members can lie."
    )


@kindly
def check_explanation(changes: str, seen: str, *, name: str) -> Note:
    """Whether ``changes`` by hand give what ``seen`` (changes, too) looks like, and moves lead there.

    >>> check_explanation("swap r2c2 r2c3", "swap r2c2 r2c3", name="tiles:3x3,letters=WORKSHOP")
    Not yet. It looks right, but no moves lead there. Look at this law: The tiles are always
    rearranged evenly: by an even number of exchanges.
    """
    puzzle, example = load(name), "changes such as: swap r1c1 r1c2, swap r2c1 r2c2"
    state = changed(puzzle, parts(changes, example))
    wanted, found = puzzle.appearance(changed(puzzle, parts(seen, example))), puzzle.appearance(state)
    wrong = [slot for slot, one, other in zip(puzzle.slots, wanted.sights, found.sights, strict=True) if one != other]
    if wrong:
        return Note(f"Not yet. With these changes it would look otherwise in {listed(wrong)}.")
    broken = law_book(puzzle).broken(state)
    if broken:
        return Note(f"Not yet. It looks right, but no moves lead there. Look at this law: {broken[0].statement}")
    count = len(state.displaced())
    return Note(f"Yes: {count} pieces are away from home, it looks like what was brought, and moves lead there.")


@kindly
def check_lookalike(beads: str, swap: str, *, name: str = "loop:7,window=4") -> Note:
    """Whether with these letters on the beads a ``swap`` of two of them passes for a lookalike.

    >>> check_lookalike("abcdefg", "swap 1 2")
    Not yet. The verdict is "not by turning": no two beads look the same, so nothing can be
    hidden. Look at this law: The beads are always rearranged evenly: by an even number of
    exchanges.
    """
    puzzle = _lettered(name, "beads", beads)
    seen = puzzle.appearance(changed(puzzle, [swap]))
    if seen == puzzle.appearance(puzzle.solved):
        return Note("Not yet. The two beads that are swapped look the same, so nobody would bring it: make them differ.")
    found = diagnose(puzzle, seen)
    if found.verdict == LOOKALIKE:
        pairs = listed(" and ".join(culprit.pieces) for culprit in found.culprits)
        which = "at" if len(found.culprits) == 1 else "at one of these pairs of slots:"
        return Note(f"Yes: what is not what it seems are the beads {which} {pairs}.")
    hint = "no two beads look the same, so nothing can be hidden. " if not lookalikes(puzzle).twins else ""
    law = f"Look at this law: {found.broken[0].statement}" if found.broken else "No law is broken here."
    return Note(f'Not yet. The verdict is "{found.verdict}": {hint}{law}')


def _lettered(name: str, option: str, letters: object) -> Puzzle:
    """The puzzle with these letters; `Hint` where they are not as many as the pieces."""
    text = "" if letters is None else re.sub(r"\s", "", str(letters))
    count = len(load(name).slots) - (load(name).blank is not None)
    if not text:
        raise Hint(f"Nothing written yet. Write {count} letters; equal letters make twins.")
    if not text.isalpha():
        raise Hint(f"{quoted(text)} is more than letters: write {count} letters, one for each piece.")
    if len(text) != count:
        raise Hint(f"These are {len(text)} letters: write {count}, one for each piece.")
    return load(f"{name},{option}={text}")


def _word(puzzle: Puzzle, piece: int) -> str:
    return puzzle.flat.tokens[puzzle.base_label[piece]].text
