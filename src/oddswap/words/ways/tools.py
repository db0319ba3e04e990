"""What is said of tools: what each does, how often it is done, and what was counted."""

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.teaching.toolbox import Tool
from oddswap.words.laws import value_words
from oddswap.words.table import says_so

UNSTEADY = "a blank or the shape decides on the turns, so that no sequence does the same from everywhere: there are no tools"
NOTES = (
    "one tool stands for all that the symmetries of the puzzle make of it, and of it undone",
    "what a tool does is told as seen: the exchange of pieces that look alike is not counted",
    "length counts turns of one slab by any amount; order is how often it is done until all looks as before",
)
SHAPES = {"commutator": "a commutator, ", "conjugate": "a conjugate, "}
says_so({Tool: "{0.effect}"})


def tool_notes(puzzle: Puzzle) -> tuple[str, ...]:
    """What was counted, or why there are no tools."""
    return NOTES if puzzle.steady else (UNSTEADY,)


def tool_words(tool: Tool) -> str:
    """How a tool is made, how long it is, and what it does when it is repeated."""
    changed = ", ".join(f"{q.name} {value_words(q, change)}" for q, change in tool.tally if change != 0)
    tally = f"in the tally: {changed}" if changed else "the tally stays as it is"
    again = "" if tool.order == 1 else f"done {tool.order} times it is undone; {tally}"
    return f"{SHAPES.get(tool.shape, '')}{tool.length} turns; {again}"
