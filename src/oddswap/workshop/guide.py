"""The script of an evening: one text made from tonight's sheets, as Markdown and as pages to print."""

from collections.abc import Iterator

from matplotlib.figure import Figure

from oddswap.reasoning.verdicts.diagnosis import judged
from oddswap.showing.ink.paper import Paper
from oddswap.showing.pages.markdown import blocks_of, escaped, words_of
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
    for block in blocks_of(text):
        if block["type"] == "heading":
            page.heading(words_of(block), 18 if block["attrs"]["level"] == 1 else 14)
        elif block["type"] == "paragraph":
            page.text(words_of(block), SIZE)
        elif block["type"] == "list":
            for item in block["children"]:
                page.text(f"•  {words_of(item)}", SIZE, indent=0.12, after=0.03)
        elif block["type"] == "table":
            head, body = block["children"]
            page.table([[*map(words_of, row["children"])] for row in (head, *body["children"])], SIZE)
            page.y -= 0.1
    return page.pages
