"""Exercises on lookalikes: who may have turned or changed places unseen, and turns that put one in the other way round."""

from __future__ import annotations

import re
from collections.abc import Sequence

from oddswap.describing.changes import changed
from oddswap.lessons.exercises.written import written
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.lookalikes import lookalikes, turned_along
from oddswap.reasoning.verdicts.mending import smallest_mendings, steady_laws
from oddswap.showing.ink.notes import Note, kindly
from oddswap.values.grammar import listed


@kindly
def check_culprits(pieces: str, name: str, changes: Sequence[str]) -> Note:
    """Whether these pieces, turned or exchanged where nobody sees it, let ``changes`` on the puzzle happen by turning.

    ``pieces`` are home slots with spaces or commas between; as few as will do. Centres that whoever turned the slabs turned
    along are not counted. Any text at all gets a kind sentence.

    >>> check_culprits("UF", "shape-mod:prism8", ["flip UF"])
    Not yet. UF cannot turn without being seen, and has no twin among the pieces you name.
    """
    puzzle = load(name)
    named = frozenset(puzzle.slot(word) for word in re.split(r"[\s,]+", str(pieces)) if word)
    if not named:
        return Note("Nothing written yet. Write pieces by their homes, such as: UF UR")
    seen = [p for p in sorted(named) if not _may_change(puzzle, p, named)]
    if seen:
        return Note(
            f"Not yet. {puzzle.slots[seen[0]]} cannot turn without being seen, and has no twin among the pieces you name."
        )
    book, state = law_book(puzzle), changed(puzzle, changes)
    permutation, along = puzzle.permutation(state), turned_along(puzzle, state.displaced())
    mendings = smallest_mendings(book, permutation, along, within=named | along)
    if not mendings:
        broken = next(law for law in steady_laws(book, named | along) if law.value(permutation))
        return Note(f"Not yet. Nobody would see it, but it leaves this law broken: {broken.statement}")
    fewest = {p for atom in mendings[0] for p in atom.pieces}
    if len(fewest) < len(named):
        return Note("Not yet, but nearly: fewer pieces will do. Leave one out.")
    return Note(f"Yes: {listed(puzzle.slots[p] for p in sorted(named))} can be the reason, and nobody would see it.")


def _may_change(puzzle: Puzzle, piece: int, named: frozenset[int]) -> bool:
    family = lookalikes(puzzle).family_of[piece]
    return family.hidden > 1 or len(named.intersection(family.pieces)) > 1


@kindly
def check_reseating(moves: str, name: str, edge: str) -> Note:
    """Whether turns of the solved puzzle put ``edge`` in again the other way round, so that the upper flips come out odd.

    All that is outside the U layer must look as before. Any text at all gets a kind sentence.

    >>> check_reseating("R U R'", "shape-mod:prism8", "FR")
    Not yet. After these turns DFR does not look as before, and only the U layer may.
    """
    puzzle = load(name)
    after = puzzle.follow(written(moves, "turns such as: U R U' R'"))
    below = [slot for slot in range(len(puzzle.slots)) if slot not in puzzle.turns["U"].slots]
    before, now = puzzle.appearance(puzzle.solved).looks, puzzle.appearance(after).looks
    wrong = [slot for slot in below if before[slot] != now[slot]]
    if wrong:
        return Note(f"Not yet. After these turns {puzzle.slots[wrong[0]]} does not look as before, and only the U layer may.")
    turned = [puzzle.slots[slot] for slot in below if puzzle.kind_of[slot].twist == 2 and after.twists[slot]]
    if edge not in turned:
        return Note(f"Not yet. All looks as it should, but {edge} sits as it did: put it in the other way round.")
    if len(turned) % 2 == 0:
        return Note(
            f"Not yet. {listed(turned)} have turned, which is an even number: by the law of flips the upper layer keeps "
            "an even number, too. Turn one of them only."
        )
    return Note(f"Yes: {listed(turned)} turned, nothing to be seen of it, and the flips in the upper layer have become odd.")
