"""The verdict by looking it up: the tables of alarms of the main puzzles as small data, for a page that needs no Python."""

import json
from collections.abc import Iterable, Mapping

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.symmetry import turn_symmetries
from oddswap.showing.pages.law_page import alarms_data
from oddswap.showing.pages.template import fill_template
from oddswap.showing.viewer.widget import module, traits_of
from oddswap.values.grammar import capital
from oddswap.words.verdicts import WORDINGS

LOOKED_UP = tuple(
    "cube:2 cube:3 cube:3,centres=marked cube:3,centres=none cube:4 cube:5 cuboid:2x3x4 shape-mod:prism8 "
    "shape-mod:prism8,cut=0.3333 shape-mod:prism8,paint=FR+FL+BR+BL shape-mod:cube,axis=U,degrees=45 "
    "tetrahedron octahedron dodecahedron corner-cube tiles:4x4 rings:4+4".split()
)


def look_up_data(puzzles: Iterable[Puzzle]) -> dict:
    """The alarms of each puzzle, those with the same words together.

    A case is one class under the symmetries of the puzzle (``moves`` of its slots): ``such`` is one of its members, in the
    ``slots`` with these numbers, ``alike`` their number; of that member the pieces ``behind`` it are the culprits.
    """
    found = []
    for puzzle in puzzles:
        by_words: dict[str, list[dict]] = {}
        for entry in alarms_data(puzzle, puzzle.alarms)["entries"]:
            by_words.setdefault(entry["words"], []).append(
                {
                    "such": ", ".join(entry["changes"]),
                    "alike": entry["alike"],
                    "verdict": entry["verdict"],
                    "laws": list(dict.fromkeys(law["statement"] for law in entry["broken"])),
                    "reason": entry["reason"],
                    "culprits": list(dict.fromkeys(culprit["words"] for culprit in entry["culprits"])),
                    "slots": slots_of(puzzle, entry["changes"]),
                    "behind": sorted({puzzle.slot(piece) for culprit in entry["culprits"] for piece in culprit["pieces"]}),
                }
            )
        alarms = [{"words": words, "cases": cases} for words, cases in by_words.items()]
        seen = {"moves": turn_symmetries(puzzle), "traits": traits_of(puzzle, puzzle.solved)}
        found.append({"name": puzzle.name, "title": puzzle.title, "alarms": alarms, **seen})
    said = {verdict: words.alarm for verdict, words in WORDINGS.items() if words.alarm}
    return {"puzzles": found, "said": said}


def slots_of(puzzle: Puzzle, changes: Iterable[str]) -> list[int]:
    """The numbers of the slots that changes by hand speak of."""
    return sorted({puzzle.slot(word) for change in changes for word in change.split() if word in puzzle.slots})


def viewer_script() -> str:
    """The viewer as a plain script, since a page that was opened as a file may load no module."""
    return f"const VIEWER = (() => {{\n{module().replace('export default { render };', 'return { Teller, modelOf };')}\n}})();\n"


def look_up_script(puzzles: Iterable[Puzzle]) -> str:
    """The data as a script, since a page that was opened as a file may read no other file."""
    return f"const ALARMS = {json.dumps(look_up_data(puzzles), separators=(',', ':'), ensure_ascii=False)};\n"


def look_up_page(tables: Mapping[str, Puzzle]) -> str:
    """The page in Markdown; ``tables`` has the puzzles by the pages with their tables."""
    rows = (f"{capital(puzzle.title)} ({puzzle.name}) <{name}>" for name, puzzle in tables.items())
    return fill_template(__file__, "look_up.md", tables="\n".join(rows))
