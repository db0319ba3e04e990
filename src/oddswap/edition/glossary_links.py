"""Links between the lessons and the glossary: from the first use of each word in a lesson, and back to where it is explained."""

import re
from collections.abc import Iterable, Sequence

from oddswap.lessons.machinery.course import Word, plain_prose, words

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
    """The text without headings, links and what `plain_prose` hides, of the same length."""
    hidden = re.compile(r"^#.*$|\[[^\]]*\]|<[^>]*>", re.MULTILINE)
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
        name = re.escape(word.word)
        markdown = re.sub(
            rf"^\| \*\*{name}\*\* \|(.*)\| \[[^\]]*\]\([^)]*\) \|$",
            lambda row, word=word: f'| <span id="{anchor(word)}">**{word.word}**</span> |{row[1]}| {_back(word, pages)} |',
            markdown,
            flags=re.MULTILINE,
        )
        markdown = re.sub(rf"(?<=[*,]) {name} (?=\(\*)", f' <a href="#{anchor(word)}">{word.word}</a> ', markdown)
    return markdown


def _back(word: Word, pages: dict[str, str]) -> str:
    if word.lesson not in pages:
        return word.lesson
    return f'<a href="{pages[word.lesson]}.html#{anchor(word)}">{word.lesson}</a>'
