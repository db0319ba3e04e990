"""The map of the ways as a page to read, and as plain data."""

from collections.abc import Mapping

from oddswap.reasoning.opening.ways_map import AllKnown, DepthReached, MapEntry, WaysMap
from oddswap.showing.pages.finding_data import law_data
from oddswap.showing.pages.markdown import escaped
from oddswap.showing.pages.report import picture
from oddswap.values.grammar import capital, listed
from oddswap.words import say
from oddswap.words.ways_map import STATUS_WORDS, turns_in_words

MOST = 40
"""So many rows the table of the page has at most; the data have all."""

CAUTION = "this copy may not make all these turns: where a layer catches, line it up, and do not push"


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
        "notes": [*notes(found), *_missing(found)],
    }


def notes(found: WaysMap) -> list[str]:
    """What was counted and taken for granted."""
    said = [
        f"one turn is a turn of one layer by any amount; those allowed are the {len(found.box.turns)} of {found.box.name}",
        "turns that keep the outline are counted between those that open and close the box; before and after they are free",
        "after every turn all cells must touch by whole faces, which is a necessary test and no model of a mechanism",
        "pieces of one orbit that look alike, and twists that do not show, count as one; twins of different orbits do not",
        CAUTION,
    ]
    return [*said, *map(say, found.notes)]


def _missing(found: WaysMap) -> list[str]:
    """Why some data are null."""
    said = []
    if any(way.family.changes is None for way in found.ways):
        said.append("changes are null where no few small changes by hand lead to a family")
    if any(way.moves is None for way in found.ways):
        said.append("moves and length are null where no excursion was found, and at_least where it is proved that there is none")
    return said


def ways_markdown(found: WaysMap, pictures: Mapping[str, str] | None = None) -> str:
    """The map in words, with a table of the families. ``pictures`` maps *ways* to a file's name."""
    parts = [f"# Out of the box and back: {escaped(found.puzzle.title)}", _summary(found)]
    parts += picture(pictures or {}, "ways", "The families and their shortest excursions, turn by turn")
    if found.ways:
        parts += ["## What leaving the box can do", _table(found.ways[:MOST])]
    if len(found.ways) > MOST:
        parts.append(f"And {len(found.ways) - MOST} more; `--json` has them all.")
    parts += ["## What was counted", "\n".join(f"- {escaped(capital(note))}." for note in notes(found))]
    return "\n\n".join(parts) + "\n"


def _summary(found: WaysMap) -> str:
    if not found.ways:
        return "Turns that keep the outline lead from each closed box to every other: nobody needs to leave the box."
    families = "one family" if len(found.ways) == 1 else f"{len(found.ways)} families"
    counts = [(sum(way.status == status for way in found.ways), words) for status, words in STATUS_WORDS.items()]
    told = listed([f"{number} {'is' if number == 1 else 'are'} {words}" for number, words in counts if number])
    ended = "" if isinstance(found.ending, AllKnown | DepthReached) else f" Then {escaped(say(found.ending))}."
    return (
        f"Turns that keep the outline leave {found.classes} classes of closed boxes apart. Those other than the solved one's make"
        f" {families}: whoever turns inside the box before leaving it comes to any class of a family by one excursion. Of the"
        f" families, {told}. All excursions of up to {found.complete} turns were looked at, {found.states} states.{ended}\n\n"
        "From solved, an excursion sets the position up; undone, and with turns inside the box after it, it leads home."
    )


def _table(ways: tuple[MapEntry, ...]) -> str:
    rows = ["| what looks wrong | classes | turns | a shortest excursion from solved |", "| --- | ---: | --- | --- |"]
    return "\n".join([*rows, *map(_row, ways)])


def _row(way: MapEntry) -> str:
    words = escaped(way.family.words) or "no few small changes"
    changes = f" (`{'`, `'.join(way.family.changes)}`)" if way.family.changes else ""
    moves = f"`{' '.join(way.moves)}`" if way.moves else ""
    return f"| {words}{changes} | {way.family.classes} | {turns_in_words(way)} | {moves} |"
