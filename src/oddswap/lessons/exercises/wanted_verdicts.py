"""Exercises that check themselves by computing, and whose hint names the law that an answer overlooked."""

from __future__ import annotations

from collections.abc import Mapping

from oddswap.describing.changes import changed
from oddswap.errors import OddswapError
from oddswap.lessons.exercises.written import parts
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.verdicts.diagnosis import LOOKALIKE, NOT_BY_TURNING, ORDINARY, Diagnosis, diagnose
from oddswap.showing.ink.notes import Note, kindly


@kindly
def check_changes(changes: str, wanted: Mapping[str, str]) -> Note:
    """Whether changes by hand (separated by commas) get the ``wanted`` verdict on each puzzle, by its name.

    Every right answer is accepted, and any text at all gets a kind sentence.

    >>> check_changes("flip UF", {"cube:3": "ordinary"})
    Not yet. On "cube:3" the verdict is "not by turning" where "ordinary" is asked for. Look
    at this law: The number of flipped edges is always even.
    """
    steps = parts(changes, "changes such as: flip UF, swap UR UB")
    for name, verdict in wanted.items():
        puzzle = load(name)
        try:
            seen = puzzle.appearance(changed(puzzle, steps))
        except OddswapError as error:
            return Note(f'On "{name}" that cannot be read yet: {error}.')
        if seen == puzzle.appearance(puzzle.solved):
            return Note(f'Not yet. On "{name}" nobody can see these changes: it looks solved, so nobody would bring it.')
        found = diagnose(puzzle, seen)
        if found.verdict != verdict:
            told = f'On "{name}" the verdict is "{found.verdict}" where "{verdict}" is asked for.'
            return Note(f"Not yet. {told} {_hint(name, found, verdict)}")
    return Note("Yes: " + ", and ".join(f'"{verdict}" on "{name}"' for name, verdict in wanted.items()) + ".")


def _hint(name: str, found: Diagnosis, wanted: str) -> str:
    if found.broken and wanted != NOT_BY_TURNING:
        return f"Look at this law: {found.broken[0].statement}"
    laws = [law for law in law_book(load(name)).laws if wanted == ORDINARY or law.seen == (wanted == NOT_BY_TURNING)]
    if laws:
        hidden = " and lookalikes can mend it" if wanted == LOOKALIKE else ""
        return f"Break a law here{hidden}: {laws[0].statement}"
    return "No law of this puzzle can give that verdict: choose other changes or another puzzle."
