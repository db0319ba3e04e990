"""What photographs show, as a page to read whose lines can be copied into the ticket, and as plain data."""

from collections.abc import Mapping

import tomli_w

from oddswap.describing.in_photographs import read_rows, read_slots
from oddswap.describing.photographs.outside import outside
from oddswap.describing.photographs.reader import PhotographsRead
from oddswap.showing.pages.markdown import escaped
from oddswap.values.grammar import capital
from oddswap.words.photographs import reading_notes


def read_data(reading: PhotographsRead, colours: Mapping[str, str]) -> dict:
    """The reading as plain data, by ``schemas/read.json``; ``colours`` are the visitor's words by facet."""
    puzzle, solid = reading.puzzle, outside(reading.puzzle)
    words = _words(reading, colours)
    facets = [
        {
            "slot": puzzle.slots[slot],
            "face": side,
            "colour": words[solid.paints[int(odds.argmax())]] if odds.any() else None,
            "sure": bool(sure),
        }
        for (slot, side), odds, sure in zip(solid.places, reading.odds, reading.sure, strict=True)
    ]
    return {
        "seen": {face: table["rows"] for face, table in read_rows(reading).items()},
        "slots": read_slots(reading),
        "facets": facets,
        "notes": _notes(reading, words),
    }


def read_markdown(reading: PhotographsRead, colours: Mapping[str, str]) -> str:
    """The reading in words, and as lines for the ticket."""
    words = _words(reading, colours)
    named = {paint: word for paint, word in words.items() if word} if reading.inferred else {}
    lines = {"colours": named, "seen": read_rows(reading), "slots": read_slots(reading)}
    text = tomli_w.dumps({key: table for key, table in lines.items() if table})
    notes = "\n".join(f"- {capital(escaped(note))}." for note in _notes(reading, words))
    return f"# What the photographs show: {escaped(reading.puzzle.title)}\n\n{notes}\n\n```toml\n{text}```\n"


def _words(reading: PhotographsRead, colours: Mapping[str, str]) -> dict[str, str]:
    """A word for the colour of each paint, or how it looks where nobody gave one."""
    paints = reading.puzzle.geometry.paints
    return {**reading.palette} if reading.inferred else {paints[facet]: word for facet, word in colours.items()}


def _notes(reading: PhotographsRead, words: Mapping[str, str]) -> list[str]:
    solid, slots = outside(reading.puzzle), reading.puzzle.slots
    places = [(slots[slot], side) for slot, side in solid.places]
    unsure = [
        (*places[i], words[solid.paints[int(odds.argmax())]])
        for i, (odds, sure) in enumerate(zip(reading.odds, reading.sure, strict=True))
        if odds.any() and not sure and i not in reading.clashing
    ]
    unread = not reading.odds.any(axis=1).all()
    return reading_notes(reading.inferred, unread, [places[i] for i in reading.clashing], unsure)
