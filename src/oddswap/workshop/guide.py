"""The script of an evening: one text made from tonight's sheets, as Markdown and as pages to print."""

import re
from collections.abc import Iterator, Sequence

from matplotlib.figure import Figure

from oddswap.reasoning.verdicts.diagnosis import judged
from oddswap.showing.ink.paper import Paper
from oddswap.showing.pages.markdown import escaped, without_marks
from oddswap.showing.pages.template import fill_template
from oddswap.values.grammar import listed
from oddswap.words.products import worksheets as words
from oddswap.workshop.plan import QUESTIONS, Evening
from oddswap.workshop.worksheets import difficulty

SIZE = 11


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
        tables=str(evening.tables),
        seats=_rows((t, people, titles[sheet.puzzle], sheet.number) for t, people, sheet in evening.seats),
        copies=_rows(_copies(evening)),
        asked=_rows((sheet.number, *map(words.asked_words, sheet.questions)) for sheet in evening.sheets),
        hero=words.hero_words(escaped(puzzle.title), found),
        surprise=words.SURPRISE if found.culprits else words.NO_SURPRISE,
        moves=moves,
        back=puzzle.undone(moves),
        counting=words.NO_COUNTING
        if evening.count is None
        else words.COUNTING.format(last, evening.count.puzzle.title, listed(map(str, evening.count.counts))),
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
        yield words.COUNT_TITLE, str(QUESTIONS * len(evening.sheets) + 1), evening.people


def _cards(evening: Evening) -> Iterator[str]:
    """For the fast: the questions on ways home, wherever they stand."""
    for sheet in evening.sheets:
        for number, question in enumerate(sheet.questions, 1):
            if question.sort == "ways":
                yield words.card_words(sheet.number, number, len(question.choices))


def guide_pages(text: str, paper: str = "A4") -> list[Figure]:
    """The guide's Markdown as pages: headings, paragraphs, lists and tables are all that it has."""
    page = Paper(paper)
    paragraph: list[str] = []
    table: list[Sequence[str]] = []

    def end() -> None:
        if paragraph:
            page.text(without_marks(" ".join(paragraph)), SIZE)
        if table:
            page.table(table, SIZE)
            page.y -= 0.1
        paragraph.clear()
        table.clear()

    for line in text.splitlines():
        if line.startswith("|"):
            if not set(line) <= set("|- "):
                table.append([without_marks(cell.strip()) for cell in re.split(r"(?<!\\)\|", line)[1:-1]])
            continue
        if not line.strip() or line[0] in "#-":
            end()
        if line.startswith("#"):
            page.heading(without_marks(line.lstrip("# ")), 18 if line.startswith("# ") else 14)
        elif line.startswith("- "):
            page.text(f"•  {without_marks(line[2:])}", SIZE, indent=0.12, after=0.03)
        elif line.strip():
            paragraph.append(line.strip())
    end()
    return page.pages
