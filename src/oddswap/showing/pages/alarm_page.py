"""The table of alarms of a puzzle as a page to read, and as plain data."""

from collections.abc import Sequence

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.budget import Reached
from oddswap.reasoning.verdicts.alarms import Alarm, gathered
from oddswap.reasoning.verdicts.readings import to_measure
from oddswap.showing.pages.finding_data import law_data
from oddswap.showing.pages.law_page import named_on_a_picture
from oddswap.showing.pages.markdown import escaped, picture
from oddswap.values.grammar import capital, listed
from oddswap.words import say
from oddswap.words.alarms import EXAMPLE, HEADING, NONE, NOTE
from oddswap.words.pictures import NOT_SHOWN
from oddswap.words.verdicts import WORDINGS


def alarms_data(puzzle: Puzzle, table: Sequence[Alarm], reached: Sequence[Reached] = ()) -> dict:
    """The ``table`` as plain data, by ``schemas/alarms.json``; ``reached`` says how far it came, if time ended before it."""
    return {
        "puzzle": puzzle.name,
        "entries": [
            {
                "words": say(alarm.sort),
                "changes": list(alarm.changes),
                "verdict": alarm.verdict,
                "broken": [law_data(law) for law in alarm.broken],
                "culprits": [{"pieces": list(c.pieces), "words": c.words} for c in alarm.culprits],
                "reason": say(alarm.reason),
                "alike": alarm.alike,
            }
            for alarm in table
        ],
        "notes": [NOTE, *map(say, (*to_measure(puzzle), *reached))],
    }


def alarms_markdown(
    puzzle: Puzzle, table: Sequence[Alarm], reached: Sequence[Reached] = (), pictures: dict[str, str] | None = None
) -> str:
    """The table in words: what looks alarming, whether it can happen, and why; ``pictures`` maps wall and wall_names to files."""
    parts = [f"# {HEADING} {capital(escaped(puzzle.title))}"]
    if pictures is None and named_on_a_picture(puzzle):
        parts.append(NOT_SHOWN)
    said = None
    for (verdict, reason), members in gathered(table).items():
        if verdict != said:
            parts.append(f"## {capital(WORDINGS[verdict].alarm)}")
            said = verdict
        lines = []
        for sort in dict.fromkeys(alarm.sort for alarm in members):
            same = [alarm for alarm in members if alarm.sort == sort]
            such = EXAMPLE.format(sum(alarm.alike for alarm in same), f"`{listed(same[0].changes)}`")
            lines.append(f"- {escaped(say(sort))} ({such})")
        parts.append(f"**Why:** {escaped(say(reason))}")
        parts.append("\n".join(lines))
    parts += [f"{capital(say(part))}." for part in reached]
    if said is None and not reached:
        parts.append(NONE)
    if pictures is not None:
        parts += picture(pictures, "wall_names") + picture(pictures, "wall")
    return "\n\n".join(parts) + "\n"
