"""A notebook as committed, executed, as a page of Markdown: its prose, code and pictures, and words in place of controls.

The first use of each word in a lesson is a link to the glossary, which leads back to where the word is explained.
"""

import json
import re
import tomllib
from base64 import b64decode
from collections.abc import Iterable, Mapping, Sequence
from functools import cache
from html import escape
from importlib.resources import files
from pathlib import Path
from types import MappingProxyType

import nbformat
from nbformat import NotebookNode

from oddswap.errors import BadOption, quoted
from oddswap.lessons.machinery.course import Word, plain_prose, words
from oddswap.values.text_file import read_text
from oddswap.words.products.notebooks import CONTROL, TO_RUN

GLOSSARY = "appendix_glossary"
BREAK = "\n\n\x1f\n\n"
"""Between two cells, so that positions count through a whole lesson."""


def anchor(word: Word) -> str:
    """The name of a word's place on a page.

    >>> [anchor(word) for word in words() if word.word == "false parity"]
    ['word-false-parity']
    """
    return "word-" + re.sub(r"[^a-z0-9]+", "-", word.word.lower()).strip("-")


def linked(cells: Sequence[str], lesson: str, chosen: Iterable[Word] | None = None) -> list[str]:
    """The Markdown of a lesson's cells with the first use of each word as a link to the glossary.

    Where the lesson explains a word, its place gets the word's `anchor`. A word with an everyday meaning is left alone in lessons
    before the one that explains it.
    """
    chosen = [word for word in chosen or words() if not word.everyday or lesson >= word.lesson]
    text = BREAK.join(cells)
    prose = _readable(text)
    explained = [(span.start(), span.end()) for span in re.finditer(r"\*{1,2}(?=\S)[^*]+?(?<=\S)\*{1,2}", prose)]
    put: dict[tuple[int, int], str] = {}
    seen, placed = set(), set()
    for start, end, word in _uses(prose, chosen):
        here = word.lesson == lesson and any(a < start < b for a, b in explained) and word not in placed
        if word in seen and not here:
            continue
        name = f' id="{anchor(word)}"' if here else ""
        put[start, end] = f'<a class="word"{name} href="{GLOSSARY}.html#{anchor(word)}">{text[start:end]}</a>'
        seen.add(word)
        placed |= {word} if here else set()
    for (start, end), link in sorted(put.items(), reverse=True):
        text = text[:start] + link + text[end:]
    return text.split(BREAK)


def _readable(text: str) -> str:
    """The text without headings, links, *in order* and what `plain_prose` hides, of the same length."""
    hidden = re.compile(r"^#.*$|\[[^\]]*\]|<[^>]*>|\b[Ii]n (?:which |the |any )?orders?\b", re.MULTILINE)
    return hidden.sub(lambda found: " " * len(found[0]), plain_prose(text))


def _uses(prose: str, chosen: Sequence[Word]) -> list[tuple[int, int, Word]]:
    """Every use of a word, in order; of those that overlap the one that begins first, and is the longest."""
    found = [(use.start(), use.end(), word) for word in chosen for use in word.pattern.finditer(prose)]
    kept: list[tuple[int, int, Word]] = []
    for use in sorted(found, key=lambda use: (use[0], -use[1])):
        if not kept or use[0] >= kept[-1][1]:
            kept.append(use)
    return kept


def with_places(markdown: str, pages: dict[str, str]) -> str:
    """A table of the glossary with an `anchor` at each word, and links to where the ``pages``, by lesson, explain it.

    Of the lessons that are not among the pages only the number is left. In the list by the alphabet each word leads to its row.
    """
    for word in words():
        name, place, back = re.escape(word.word), anchor(word), word.lesson
        if word.lesson in pages:
            back = f'<a href="{pages[word.lesson]}.html#{place}">{word.lesson}</a>'
        row, leads = rf"^\| \*\*{name}\*\* \|(.*)\| \[[^\]]*\]\([^)]*\) \|$", rf"(?<=[*,]) {name} (?=\(\*)"
        markdown = re.sub(row, rf'| <span id="{place}">**{word.word}**</span> |\1| {back} |', markdown, flags=re.MULTILINE)
        markdown = re.sub(leads, f' <a href="#{place}">{word.word}</a> ', markdown)
    return markdown


LARGEST = 50_000_000
"""Bytes of a notebook that are read: its pictures stand in it."""
FOLDED = {"imports": "The code that prepares this page", "answer": "The answers"}
FOLDED |= dict.fromkeys(("exercise", "picture", "guess", "knob", "compare", "widget"), "The code of what stands below")
"""The tags of cells whose code is folded away, and what is written on the fold."""
LAB = re.compile(r'<span class="lab">.*?</span>', re.DOTALL)
"""Words that have a sense in JupyterLab alone."""
WIDGET = "application/vnd.jupyter.widget-view+json"
SHOWN = (WIDGET, "text/html", "text/markdown", "image/png", "text/plain")
"""The forms of an output, the first that there is taken."""


def read_notebook(path: Path) -> NotebookNode:
    """A notebook; `BadOption` for one that cannot be read, or that was not executed."""
    text = read_text(path, "the notebook", BadOption, LARGEST)
    try:
        notebook = nbformat.reads(text, as_version=4)
        nbformat.validate(notebook)
    except (ValueError, nbformat.ValidationError, AttributeError, KeyError, RecursionError):
        raise BadOption(f"{quoted(path.name)} is no notebook that can be read: leave it out or save it anew") from None
    for number, cell in enumerate(notebook.cells, 1):
        if cell.cell_type == "code" and cell.source.strip() and cell.execution_count is None:
            raise BadOption(f"cell {number} of {quoted(path.name)} was not executed: run the whole notebook and save it")
    return notebook


def page_of(path: Path, play: str, pages: dict[str, str], made: Mapping = MappingProxyType({})) -> tuple[str, dict[str, bytes]]:
    """The page of a notebook in Markdown, and its pictures by their file names.

    ``play`` is HTML in the place of controls that are not in ``made``, HTML by the cell's id; ``pages`` has the pages by lesson
    number. Of a link to a notebook that is not beside this one the words are left.
    """
    cells = read_notebook(path).cells
    told = [LAB.sub("", cell.source) for cell in cells if cell.cell_type == "markdown"]
    prose = iter(linked(told, path.name[:2]))
    pictures: dict[str, bytes] = {}
    last = next((cell.id for cell in reversed(cells) if cell.id in made and {"knob", "widget"} & set(_tags(cell))), "")
    parts, before = [], ""
    for cell in cells:
        if cell.cell_type == "markdown":
            before = cell.source
            parts.append(next(prose))
        elif cell.cell_type == "code":
            alt = alts().get(path.stem, {}).get(cell.id) or _told(before)
            shown = [each for each in cell.outputs if cell.id not in made or each.output_type == "stream"]
            outputs = [with_places(_output(output, cell, alt, path.stem, pictures, play), pages) for output in shown]
            parts += [_code(cell), *outputs, made.get(cell.id, "") + (play if cell.id == last else "")]
    text = "\n\n".join(part for part in parts if part)

    def linked_page(found: re.Match) -> str:
        there = path.with_name(f"{found[2]}.ipynb").exists()
        return f"[{found[1]}]({found[2]}.md)" if there else found[1]

    return re.sub(r"\[([^\]]*)\]\((\w+)\.ipynb\)", linked_page, text) + "\n", pictures


@cache
def alts() -> dict[str, dict[str, str]]:
    """What can be seen on pictures, in words, by notebook and cell."""
    return tomllib.loads(files(__package__).joinpath("alts.toml").read_text("utf-8"))


def _told(markdown: str) -> str:
    """What the last paragraph before a picture says of it."""
    paragraphs = [part for part in re.split(r"\n\s*\n", markdown) if part.strip() and not part.startswith(("#", "|"))]
    plain = re.sub(r"\[([^\]]*)\]\([^)]*\)|[*`$]", r"\1", paragraphs[-1]) if paragraphs else "a picture"
    return "A picture to these words: " + " ".join(plain.split())


def _tags(cell: NotebookNode) -> Sequence[str]:
    return cell.metadata.get("tags", ())


def _code(cell: NotebookNode) -> str:
    if not cell.source.strip():
        return ""
    words = next((FOLDED[tag] for tag in _tags(cell) if tag in FOLDED), None)
    code = _fenced("python", cell.source)
    kind = "answers" if "answer" in _tags(cell) else "code"
    return code if words is None else f'<details class="{kind}"><summary>{words}</summary>\n\n{code}\n\n</details>'


def _fenced(language: str, text: str) -> str:
    return f"`````{language}\n{text.rstrip()}\n`````"


def _output(output: NotebookNode, cell: NotebookNode, alt: str, stem: str, pictures: dict[str, bytes], play: str) -> str:
    if output.output_type == "stream":
        return _fenced("text", output.text)
    if output.output_type == "error":
        raise BadOption(f"the notebook {quoted(stem)} was saved with an error: mend it and run it anew")
    form = next((form for form in SHOWN if form in output.data), None)
    if form is None:
        return ""
    held = output.data[form]
    if form == WIDGET:  # what it showed when the notebook was saved, and where to play without Python
        said = output.data.get("text/plain", "").replace(TO_RUN, "").strip()
        shown = f"<pre>{escape(said)}</pre>" if "\n" in said else ""
        return f'<aside class="control"><p>{CONTROL}</p>{shown}{play}</aside>'
    if form == "image/png":
        name = f"{stem}_{cell.id}.png"
        pictures[name] = b64decode(held)
        width = output.metadata.get(form, {}).get("width", 640)
        return f"`````{{image}} pictures/{name}\n:alt: {json.dumps(alt, ensure_ascii=False)}\n:width: {width}px\n`````"
    if form == "text/html":
        return f'<div class="note">{held}</div>'
    return held if form == "text/markdown" else _fenced("text", held)
