"""The map of the ways, the toolbox of a puzzle, and a plan carried out, as pages to read and as plain data."""

from collections.abc import Mapping, Sequence

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.opening.ways_map import MapEntry, WaysMap
from oddswap.reasoning.teaching.carried_out import CarriedOut, Done
from oddswap.reasoning.teaching.plan_culprits import OddSwap, Trouble
from oddswap.reasoning.teaching.toolbox import Tool
from oddswap.showing.pages.finding_data import fields_of, law_data
from oddswap.showing.pages.markdown import as_code, bullets, escaped, page, picture
from oddswap.values.grammar import capital, listed
from oddswap.values.orbits import gathered
from oddswap.words import say
from oddswap.words.laws import value_words
from oddswap.words.open_boxes import MORE, family_words, map_notes, map_sentences, null_notes, turns_in_words
from oddswap.words.to_visitors.moves import names_explained
from oddswap.words.ways.plans import AS_IF_HELD, DONE, back_words, blamed_words, halted_words, odd_words, plan_notes, steps_words
from oddswap.words.ways.ways_out import tool_notes, tool_words

MOST = 40
"""So many rows the table of the page has at most; the data have all."""


def ways_data(found: WaysMap) -> dict:
    """The map as plain data, by ``schemas/ways.json``."""
    return {
        "puzzle": found.puzzle.name,
        "box": found.box.name,
        "turns": list(found.box.turns),
        **fields_of(found, "depth complete"),
        "reason": say(found.ending),
        "states": str(found.states),
        "classes": str(found.classes),
        "families": [
            {
                **fields_of(way.family, "words changes"),
                "broken": [law_data(law) for law in way.family.broken],
                "classes": str(way.family.classes),
                "moves": None if way.moves is None else " ".join(way.moves),
                "length": None if way.moves is None else len(way.moves),
                **fields_of(way, "status at_least"),
            }
            for way in found.ways
        ],
        "notes": [*map_notes(found), *null_notes(found)],
    }


def ways_markdown(found: WaysMap, pictures: Mapping[str, str] | None = None) -> str:
    """The map in words, with a table of the families. ``pictures`` maps *ways* to a file's name."""
    parts = [f"# Out of the box and back: {escaped(found.puzzle.title)}", *map(escaped, map_sentences(found))]
    parts += picture(pictures or {}, "ways")
    if found.ways:
        parts += ["## What leaving the box can do", _table(found.ways[:MOST])]
    if len(found.ways) > MOST:
        parts.append(MORE.format(len(found.ways) - MOST))
    named = names_explained(found.box, (move for way in found.ways[:MOST] for move in way.moves or ()))
    return page(*parts, escaped(named), "## What was counted", bullets(f"{note}." for note in map_notes(found)))


def _table(ways: tuple[MapEntry, ...]) -> str:
    rows = ["| what looks wrong | classes | turns | a shortest excursion from solved |", "| --- | ---: | --- | --- |"]
    return "\n".join([*rows, *map(_row, ways)])


def _row(way: MapEntry) -> str:
    changes = f" (`{'`, `'.join(way.family.changes)}`)" if way.family.changes else ""
    moves = as_code(" ".join(way.moves or ()))
    return f"| {escaped(family_words(way))}{changes} | {way.family.classes} | {turns_in_words(way)} | {moves} |"


def tools_data(puzzle: Puzzle, tools: Sequence[Tool]) -> dict:
    """The toolbox as plain data, by ``schemas/tools.json``."""
    return {
        "puzzle": puzzle.name,
        "tools": [
            {
                **fields_of(tool, "moves turns length words pieces order shape"),
                "tally": [{"name": q.name, "change": value_words(q, change)} for q, change in tool.tally],
            }
            for tool in tools
        ],
        "notes": list(tool_notes(puzzle)),
    }


def tools_markdown(puzzle: Puzzle, tools: Sequence[Tool]) -> str:
    """The toolbox in words, gathered by what the tools do."""
    sorts = gathered(tools, lambda tool: tool.effect)
    parts = [f"# Tools: {escaped(puzzle.title)}"]
    for effect, members in sorted(sorts.items(), key=lambda item: (item[0].pieces, item[0])):
        lines = [f"- `{tool.moves}` ({escaped(tool_words(tool))})" for tool in members]
        parts += [f"## {capital(escaped(say(effect)))}", "\n".join(lines)]
    named = names_explained(puzzle, (tool.moves for tool in tools))
    return page(*parts, escaped(named), bullets(f"{note}." for note in tool_notes(puzzle)))


def plan_data(puzzle: Puzzle, done: CarriedOut, scramble: str | None = None) -> dict:
    """What happened as plain data, by ``schemas/plan.json``."""
    return {
        "puzzle": puzzle.name,
        "plan": done.plan.name,
        "scramble": scramble,
        "events": [_event(event) for event in done.events],
        **fields_of(done, "moves finished"),
        "length": _length(puzzle, done),
        "stuck": done.stuck and say(done.stuck),
        "notes": list(plan_notes(done, scramble)),
    }


def _event(event: Done | Trouble | OddSwap) -> dict:
    if isinstance(event, Done):
        parts = [{"name": part.name or None, **fields_of(part, "holding moves")} for part in event.parts]
        return {"sort": "done", **fields_of(event, "stage slots"), "parts": parts}
    if isinstance(event, OddSwap):
        told = {"sort": "odd swap", **fields_of(event, "stage mend family twins placed"), "real": not event.culprits}
    else:
        told = {"sort": "trouble", **fields_of(event, "stage back_to moves"), "laws": [law.statement for law in event.laws]}
    return {**told, "culprits": [list(culprit.pieces) for culprit in event.culprits], "words": say(event)}


def _length(puzzle: Puzzle, done: CarriedOut) -> int:
    return sum(name in puzzle.turns for name in done.moves.split())


def plan_markdown(puzzle: Puzzle, done: CarriedOut, scramble: str | None = None) -> str:
    """The stages in words, with the trouble where it turned up and what was done about it."""
    scrambled = "" if scramble is None else f"**Scramble:** `{scramble}`"
    parts, said = [f"# {capital(escaped(done.plan.name))}: {escaped(puzzle.title)}", scrambled], None
    for event in done.events:
        if not isinstance(event, Done):
            parts += _odd(event) if isinstance(event, OddSwap) else _trouble(event)
            said = None
            continue
        if event.stage != said:
            parts.append(f"## {capital(escaped(event.stage))}")
            said = event.stage
        parts.append(_done(event))
    end = f"**Stuck:** {escaped(say(done.stuck))}" if done.stuck else f"**Done** {DONE.format(_length(puzzle, done))}"
    held = any(part.holding for event in done.events if isinstance(event, Done) for part in event.parts)
    return page(*parts, end, AS_IF_HELD if held else "", escaped(names_explained(puzzle, [scramble, done.moves])))


def _done(event: Done) -> str:
    steps = [(f"*{escaped(part.name)}*" if part.name else "", as_code(part.holding), as_code(part.moves)) for part in event.parts]
    return f"{escaped(listed(event.slots))}: {steps_words(steps)}"


def _odd(event: OddSwap) -> list[str]:
    words = say(event).rstrip(".")
    return [f"## An odd swap at the stage {escaped(event.stage)}", escaped(odd_words(event)), f"**To blame:** {escaped(words)}."]


def _trouble(event: Trouble) -> list[str]:
    back = back_words(f"*{escaped(event.back_to)}*", as_code(event.moves))
    return [
        f"## Trouble at the stage {escaped(event.stage)}",
        escaped(halted_words(event)),
        f"**To blame:** {escaped(blamed_words(event))} {back}",
    ]
