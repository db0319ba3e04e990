"""What the repair table says: on a paper ticket, of a sketch while it is made, of many letters, and while a way is sought."""

from collections.abc import Iterable, Sequence

from oddswap.reasoning.answers import SeenBefore
from oddswap.reasoning.verdicts.findings import CANNOT_TELL, LOOKALIKE, NOT_BY_TURNING, ORDINARY, OTHER_TURNS
from oddswap.values.grammar import listed, read_number
from oddswap.words import say
from oddswap.words.texts import TEXTS, texts_of

SAYS = texts_of("desk")
QUESTIONS = tuple(TEXTS["paper ticket"])
"""What a paper ticket asks."""
SIGNS = {ORDINARY: "✓", LOOKALIKE: "≈", OTHER_TURNS: "↻", NOT_BY_TURNING: "✗", CANNOT_TELL: "?"}
"""What stands before a verdict on the desk's sheet, always with its word."""


def left_words(possible: bool, open_slots: int, ways: int | None) -> str:
    """How much a sketch leaves open."""
    if not possible:
        return "no way to put this puzzle together looks like that"
    if not open_slots:
        return "everything is told"
    slots = "one slot is open" if open_slots == 1 else f"{open_slots} slots are open"
    if ways is None:
        return f"{slots}; in how many ways the whole may look was not counted"
    return f"{slots}; {read_number(ways)} {'way' if ways == 1 else 'ways'} in which the whole may look"


def searching_words(bound: int, states: int, seconds: float) -> str:
    """How far a search is."""
    return f"{SAYS.seeking} So far: no way is shorter than {bound} turns; {states:,} states, {seconds:.0f} s."


def on_the_table(tickets: int, ticket: str, puzzle: str, verdict: str) -> str:
    """What lies on the workbench."""
    letters = f"{tickets} ticket{'s' * (tickets != 1)}"
    return f"The workbench: {letters}; on the table is {ticket!r}.\nPuzzle: {puzzle}. Verdict: {verdict}."


COLUMNS = ("letter", "puzzle", "verdict", "what else")


def said_of(alike: str, mirrored: bool, before: Iterable[SeenBefore], error: str) -> str:
    """What else there is to say of a letter: why it was refused, or which others show its position."""
    same = f"the same position as {alike}{', in a mirror' if mirrored else ''}" if alike else ""
    return ". ".join(filter(None, [error, same, *map(say, before)]))


def passed_over(strangers: Sequence[str]) -> list[str]:
    """That some files of a folder are no letters, and that its own folders were left alone."""
    if not strangers:
        return []
    few = listed(strangers) if len(strangers) <= 3 else f"{len(strangers)} files and folders"
    return ["", f"Passed over: {few}. A letter ends in .toml or .txt, and folders within a folder are not looked into."]
