"""The laws of a puzzle, and its table of alarms, as pages to read and as plain data."""

import re
from collections.abc import Sequence

import numpy as np

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.budget import Limit, Reached, started
from oddswap.reasoning.laws.by_eye import by_eye
from oddswap.reasoning.laws.lookalikes import lookalikes
from oddswap.reasoning.laws.tally import quantities
from oddswap.reasoning.verdicts.alarms import Alarm, gathered
from oddswap.reasoning.verdicts.readings import to_measure
from oddswap.showing.pages.finding_data import culprits_data, fields_of, law_data
from oddswap.showing.pages.markdown import escaped, page, picture
from oddswap.values import orbits
from oddswap.values.grammar import capital, listed
from oddswap.words import say
from oddswap.words.alarms import EXAMPLE, HEADING, NONE, NOTE
from oddswap.words.law_books import HIDDEN, NO_LAW, completeness_words, holding_notes, null_notes, pieces_words, reason_words
from oddswap.words.laws import value_words
from oddswap.words.pictures import NOT_SHOWN
from oddswap.words.verdicts import WORDINGS

LOOKS = "appearances appearances_up_to_rotation seen_index"
"""What is counted by eye, where it can be."""


def laws_data(puzzle: Puzzle, budget: Limit = None) -> dict:
    """The law book as plain data, by ``schemas/laws.json``; orders are decimal strings.

    Laws and orders are proved whatever the budget; what can be told apart by eye is counted as long as it lasts.
    """
    book, alike = puzzle.laws, lookalikes(puzzle)
    seen = by_eye(book, started(budget))
    kinds = [
        {
            "name": kind.name,
            "slots": len(kind.slots),
            "twist": kind.twist,
            "twins": [[puzzle.slots[p] for p in family] for family in alike.twins if family[0] in kind.places],
            "hidden_turns": [puzzle.slots[p] for p in alike.hidden_turns if p in kind.places],
        }
        for kind in puzzle.kinds
        if not puzzle.void.issuperset(kind.places)
    ]
    return {
        "puzzle": puzzle.name,
        "turns": list(puzzle.turns),
        "kinds": kinds,
        **{name: str(getattr(book, name)) for name in ("order", "assembly_order", "index", "index_wide", "unexplained")},
        **fields_of(book, "complete shapes"),
        **{name: count and str(count) for name, count in fields_of(seen, LOOKS).items()},
        "laws": [law_data(law) for law in book.laws],
        "notes": [*map(say, to_measure(puzzle)), *null_notes(book, seen), *holding_notes(book)],
    }


def laws_markdown(puzzle: Puzzle, budget: Limit = None, pictures: dict[str, str] | None = None) -> str:
    """The law book in words, with the table of what each turn does, which proves that every law holds.

    ``pictures`` maps puzzle and names to file names.
    """
    book, shown = puzzle.laws, pictures or {}
    seen = by_eye(book, started(budget))
    unnamed = "names" not in shown and named_on_a_picture(puzzle)
    parts = [f"# What never changes: {escaped(puzzle.title)}", *picture(shown, "puzzle"), escaped(pieces_words(puzzle))]
    parts += [NOT_SHOWN if unnamed else "", *picture(shown, "names")]
    if book.laws:
        parts.append("## The laws")
        laws = [escaped(law.statement) + ("" if law.seen else HIDDEN) for law in book.laws]
        parts.append("\n".join(f"{i}. {law}" for i, law in enumerate(laws, 1)))
        parts += ["## Why they hold", reason_words(puzzle), _table(puzzle) if quantities(puzzle) else ""]
    else:
        parts += ["## The laws", NO_LAW]
    parts += ["## Is that all?", completeness_words(book, seen)]
    notes = [*holding_notes(book), *map(say, (*to_measure(puzzle), *seen.reached))]
    return page(*parts, "\n".join(f"- {escaped(note)}" for note in notes))


def named_on_a_picture(puzzle: Puzzle) -> bool:
    """Whether a picture must tell where a slot is: its name tells neither sides of a box nor a row and a column."""
    if puzzle.geometry is None:
        return not all(re.fullmatch(r"r\d+c\d+", slot) for slot in puzzle.slots)
    return any((np.abs(normal) > 1e-6).sum() > 1 for normal in puzzle.geometry.facets.values())


def _table(puzzle: Puzzle) -> str:
    if puzzle.steady:
        slabs = orbits.gathered(puzzle.turns.values(), lambda turn: turn.step.name)
        moves = [("", turns[0].name, turns[0].permutation) for turns in slabs.values()]
        leads_to = puzzle.laws.leads_to
        whole = ((name, turn.permutation) for name, turn in puzzle.rotations.items())
        moves += [("the whole puzzle", name, image) for name, image in whole if leads_to(image)]
    else:
        loops = puzzle.laws.image.generators if puzzle.blank is None else puzzle.generators
        moves = [("round trip", str(i), loop) for i, loop in enumerate(loops, 1)]
    columns = quantities(puzzle)
    alike = orbits.gathered(moves, lambda move: (move[0], tuple(column.value(move[2]) for column in columns)))
    lines = ["| turn | " + " | ".join(escaped(column.name) for column in columns) + " |", "|---" * (len(columns) + 1) + "|"]
    for (what, row), same in alike.items():
        members = [name for _, name, _ in same]
        several = " ".join(members) if len(members) < 25 else f"{members[0]} … {members[-1]} ({len(members)} of them)"
        cells = (f"{what} {several}".strip(), *map(value_words, columns, row))
        lines.append(" | ".join(["", *map(escaped, cells), ""]).strip())
    return "\n".join(lines)


def alarms_data(puzzle: Puzzle, table: Sequence[Alarm], reached: Sequence[Reached] = ()) -> dict:
    """The ``table`` as plain data, by ``schemas/alarms.json``; ``reached`` says how far it came, if time ended before it."""
    return {
        "puzzle": puzzle.name,
        "entries": [
            {
                "words": say(alarm.sort),
                **fields_of(alarm, "changes verdict alike"),
                "broken": [law_data(law) for law in alarm.broken],
                "culprits": culprits_data(alarm.culprits),
                "reason": say(alarm.reason),
            }
            for alarm in table
        ],
        "notes": [NOTE, *map(say, (*to_measure(puzzle), *reached))],
    }


def alarms_markdown(
    puzzle: Puzzle, table: Sequence[Alarm], reached: Sequence[Reached] = (), pictures: dict[str, str] | None = None
) -> str:
    """The table in words: what looks alarming, whether it can happen, and why; ``pictures`` maps wall and wall_names to files."""
    unnamed, said = pictures is None and named_on_a_picture(puzzle), None
    parts = [f"# {HEADING} {capital(escaped(puzzle.title))}", NOT_SHOWN if unnamed else ""]
    for (verdict, reason), members in gathered(table).items():
        if verdict != said:
            parts.append(f"## {capital(WORDINGS[verdict].alarm)}")
            said = verdict
        lines = []
        for sort in dict.fromkeys(alarm.sort for alarm in members):
            same = [alarm for alarm in members if alarm.sort == sort]
            such = EXAMPLE.format(sum(alarm.alike for alarm in same), f"`{listed(same[0].changes)}`")
            lines.append(f"- {escaped(say(sort))} ({such})")
        parts += [f"**Why:** {escaped(say(reason))}", "\n".join(lines)]
    parts += [f"{capital(say(part))}." for part in reached]
    shown = pictures or {}
    return page(*parts, "" if said or reached else NONE, *picture(shown, "wall_names"), *picture(shown, "wall"))
