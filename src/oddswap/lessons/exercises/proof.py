"""Exercises about proofs: how many arrangements there are, turns that place some pieces, and what no known law forbids."""

from __future__ import annotations

import re
from collections.abc import Mapping
from math import prod

from oddswap.describing.changes import changed
from oddswap.lessons.exercises.written import parts, written
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.law_book import law_book
from oddswap.showing.ink.notes import Note, kindly
from oddswap.values.grammar import listed

LONGEST = 60
"""An answer of more characters is no number that anybody means."""


@kindly
def check_count(answer: object, name: str) -> Note:
    """Whether ``answer``, a number or a product such as ``5 * 4 * 3``, counts what the turns of a puzzle reach.

    >>> check_count("6!", "tiles:2x3")
    That is no number yet. Write one such as 720, or a product such as 6 * 5 * 4.
    >>> check_count(720, "tiles:2x3")
    Not yet: that is too many. Look at this law: The tiles are always rearranged evenly: by
    an even number of exchanges.
    """
    number = read_product(written(answer, "a number such as 720, or a product such as 6 * 5 * 4."))
    book = law_book(load(name))
    if number is None:
        return Note("That is no number yet. Write one such as 720, or a product such as 6 * 5 * 4.")
    if number == book.order:
        return Note(f"Yes: the turns reach {book.order:,} arrangements, and no more.")
    if number < book.order:
        return Note(f"Not yet: that is too few. The turns are known to reach {book.order:,} arrangements or more.")
    if number > book.assembly_order:
        return Note(f"Not yet: not even hands can make so many. Putting pieces in by hand gives {book.assembly_order:,}.")
    if book.laws:
        overlooked = next((law for law in book.laws if law.modulus == number // book.order), book.laws[-1])
        return Note(f"Not yet: that is too many. Look at this law: {overlooked.statement}")
    return Note("Not yet: that is too many. No law by counting forbids them, but look at where the lower wall stops.")


def read_product(text: str) -> int | None:
    """A number or a product of numbers; ``None`` for anything else.

    >>> read_product("20,160"), read_product("6 x 5 * 4"), read_product("6!")
    (20160, 120, None)
    """
    plain = re.sub(r"[\s_]|,(?=[0-9]{3})", "", text)
    if len(text) > LONGEST or not re.fullmatch(r"[0-9]+([*x×·][0-9]+)*", plain, re.ASCII):
        return None
    return prod(map(int, re.split(r"[*x×·]", plain)))


@kindly
def check_placed(moves: str, wanted: Mapping[str, str], name: str) -> Note:
    """Whether turns bring the piece from each slot of ``wanted`` to the slot that is asked for.

    >>> check_placed("a", {"1": "2"}, "rings:4+4")
    Yes: all are where they should be.
    """
    puzzle = load(name)
    state = puzzle.follow(written(moves, f"turns such as: {' '.join(list(puzzle.turns)[:3])}"))
    ends = {home: puzzle.slots[state.pieces.index(puzzle.slot(home))] for home in wanted}
    astray = [f"{home} is at {end} and should be at {wanted[home]}" for home, end in ends.items() if end != wanted[home]]
    return Note(f"Not yet: {listed(astray)}." if astray else "Yes: all are where they should be.")


@kindly
def check_beyond(changes: str, name: str, *, reached: bool) -> Note:
    """Whether the turns reach what ``changes`` by hand make (``reached``), or do not although no known law is broken.

    >>> check_beyond("cycle 1 2 3 4", "rings:4+4", reached=True)
    Yes: the turns reach that.
    """
    puzzle = load(name)
    state = changed(puzzle, parts(changes, "changes such as: swap 1 2, cycle 3 4 5"))
    if state == puzzle.solved:
        return Note("Not yet. Your changes undo each other: nothing has changed.")
    book = law_book(puzzle)
    broken, reaches = book.broken(state), book.reaches(state)
    if broken:
        return Note(f"Not yet. That breaks a law that is known: {broken[0].statement}")
    if reaches == reached:
        return Note("Yes: the turns reach that." if reached else "Yes: no known law forbids that, and yet no turning reaches it.")
    if not reached:
        return Note("Not yet. The turns reach that: choose other changes.")
    home = [slot for i, slot in enumerate(puzzle.slots) if state.pieces[i] == i and state.twists[i] == 0]
    settled = len(puzzle.slots) - len(state.displaced())
    if settled >= len(book.chain.levels):
        return Note(f"Not yet. You have left {listed(home)} at home; on this puzzle, that settles where all others are.")
    return Note("Not yet. No turning reaches that: some law is missing from the list. Look for one that it breaks.")
