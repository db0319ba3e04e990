"""An evening ready to run: sheets, keys, envelopes, cut-outs, posters and the facilitator's guide in one folder."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import partial
from pathlib import Path

from matplotlib.figure import Figure

from oddswap.errors import BadOption
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import load, with_turns_out_of_the_box
from oddswap.reasoning.budget import Budget, Clock, Limit, started
from oddswap.reasoning.verdicts.alarms import alarms
from oddswap.showing.ink.canvas import save
from oddswap.showing.ink.paper import write_pdf
from oddswap.showing.pages.output_folder import open_folder
from oddswap.showing.pictures.alarm_poster import draw_alarms
from oddswap.workshop.guide import guide_markdown, guide_pages
from oddswap.workshop.shape_pages import loop_card, shape_poster
from oddswap.workshop.worksheet_pages import cut_out_pages, envelope_pages, key_pages, sheet_pages
from oddswap.workshop.worksheets import Worksheet, difficulty, worksheet

LONG = Budget(600.0)
"""For an evening where nobody says how long."""

Tell = Callable[[str, float], None]


def write_workshop(
    names: Sequence[str],
    level: int,
    seed: int,
    folder: Path,
    *,
    count: int = 6,
    tables: int = 5,
    paper: str = "A4",
    budget: Limit = None,
    tell: Tell | None = None,
    force: bool = False,
) -> list[Path]:
    """``count`` sheets of each puzzle with their keys, envelopes for so many tables, and all that goes with them.

    The same names, level and seed give the same files to the byte. Everything is made first and then moved in, with ``force``
    as for an `OutputFolder`. `BadOption` for a level, puzzle or number that cannot make a fair sheet, or a folder that cannot be
    written, or where the ``budget`` ends first: an evening is whole, and the same each time.
    """
    if not names:
        raise BadOption("no puzzle is named: write at least one, such as cube:3")
    if not (1 <= count <= 100 and 1 <= tables <= 30):
        raise BadOption(f"{count} sheets for {tables} tables: give 1 to 100 sheets of each puzzle and 1 to 30 tables")
    clock, puzzles = started(budget or LONG), [load(name) for name in names]
    sheets = {
        puzzle.name: [worksheet(puzzle, level, seed, number, budget=clock) for number in range(1, count + 1)]
        for puzzle in puzzles
    }
    with open_folder(folder, force) as out:
        files = list(_files(puzzles, sheets, level, seed, tables, paper, clock))
        for number, (name, make) in enumerate(files):
            if tell:
                tell(name, number / len(files))
            make(out.making / name)
        return out.lay("worksheet", {name: out.making / name for name, _ in files})


def _files(
    puzzles: Sequence[Puzzle], sheets: dict[str, list[Worksheet]], level: int, seed: int, tables: int, paper: str, clock: Clock
) -> Iterator[tuple[str, Callable[[Path], object]]]:
    every = [sheet for puzzle in puzzles for sheet in sheets[puzzle.name]]
    together: dict[str, Callable[[], Iterable[Figure]]] = {
        "sheets.pdf": lambda: (page for sheet in every for page in sheet_pages(sheet, paper)),
        "keys.pdf": lambda: (page for sheet in every for page in key_pages(sheet, paper)),
        "envelopes.pdf": lambda: (
            page for table in range(1, tables + 1) for page in envelope_pages(puzzles, level, seed, table, paper)
        ),
        "cut_outs.pdf": lambda: (page for puzzle in puzzles[:1] for page in cut_out_pages(puzzle, paper)),
    }
    measured = {puzzle.title: difficulty(sheets[puzzle.name], puzzle) for puzzle in puzzles}
    guide = guide_markdown(level, [puzzle.title for puzzle in puzzles], measured, tables)
    together["guide.pdf"] = lambda: guide_pages(guide, paper)
    for name, pages in together.items():
        yield name, lambda path, pages=pages: write_pdf(_in_time(pages(), clock), path)
    yield "guide.md", lambda path: path.write_text(guide, encoding="utf-8")

    def poster(puzzle: Puzzle) -> Iterator[Figure]:
        yield draw_alarms(puzzle, alarms(puzzle, clock))

    for puzzle in puzzles:
        plain = "".join(letter if letter.isalnum() else "_" for letter in puzzle.name)
        yield f"poster_{plain}.pdf", lambda path, puzzle=puzzle: write_pdf(_in_time(poster(puzzle), clock), path)
        yield f"poster_{plain}.png", lambda path, puzzle=puzzle: save(*_in_time(poster(puzzle), clock), path, width=2400)
        wide = with_turns_out_of_the_box(puzzle) or puzzle
        if not wide.steady and wide.blank is None:
            pages = (draw() for draw in (partial(shape_poster, wide), partial(loop_card, wide, paper)))
            yield f"shapes_{plain}.pdf", lambda path, pages=pages: write_pdf(_in_time(pages, clock), path)


def _in_time(pages: Iterable[Figure], clock: Clock) -> Iterator[Figure]:
    """The pages, drawn one by one; `BadOption` where the time ends before the last."""
    left = iter(pages)
    while not clock.spent:
        if (page := next(left, None)) is None:
            return
        yield page
    raise BadOption("the time ended before all pages were drawn: give more seconds, or ask for fewer sheets")
