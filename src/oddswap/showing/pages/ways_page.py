"""The map of the ways as a page to read, and as plain data."""

from collections.abc import Mapping

from oddswap.reasoning.opening.ways_map import MapEntry, WaysMap
from oddswap.showing.pages.finding_data import law_data
from oddswap.showing.pages.markdown import as_code, escaped, picture
from oddswap.values.grammar import capital
from oddswap.words import say
from oddswap.words.open_boxes import MORE, family_words, map_notes, map_sentences, null_notes, turns_in_words
from oddswap.words.to_visitors.moves import names_explained

MOST = 40
"""So many rows the table of the page has at most; the data have all."""


def ways_data(found: WaysMap) -> dict:
    """The map as plain data, by ``schemas/ways.json``."""
    return {
        "puzzle": found.puzzle.name,
        "box": found.box.name,
        "turns": list(found.box.turns),
        "depth": found.depth,
        "complete": found.complete,
        "reason": say(found.ending),
        "states": str(found.states),
        "classes": str(found.classes),
        "families": [
            {
                "words": way.family.words,
                "changes": None if way.family.changes is None else list(way.family.changes),
                "broken": [law_data(law) for law in way.family.broken],
                "classes": str(way.family.classes),
                "status": way.status,
                "moves": None if way.moves is None else " ".join(way.moves),
                "length": None if way.moves is None else len(way.moves),
                "at_least": way.at_least,
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
    if named := names_explained(found.box, (move for way in found.ways[:MOST] for move in way.moves or ())):
        parts.append(escaped(named))
    parts += ["## What was counted", "\n".join(f"- {escaped(capital(note))}." for note in map_notes(found))]
    return "\n\n".join(parts) + "\n"


def _table(ways: tuple[MapEntry, ...]) -> str:
    rows = ["| what looks wrong | classes | turns | a shortest excursion from solved |", "| --- | ---: | --- | --- |"]
    return "\n".join([*rows, *map(_row, ways)])


def _row(way: MapEntry) -> str:
    changes = f" (`{'`, `'.join(way.family.changes)}`)" if way.family.changes else ""
    moves = as_code(" ".join(way.moves or ()))
    return f"| {escaped(family_words(way))}{changes} | {way.family.classes} | {turns_in_words(way)} | {moves} |"
