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
    facets = _facets(reading, _words(reading, colours))
    return {
        "seen": {face: table["rows"] for face, table in read_rows(reading).items()},
        "slots": read_slots(reading),
        "facets": [dict(zip(("slot", "face", "colour", "sure"), facet, strict=True)) for facet in facets],
        "notes": _notes(reading, facets),
    }


def read_markdown(reading: PhotographsRead, colours: Mapping[str, str]) -> str:
    """The reading in words, and as lines for the ticket."""
    words = _words(reading, colours)
    named = {paint: word for paint, word in words.items() if word} if reading.inferred else {}
    lines = {"colours": named, "seen": read_rows(reading), "slots": read_slots(reading)}
    text = tomli_w.dumps({key: table for key, table in lines.items() if table})
    notes = "\n".join(f"- {capital(escaped(note))}." for note in _notes(reading, _facets(reading, words)))
    return f"# What the photographs show: {escaped(reading.puzzle.title)}\n\n{notes}\n\n```toml\n{text}```\n"


def _words(reading: PhotographsRead, colours: Mapping[str, str]) -> dict[str, str]:
    """A word for the colour of each paint, or how it looks where nobody gave one."""
    paints = reading.puzzle.geometry.paints
    return {**reading.palette} if reading.inferred else {paints[facet]: word for facet, word in colours.items()}


Facet = tuple[str, str, str | None, bool]
"""A slot, a side, the likeliest colour there, ``None`` where it was not read, and whether that is sure."""


def _facets(reading: PhotographsRead, words: Mapping[str, str]) -> list[Facet]:
    solid, slots = outside(reading.puzzle), reading.puzzle.slots
    likeliest = (words[solid.paints[int(odds.argmax())]] if odds.any() else None for odds in reading.odds)
    return [(slots[at], side, *own) for (at, side), *own in zip(solid.places, likeliest, reading.sure.tolist(), strict=True)]


def _notes(reading: PhotographsRead, facets: list[Facet]) -> list[str]:
    clashing = [facets[i][:2] for i in reading.clashing]
    unsure = [facet[:3] for facet in facets if facet[2] is not None and not facet[3] and facet[:2] not in clashing]
    return reading_notes(reading.inferred, any(colour is None for _, _, colour, _ in facets), clashing, unsure)
