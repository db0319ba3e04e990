"""The table of alarms of a puzzle as a page to read, and as plain data."""

from __future__ import annotations

from oddswap.puzzles.puzzle import Puzzle
from oddswap.reasoning.alarms import Alarm, alarms
from oddswap.reasoning.statements import capital, listed
from oddswap.showing.law_page import named_on_a_picture
from oddswap.showing.markdown import escaped
from oddswap.showing.report import law_data, picture

SAID = {
    "ordinary": "can happen by turning alone",
    "lookalike": "can happen, because of pieces that look alike",
    "other turns": "can happen, but only with turns that this copy does not make",
    "not by turning": "cannot come by turning",
}


def alarms_data(puzzle: Puzzle) -> dict:
    """The table as plain data, by ``schemas/alarms.json``."""
    return {
        "puzzle": puzzle.name,
        "entries": [
            {
                "words": alarm.words,
                "changes": list(alarm.changes),
                "verdict": alarm.verdict,
                "broken": [law_data(law) for law in alarm.broken],
                "culprits": [{"pieces": list(c.pieces), "words": c.words} for c in alarm.culprits],
                "reason": alarm.reason,
                "alike": alarm.alike,
            }
            for alarm in alarms(puzzle)
        ],
        "notes": [
            "one entry for each class under the symmetries of the puzzle; alike counts the members of the class",
            *puzzle.notes,
        ],
    }


def gathered(puzzle: Puzzle) -> dict[tuple[str, str], list[Alarm]]:
    """The alarms by verdict and reason, in the order ordinary, lookalike, other turns, not by turning."""
    found: dict[tuple[str, str], list[Alarm]] = {}
    for verdict in SAID:
        for alarm in alarms(puzzle):
            if alarm.verdict == verdict:
                found.setdefault((verdict, alarm.reason), []).append(alarm)
    return found


def alarms_markdown(puzzle: Puzzle, pictures: dict[str, str] | None = None) -> str:
    """The table in words: what looks alarming, whether it can happen, and why; ``pictures`` maps wall and wall_names to files."""
    parts = [f"# What looks wrong, and is it? {capital(escaped(puzzle.title))}"]
    if pictures is None and named_on_a_picture(puzzle):
        parts.append("What its slots are called is shown on a picture, which the option `--out DIR` draws.")
    said = None
    for (verdict, reason), members in gathered(puzzle).items():
        if verdict != said:
            parts.append(f"## {capital(SAID[verdict])}")
            said = verdict
        lines = []
        for words in dict.fromkeys(alarm.words for alarm in members):
            same = [alarm for alarm in members if alarm.words == words]
            lines.append(f"- {escaped(words)} ({sum(a.alike for a in same)} of this sort, such as `{listed(same[0].changes)}`)")
        parts.append(f"**Why:** {escaped(reason)}")
        parts.append("\n".join(lines))
    if said is None:
        parts.append("Nothing of one or two pieces can look wrong on this puzzle.")
    if pictures is not None:
        parts += picture(pictures, "wall_names", "What the slots are called")
        parts += picture(pictures, "wall", "The same on one page for the wall") or ["It is too much for one page on the wall."]
    return "\n\n".join(parts) + "\n"
