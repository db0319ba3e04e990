"""The facilitator's guide: one text with tonight's puzzles in it, as Markdown and as pages to print."""

import re
from collections.abc import Mapping, Sequence

from matplotlib.figure import Figure

from oddswap.showing.ink.paper import Paper
from oddswap.showing.pages.markdown import escaped, unescaped
from oddswap.showing.pages.template import fill_template
from oddswap.values.grammar import listed


def guide_markdown(level: int, titles: Sequence[str], measured: Mapping[str, tuple[float, float]], tables: int) -> str:
    """The guide for an evening; ``measured`` is what `worksheets.difficulty` found, by title."""
    rows = "\n".join(f"| {escaped(title)} | {wrong:.1f} | {turns:.1f} |" for title, (wrong, turns) in measured.items())
    puzzles = escaped(listed(titles))
    return fill_template(__file__, "guide.md", level=str(level), puzzles=puzzles, tables=str(tables), measured=rows)


def guide_pages(text: str, paper: str = "A4") -> list[Figure]:
    """The guide's Markdown as pages: headings, paragraphs, lists and tables are all that it has."""
    page = Paper(paper)
    paragraph: list[str] = []

    def end() -> None:
        if paragraph:
            page.text(unescaped(" ".join(paragraph)), 10)
            paragraph.clear()

    for line in text.splitlines():
        if line.startswith("#"):
            end()
            page.heading(unescaped(line.lstrip("# ")), 17 if line.startswith("# ") else 12)
        elif line.startswith("- "):
            end()
            page.text(f"•  {unescaped(line[2:])}", 10, indent=0.12, after=0.03)
        elif line.startswith("|"):
            end()
            cells = [unescaped(cell.strip()) for cell in re.split(r"(?<!\\)\|", line)]
            if not set(line) <= set("|- "):
                page.text("  ·  ".join(filter(None, cells)), 9.5, indent=0.12, after=0.03)
        elif line.strip():
            paragraph.append(line.strip())
        else:
            end()
            page.y -= 0.04
    end()
    return page.pages
