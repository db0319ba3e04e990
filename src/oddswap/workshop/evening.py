"""An evening ready to run: sheets, keys, envelopes, cut-outs, posters, slides and a rehearsed script in one folder.

For a puzzle whose shape decides its turns: the map of its shapes as a poster, and a card with the one idea to try by hand.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import partial
from pathlib import Path

from matplotlib.figure import Figure

from oddswap.errors import BadOption
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.shape_tree import STAGES, around_home
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.budget import Budget, Clock, Limit, started
from oddswap.reasoning.verdicts.alarms import alarms
from oddswap.showing.ink.canvas import Paper, write_pdf
from oddswap.showing.ink.palette import PAPER as WHITE
from oddswap.showing.pages.output_folder import open_folder
from oddswap.showing.pictures.alarm_poster import draw_alarms, poster_tiles
from oddswap.showing.pictures.shape_maps import draw_map, draw_walk
from oddswap.words.products.worksheets import LOOP_CARD, SAYS
from oddswap.words.to_visitors.moves import letters_explained
from oddswap.workshop.count_sheet import count_pages
from oddswap.workshop.cut_outs import cut_out_pages
from oddswap.workshop.guide import Evening, guide_markdown, guide_pages, planned
from oddswap.workshop.worksheet_pages import hero_pages, key_pages, sheet_pages, slides, strip_pages

LONG = Budget(600.0)
"""For an evening where nobody says how long."""
A_TABLE, TABLES, MOST_TABLES = 4, 5, 30
"""How many people sit at a table, and at how many tables, where nobody says; and at how many they can sit."""

Tell = Callable[[str, float], None]


def write_workshop(
    names: Sequence[str],
    level: int,
    seed: int,
    folder: Path,
    *,
    count: int = 2,
    tables: int | None = None,
    people: int | None = None,
    paper: str = "A4",
    budget: Limit = None,
    tell: Tell | None = None,
    force: bool = False,
) -> list[Path]:
    """Everything for so many ``people`` at so many ``tables``, with at most ``count`` different sheets of each puzzle.

    Where ``tables`` or ``people`` is left out, there are four people at a table.

    The same names, level and seed give the same files to the byte. Everything is made first and then moved in, with ``force``
    as for an `OutputFolder`. `BadOption` for a level, puzzle or number that cannot make a fair sheet, or a folder that cannot be
    written, or where the ``budget`` ends first: an evening is whole, and the same each time.
    """
    if not names:
        raise BadOption("no puzzle is named: write at least one, such as cube:3")
    tables = min(MOST_TABLES, -(-(people or TABLES * A_TABLE) // A_TABLE)) if tables is None else tables
    if not (1 <= count <= 100 and 1 <= tables <= MOST_TABLES):
        raise BadOption(f"{count} sheets for {tables} tables: give 1 to 100 sheets of each puzzle and 1 to 30 tables")
    people = tables * A_TABLE if people is None else people
    if not tables <= people <= 1000:
        raise BadOption(f"{people} people for {tables} tables: give at least one person a table, and at most 1000 people")
    clock = started(budget or LONG)
    evening = planned([load(name) for name in names], level, seed, count, tables, people, clock)
    with open_folder(folder, force) as out:
        files = list(_files(evening, paper, clock))
        for number, (name, make) in enumerate(files):
            if tell:
                tell(name, number / len(files))
            make(out.making / name)
        return out.lay("worksheet", {name: out.making / name for name, _ in files})


def _files(evening: Evening, paper: str, clock: Clock) -> Iterator[tuple[str, Callable[[Path], object]]]:
    tables = [(sheet, [table for table, _, own in evening.seats if own is sheet], paper) for sheet in evening.sheets]
    together: dict[str, Callable[[], Iterable[Iterable[Figure]]]] = {
        "sheets.pdf": lambda: (
            *(sheet_pages(sheet, paper) for sheet in evening.sheets),
            *(count_pages(count, paper) for count in [evening.count] if count),
        ),
        "keys.pdf": lambda: (key_pages(*table) for table in tables),
        "envelopes.pdf": lambda: (hero_pages(*evening.hero, paper), *(strip_pages(*table) for table in tables)),
        "cut_outs.pdf": lambda: [cut_out_pages(evening.puzzles, paper)],
        "projector.pdf": lambda: [slides(evening.slides.questions)],
        "posters.pdf": lambda: [[draw_alarms(puzzle, alarms(puzzle, clock))] for puzzle in evening.puzzles],
        "poster_tiles.pdf": lambda: (poster_tiles(puzzle, alarms(puzzle, clock), paper) for puzzle in evening.puzzles),
        "guide.pdf": lambda: [guide_pages(guide_markdown(evening), paper)],
    }
    for name, puzzle in evening.shaped.items():
        together[name] = lambda puzzle=puzzle: ([draw(puzzle)] for draw in (shape_poster, partial(loop_card, paper=paper)))
    for name, parts in together.items():
        yield name, lambda path, parts=parts: write_pdf(_in_time((page for part in parts() for page in part), clock), path)
    yield "guide.md", lambda path: path.write_text(guide_markdown(evening), encoding="utf-8")


def _in_time(pages: Iterable[Figure], clock: Clock) -> Iterator[Figure]:
    """The pages, drawn one by one; `BadOption` where the time ends before the last."""
    for page in pages:
        if clock.spent:
            raise BadOption("the time ended before all pages were drawn: give more seconds, or ask for fewer sheets")
        yield page


NEAR = 60
"""From so many shapes the loop of the card may start back; of those it is the one that moves the fewest labels."""


def shape_poster(puzzle: Puzzle) -> Figure:
    """The map around home, to be printed at any size."""
    figure = draw_map(puzzle, side=1.6)
    figure.set_facecolor(WHITE)
    return figure


def loop_card(puzzle: Puzzle, paper: str = "A4") -> Figure:
    """A page with one loop and what to do with it."""
    page = Paper(paper)
    page.text(SAYS.loop_title, 24, weight="bold")
    loop = " ".join(small_loop(puzzle))
    draw_walk(puzzle, loop, ax=page.box(2.0))
    for line in (*LOOP_CARD, letters_explained(puzzle, loop), SAYS.care):
        page.text(line, 15, after=0.14)
    return page.pages[0]


def small_loop(puzzle: Puzzle) -> tuple[str, ...]:
    """Turns that leave the shape at home and come back to it, with as little changed as may be, few, and rather a half turn.

    >>> from oddswap.puzzles.catalogue import load
    >>> " ".join(small_loop(load("cuboid:2x3x4,turns=all")))
    "D 2B2 LL2 2B2 D'"
    """
    shapes, steps = around_home(puzzle, STAGES[0]), list(puzzle.turns.values())
    loops = [
        (int((image != range(puzzle.degree)).sum()), len(word), -abs(steps[turn].step.amount), word)
        for numbers, turns, images in shapes.loops(range(min(NEAR, len(shapes))))
        for number, turn, image in zip(numbers.tolist(), turns.tolist(), images, strict=True)
        if number
        for word in [shapes.round_trip(number, turn)]
    ]
    return min(loops)[-1]
