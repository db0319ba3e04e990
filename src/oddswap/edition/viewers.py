"""Pages of one file each that stand in for live controls: a puzzle to turn, and the answer to a ticket step by step."""

import re
from collections.abc import Iterable, Mapping
from pathlib import Path
from urllib.parse import quote

from oddswap.describing.ticket import Ticket
from oddswap.edition.pages import read_notebook
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.ticket_answers import answer_to
from oddswap.showing.pages.answer_html import answer_html, embedded, viewer_page
from oddswap.showing.pages.markdown import escaped
from oddswap.showing.pages.proof import proof_if_any
from oddswap.showing.pages.template import fill_template
from oddswap.showing.pictures.prints import draw_prints
from oddswap.showing.viewer.widget import traits_of
from oddswap.values.grammar import capital
from oddswap.words.pictures import CAPTIONS
from oddswap.words.products.notebooks import ALL_TICKETS, TO_TRY
from oddswap.words.table import reader_of

SECONDS = 10.0
"""For the search of a way out."""


def slug(name: str) -> str:
    """A puzzle's name as part of a file's name.

    >>> slug("shape-mod:prism8,cut=0.5")
    'shape_mod_prism8_cut_0_5'
    """
    return re.sub(r"[^a-z0-9]+", "_", name.lower()).strip("_")


def puzzles_in(sources: Iterable[str]) -> list[str]:
    """The names of the puzzles that a notebook's code loads by name."""
    named = dict.fromkeys(name for source in sources for name in re.findall(r'\bload\("([^"]+)"\)', source))
    return [name for name in named if ".toml" not in name]


def viewer_html(puzzle: Puzzle) -> str:
    """A page of one file: the puzzle solved, to look round and to turn."""
    title, still = capital(puzzle.title), embedded(draw_prints(puzzle))
    traits = traits_of(puzzle, puzzle.solved, None, still)
    return _in_the_edition(viewer_page(title, title, CAPTIONS["puzzle"], still, "What to try", f"<p>{TO_TRY}</p>", traits))


def ticket_html(ticket: Ticket) -> str:
    """The answer to a ticket as a page of one file, without the visitor's note."""
    found = answer_to(ticket, Budget(SECONDS))
    return _in_the_edition(answer_html(found, reader_of(ticket), proof=proof_if_any(found)))


def tickets_page(tickets: Mapping[str, Ticket]) -> str:
    told = {quote(name): (ticket.name.replace("_", " "), ticket.puzzle.title) for name, ticket in tickets.items()}
    rows = (f'| <a href="tickets/{at}.html">{escaped(name)}</a> | {escaped(title)} |' for at, (name, title) in told.items())
    return fill_template(__file__, "tickets.md", rows="\n".join(rows))


def _in_the_edition(page: str) -> str:
    """With a way back to the course, and its landmarks."""
    back = '<nav aria-label="Course"><a style="color:inherit" href="../index.html">Back to the course</a></nav>'
    return page.replace("<body>", f"<body>\n{back}\n<main>", 1).replace("</body>", "</main>\n</body>", 1)


def _sources(path: Path) -> list[str]:
    """The code of a notebook that has a control; of any other there is nothing to play with."""
    cells = [cell for cell in read_notebook(path).cells if cell.cell_type == "code"]
    plays = any({"knob", "widget"} & set(cell.metadata.get("tags", ())) for cell in cells)
    return [cell.source for cell in cells if plays]


def controls_replaced(path: Path, tickets: Mapping[str, Ticket], folder: Path) -> str:
    """Links to what stands in for a notebook's controls; pages of its puzzles go into the ``folder``, unless they are there."""
    sources = _sources(path)
    named = {name: load(name) for name in puzzles_in(sources)}
    titles, links = [puzzle.title for puzzle in named.values()], []
    for name, puzzle in named.items():
        page, title = folder / f"{slug(name)}.html", puzzle.title
        if not page.exists():
            page.write_text(viewer_html(puzzle), "utf-8")
        links.append(f'<a href="viewers/{page.name}">{title if titles.count(title) == 1 else f"{title} ({name})"}</a>')
    said = f"<p>To turn by yourself, here: {', '.join(links)}.</p>" if links else ""
    if tickets and any("workbench(" in source for source in sources):
        said += f'<p>{ALL_TICKETS}: <a href="tickets.html">the tickets, without Python</a>.</p>'
    return said
