"""The toolbox of a puzzle as a page to read, and as plain data."""

from collections.abc import Sequence

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.teaching.effects import Effect
from oddswap.reasoning.teaching.toolbox import Tool
from oddswap.showing.pages.markdown import escaped
from oddswap.values.grammar import capital
from oddswap.words import say
from oddswap.words.laws import value_words
from oddswap.words.to_visitors.moves import names_explained
from oddswap.words.ways.ways_out import tool_notes, tool_words


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
        "notes": list(tool_notes(puzzle)),
    }


def tools_markdown(puzzle: Puzzle, tools: Sequence[Tool]) -> str:
    """The toolbox in words, gathered by what the tools do."""
    sorts: dict[Effect, list[Tool]] = {}
    for tool in tools:
        sorts.setdefault(tool.effect, []).append(tool)
    parts = [f"# Tools: {escaped(puzzle.title)}"]
    for effect, members in sorted(sorts.items(), key=lambda item: (item[0].pieces, item[0])):
        lines = [f"- `{tool.moves}` ({escaped(tool_words(tool))})" for tool in members]
        parts += [f"## {capital(escaped(say(effect)))}", "\n".join(lines)]
    if named := names_explained(puzzle, (tool.moves for tool in tools)):
        parts.append(escaped(named))
    return "\n\n".join([*parts, "\n".join(f"- {capital(note)}." for note in tool_notes(puzzle))]) + "\n"
