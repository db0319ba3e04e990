"""An evening as data: which table has which sheet, what opens it, and what is shown on the wall. And its script.

The script is one text made from tonight's sheets, as Markdown and as pages to print.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from matplotlib.figure import Figure

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import with_turns_out_of_the_box
from oddswap.reasoning.budget import Clock
from oddswap.reasoning.verdicts.diagnosis import judged
from oddswap.showing.ink.canvas import Paper
from oddswap.showing.pages.markdown import blocks_of, escaped, words_of
from oddswap.showing.pages.template import fill_template
from oddswap.values.grammar import counted, listed
from oddswap.words.products import worksheets as words
from oddswap.words.products.worksheets import SAYS
from oddswap.workshop.by_turning import known_turns
from oddswap.workshop.count_sheet import FlipCount, flip_count
from oddswap.workshop.worksheets import Worksheet, difficulty, worksheet

QUESTIONS = 4
"""How many questions a sheet has."""


@dataclass(frozen=True)
class Evening:
    """Sheets numbered from 1; ``slides`` is a sheet for the wall. Table t has sheet t, or after the last the first again.

    ``hero`` are a puzzle and the turns that make its opening position; ``count`` is for a sheet on flips, if there is one.
    """

    puzzles: tuple[Puzzle, ...]
    sheets: tuple[Worksheet, ...]
    slides: Worksheet
    people: int
    tables: int
    hero: tuple[Puzzle, str]
    count: FlipCount | None

    @cached_property
    def seats(self) -> tuple[tuple[int, int, Worksheet], ...]:
        """Each table with its people and its sheet."""
        each, more = divmod(self.people, self.tables)
        sheets = self.sheets
        return tuple((t + 1, each + (t < more), sheets[t % len(sheets)]) for t in range(self.tables))

    @property
    def shaped(self) -> dict[str, Puzzle]:
        """The puzzles whose shape decides their turns, with all of these, by the names of their files."""
        wide = [(re.sub(r"\W", "_", puzzle.name), with_turns_out_of_the_box(puzzle) or puzzle) for puzzle in self.puzzles]
        return {f"shapes_{name}.pdf": puzzle for name, puzzle in wide if not puzzle.steady and puzzle.blank is None}


def planned(puzzles: Sequence[Puzzle], level: int, seed: int, count: int, tables: int, people: int, clock: Clock) -> Evening:
    """The evening as data: the puzzles go round the tables, and each has a sheet at least."""
    numbers = range(1, max(len(puzzles), min(tables, len(puzzles) * count)) + 1)
    sheets = tuple(worksheet(puzzles[(n - 1) % len(puzzles)], level, seed, n, QUESTIONS, clock) for n in numbers)
    known = {puzzle: known_turns(puzzle, clock) for puzzle in puzzles}
    openings = [(puzzle, word) for sort in ("odd", "plain") for puzzle in puzzles for word in getattr(known[puzzle], sort)[:1]]
    asked = (question for sheet in sheets for question in sheet.questions if not question.changes)
    hero, word = (openings or [(puzzles[0], next(asked).moves.split())])[0]
    wall = worksheet(hero, level, seed, 0, QUESTIONS, clock)
    return Evening(tuple(puzzles), sheets, wall, people, tables, (hero, " ".join(word)), flip_count(puzzles, seed))


SIZE, TOGETHER = 11, 1.8
"""Points of words, and the room that a heading has with what begins below it."""


def guide_markdown(evening: Evening) -> str:
    """The script: who gets which sheet, how many copies, what happens in which minute, and without any puzzles as well."""
    titles = {puzzle.name: escaped(puzzle.title) for puzzle in evening.puzzles}
    puzzle, moves = evening.hero
    found = judged(puzzle, puzzle.appearance(puzzle.follow(moves)))
    measured = {puzzle: difficulty(evening.sheets, puzzle) for puzzle in evening.puzzles}
    last = QUESTIONS * len(evening.sheets) + 1
    return fill_template(
        __file__,
        "guide.md",
        level=str(evening.sheets[0].level),
        puzzles=listed(titles.values()),
        people=str(evening.people),
        tables=counted(evening.tables, "tables"),
        seats=_rows((t, people, titles[sheet.puzzle], sheet.number) for t, people, sheet in evening.seats),
        copies=_rows(_copies(evening)),
        asked=_rows((sheet.number, *map(words.asked_words, sheet.questions)) for sheet in evening.sheets),
        hero=words.hero_words(escaped(puzzle.title), found),
        surprise=SAYS.surprise if found.culprits else SAYS.no_surprise,
        moves=moves,
        back=puzzle.undone(moves),
        counting=SAYS.no_counting
        if evening.count is None
        else SAYS.counting.format(last, evening.count.puzzle.title, listed(map(str, evening.count.counts))),
        cards="\n".join(f"- {line}" for line in _cards(evening)),
        measured=_rows((escaped(p.title), f"{wrong:.1f}", f"{turns:.1f}") for p, (wrong, turns) in measured.items()),
    )


def _rows(rows) -> str:
    return "\n".join(f"| {' | '.join(map(str, row))} |" for row in rows)


def _copies(evening: Evening) -> Iterator[tuple[str, str, int]]:
    """What to print from which pages, and how often."""
    for i, sheet in enumerate(evening.sheets):
        pages = f"{QUESTIONS * i + 1} to {QUESTIONS * (i + 1)}"
        yield f"Sheet {sheet.number}", pages, sum(people for _, people, own in evening.seats if own is sheet)
    if evening.count:
        yield SAYS.count_title, str(QUESTIONS * len(evening.sheets) + 1), evening.people


def _cards(evening: Evening) -> Iterator[str]:
    """For the fast: the questions on ways home, wherever they stand, and what leaves its outline."""
    for sheet in evening.sheets:
        for number, question in enumerate(sheet.questions, 1):
            if question.sort == "ways":
                yield words.card_words(sheet.number, number, len(question.choices))
    for name, puzzle in evening.shaped.items():
        yield SAYS.shapes.format(puzzle.title, name)


def guide_pages(text: str, paper: str = "A4") -> list[Figure]:
    """The guide's Markdown as pages: headings, paragraphs, lists and tables are all that it has."""
    page = Paper(paper)
    for block in blocks_of(text):
        if block["type"] == "heading":
            page.room(TOGETHER)
            page.heading(words_of(block), 18 if block["attrs"]["level"] == 1 else 14)
        elif block["type"] == "paragraph":
            page.text(words_of(block), SIZE)
        elif block["type"] == "list":
            for item in block["children"]:
                page.text(f"•  {words_of(item)}", SIZE, indent=0.12, after=0.03)
            page.y -= 0.1
        elif block["type"] == "table":
            head, body = block["children"]
            page.table([[*map(words_of, row["children"])] for row in (head, *body["children"])], SIZE)
            page.y -= 0.1
    return page.pages
