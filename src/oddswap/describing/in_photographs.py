"""Photographs of a ticket: ``[[photograph]]`` tables to what they show, in the keys of a ticket.

::

    [[photograph]]
    file = "one.jpg"                                       # in the ticket's folder: JPEG, PNG or WebP
    corners = { UFR = [412, 303], UFL = [150, 262] }       # four or more, in pixels from the picture's top left

Corners of the whole solid are named by the sides that meet there, as the rows of ``[seen]`` name them. Photographs fill what
``[seen]`` leaves out; what is typed there stays.
"""

from collections.abc import Mapping
from pathlib import Path

from oddswap.describing.habits import refuse_others, say_where
from oddswap.describing.photographs.outside import outside
from oddswap.describing.photographs.palette import look_of
from oddswap.describing.photographs.picture import open_picture
from oddswap.describing.photographs.reader import Photograph, PhotographsRead, read_photographs
from oddswap.describing.sights import UNSEEN, every_look, sight_words
from oddswap.describing.stickers import stickers
from oddswap.describing.ticket import TURNED
from oddswap.errors import BadPhotograph, BadTicket, ContradictoryTicket, quoted
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.values.text_file import is_length

KEYS = {"file": (str, "the name of a picture, such as one.jpg"), "corners": (dict, "corners such as UFR = [412, 303]")}


def filled_in(puzzle: Puzzle, colours: Mapping[str, str], data: dict, folder: Path | None) -> dict:
    """The keys of a ticket with ``seen`` or ``slots`` in place of ``photograph``. `BadPhotograph`, `ContradictoryTicket`."""
    told = next((key for key in ("after", "changes") if key in data), None)
    if told:
        raise ContradictoryTicket(f"photograph: {told} tells the whole puzzle: leave out the one or the other")
    outside(puzzle)
    missing = [facet for facet, paint in puzzle.geometry.paints.items() if facet == paint and facet not in colours]
    if missing:
        raise BadPhotograph(
            f"[colours]: nobody said which colour {', '.join(missing)} has: type oddswap read and the ticket, look whether "
            "the colours that it prints are right, and copy its lines into the ticket"
        )
    reading = reading_of(puzzle, colours, data["photograph"], folder)
    seen, slots = read_rows(reading), read_slots(reading)
    data = {key: value for key, value in data.items() if key != "photograph"} | {"elsewhere": data.get("elsewhere", TURNED)}
    if seen:
        return data | {"seen": seen | {face: _typed_first(rows, seen.get(face)) for face, rows in data.get("seen", {}).items()}}
    return data | {"slots": slots | data.get("slots", {})}


def _typed_first(typed: object, read: dict | None) -> object:
    """The rows that somebody typed, with what was read where they left a sticker out; as they are where they are no such rows."""
    rows = typed.get("rows") if isinstance(typed, dict) else None
    if not read or not isinstance(rows, list) or not all(isinstance(row, str) for row in rows):
        return typed
    words, found = [row.split() for row in rows], [row.split() for row in read["rows"]]
    if [len(row) for row in words] != [len(row) for row in found]:
        return typed
    pairs = (zip(own, other, strict=True) for own, other in zip(words, found, strict=True))
    return {"rows": [[other if word == UNSEEN else word for word, other in row] for row in pairs]}


def reading_of(puzzle: Puzzle, colours: Mapping[str, str], tables: object, folder: Path | None) -> PhotographsRead:
    """What photographs show; the colours are inferred where they are not all named. `BadTicket`, `BadPhotograph`."""
    photographs = []
    for number, table in enumerate(tables if isinstance(tables, list) else [], 1):
        with say_where(f"[[photograph]] number {number}"):
            if not isinstance(table, dict):
                raise BadTicket("it is of the wrong type: write file and corners below [[photograph]]")
            refuse_others(table, KEYS, "", "it")
            if missing := [key for key in KEYS if key not in table]:
                raise BadTicket(f"{missing[0]} is missing: add {KEYS[missing[0]][1]}")
            photographs.append(Photograph(f"photograph {number}", open_picture(_inside(table["file"], folder)), _corners(table)))
    words = {puzzle.geometry.paints[facet]: word for facet, word in colours.items()}
    looks = {paint: look_of(word) for paint, word in words.items()} if set(words) == set(outside(puzzle).paints) else {}
    return read_photographs(puzzle, photographs, looks)


def _inside(name: str, folder: Path | None) -> Path:
    if folder is None:
        raise BadPhotograph("a ticket that is no file has no folder for its photographs: save it beside them")
    path = folder / name
    try:
        inside = not Path(name).is_absolute() and path.resolve().is_relative_to(folder.resolve())
    except (OSError, RuntimeError, ValueError):  # links in a circle, and names that no file has
        inside = False
    if not inside:
        raise BadPhotograph(f"{quoted(name, 60)} leads out of the ticket's folder: lay the picture beside the ticket")
    return path


def _corners(table: dict) -> dict[str, tuple[float, float]]:
    for name, at in table["corners"].items():
        if not isinstance(at, list) or len(at) != 2 or not all(map(is_length, at)):
            raise BadTicket(
                f"corners {quoted(name)}: give two numbers, such as [412, 303], in pixels from the picture's top left"
            )
    return {name: (float(x), float(y)) for name, (x, y) in table["corners"].items()}


def read_rows(reading: PhotographsRead) -> dict[str, dict]:
    """``[seen]`` as the photographs show it, paint by paint; empty where the puzzle has no rows of stickers."""
    table = stickers(reading.puzzle)
    if table is None:
        return {}
    solid = outside(reading.puzzle)
    may = {place: reading.may_show(i) for i, place in enumerate(solid.places)}
    texts = {place: "|".join(sorted(paints)) if 0 < len(paints) < len(solid.paints) else UNSEEN for place, paints in may.items()}
    rows = {face: [" ".join(texts[table.places[n]] for n in row) for row in grid] for face, grid in table.grid.items()}
    return {face: {"rows": own} for face, own in rows.items() if set("".join(own)) - set(f"{UNSEEN} ")}


def read_slots(reading: PhotographsRead) -> dict[str, str]:
    """``[slots]`` as the photographs show them, where the puzzle has no rows of stickers: those of which something was read."""
    puzzle, solid = reading.puzzle, outside(reading.puzzle)
    found = {}
    for slot, numbers in enumerate(solid.at if stickers(puzzle) is None else ()):
        may = [{solid.paints.index(paint) for paint in reading.may_show(number)} for number in numbers]
        labels = zip(puzzle.kind_of[slot].labels, solid.shown[slot].tolist(), strict=True)
        fits = (label for label, shown in labels if all(not own or paint in own for own, paint in zip(may, shown, strict=True)))
        sight = frozenset(int(puzzle.looks[label]) for label in fits)
        if sight != every_look(puzzle, slot):
            found[puzzle.slots[slot]] = sight_words(puzzle, slot, sight)
    return found
