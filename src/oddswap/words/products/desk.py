"""What the repair table says: on a paper ticket, of a sketch while it is made, of many letters, and while a way is sought."""

from collections.abc import Iterable, Sequence

from oddswap.reasoning.answers import SeenBefore
from oddswap.reasoning.verdicts.findings import CANNOT_TELL, LOOKALIKE, NOT_BY_TURNING, ORDINARY, OTHER_TURNS
from oddswap.values.grammar import listed, read_number
from oddswap.words import say

QUESTIONS = (
    "Which puzzle is it, and which side is tallest as you hold it?",
    "Which layers can turn, and how far?",
    "Has anybody taken it apart, or put new stickers on?",
    "What have you tried?",
)
"""What a paper ticket asks."""
COLOUR_NET = "Colour in what you see, side by side, and write a question mark where you cannot see. Each side bears its letter."
DRAW = "Draw where everything lies, and mark what looks wrong."
SIGNS = {ORDINARY: "✓", LOOKALIKE: "≈", OTHER_TURNS: "↻", NOT_BY_TURNING: "✗", CANNOT_TELL: "?"}
"""What stands before a verdict on the desk's sheet, always with its word."""
VERDICT, NOT_KNOWN = "Verdict: {}", "Verdict: not known yet"
SEEKING = "A way out is not known yet: it is being sought, for half a minute at most."
STILL_OPEN = "Not known yet: turns that leave the outline are still being tried."
SAVED, PRINTED, TAKEN = "Saved as {}.", "To print: {}.", "It lies on the sheet."
WAITING = "not looked at yet"
GOES_TO_PROGRAM = (
    "After your yes the photograph goes to the program that runs this page, made smaller, and without where and when it was "
    "taken. Nothing of it is kept, unless you save it beside the ticket."
)
GOES_TO_SERVER = f"{GOES_TO_PROGRAM} That program runs on a hub: the server will see it, and so can whoever runs the hub."
"""What is said before a yes."""
NAME_COLOURS = (
    "one photograph does not show all colours: write your word for each side's colour, or add one from the opposite corner"
)
NO_PICTURE = "what came is no picture with its corners: load the page anew"
READ_FIRST = "no photograph of this puzzle has been read: read it first"
STRANGE = "no piece of this puzzle looks like what is at {}"
NOT_TOGETHER = "these pieces cannot be on one puzzle together: one of them must be another"

LAYERS = "Layers turn: any number of them, any outside"
CORNERS = "Corners turn: any outside"
HOW_MANY, OUTSIDE = "How many layers has it across?", "Which outside has it?"
"""What a card of the desk's shelf opens, and what is asked then."""


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
    return f"{SEEKING} So far: no way is shorter than {bound} turns; {states:,} states, {seconds:.0f} s."


def on_the_table(tickets: int, ticket: str, puzzle: str, verdict: str) -> str:
    """What lies on the workbench."""
    return f"The workbench: {tickets} tickets; on the table is {ticket!r}.\nIt is a {puzzle}. Verdict: {verdict}."


COLUMNS = ("letter", "puzzle", "verdict", "what else")


def said_of(alike: str, mirrored: bool, before: Iterable[SeenBefore], error: str) -> str:
    """What else there is to say of a letter: why it was refused, or which others show its position."""
    same = f"the same position as {alike}{', in a mirror' if mirrored else ''}" if alike else ""
    return ". ".join(filter(None, [error, same, *map(say, before)]))


def passed_over(strangers: Sequence[str]) -> list[str]:
    """That some files of a folder are no letters."""
    if not strangers:
        return []
    few = listed(strangers) if len(strangers) <= 3 else f"{len(strangers)} files"
    return ["", f"Passed over, because a letter ends in .toml or .txt: {few}."]
