"""The toolbox of a puzzle as a page to read, and as plain data."""

from collections.abc import Sequence

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.teaching.effects import Effect
from oddswap.reasoning.teaching.toolbox import Tool
from oddswap.showing.pages.markdown import escaped
from oddswap.values.grammar import capital
from oddswap.words import say
from oddswap.words.laws import value_words

UNSTEADY = "a blank or the shape decides on the turns, so that no sequence does the same from everywhere: there are no tools"


def tools_data(puzzle: Puzzle, tools: Sequence[Tool]) -> dict:
    """The toolbox as plain data, by ``schemas/tools.json``."""
    return {
        "puzzle": puzzle.name,
        "tools": [
            {
                "moves": tool.moves,
                "turns": list(tool.turns),
                "length": tool.length,
                "words": tool.words,
                "pieces": tool.pieces,
                "order": tool.order,
                "shape": tool.shape,
                "tally": [{"name": q.name, "change": value_words(q, change)} for q, change in tool.tally],
            }
            for tool in tools
        ],
        "notes": _notes(puzzle),
    }


def _notes(puzzle: Puzzle) -> list[str]:
    if not puzzle.steady:
        return [UNSTEADY]
    return [
        "one tool stands for all that the symmetries of the puzzle make of it, and of it undone",
        "what a tool does is told as seen: the exchange of pieces that look alike is not counted",
        "length counts turns of one slab by any amount; order is how often it is done until all looks as before",
    ]


def tools_markdown(puzzle: Puzzle, tools: Sequence[Tool]) -> str:
    """The toolbox in words, gathered by what the tools do."""
    sorts: dict[Effect, list[Tool]] = {}
    for tool in tools:
        sorts.setdefault(tool.effect, []).append(tool)
    parts = [f"# Tools: {escaped(puzzle.title)}"]
    for effect, members in sorted(sorts.items(), key=lambda item: (item[0].pieces, item[0])):
        parts += [f"## {capital(escaped(say(effect)))}", "\n".join(_line(tool) for tool in members)]
    return "\n\n".join([*parts, "\n".join(f"- {capital(note)}." for note in _notes(puzzle))]) + "\n"


def _line(tool: Tool) -> str:
    what = {"commutator": "a commutator, ", "conjugate": "a conjugate, "}.get(tool.shape, "")
    changed = [f"{q.name} {value_words(q, change)}" for q, change in tool.tally if change != 0]
    tally = f"; in the tally: {escaped(', '.join(changed))}" if changed else "; the tally stays as it is"
    times = "" if tool.order == 1 else f"done {tool.order} times it is undone{tally}"
    return f"- `{tool.moves}` ({what}{tool.length} turns; {times})"
