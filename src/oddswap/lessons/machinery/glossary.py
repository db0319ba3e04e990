"""Every technical word of the course in one place: what it means, where it first appears, and an example."""

import re
import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from oddswap.errors import BadOption, quoted
from oddswap.lessons.machinery.course import lessons


@dataclass(frozen=True)
class Word:
    """A word with one plain sentence about it, an example, and the number of the lesson that defines it.

    An ``everyday`` word may be used in its everyday meaning before that.
    """

    word: str
    theme: str
    lesson: str
    said: str
    example: str
    forms: tuple[str, ...] = ()
    everyday: bool = False

    @property
    def pattern(self) -> re.Pattern[str]:
        """Where the word stands in a text, in any of its forms."""
        forms = sorted({self.word, f"{self.word}s", *self.forms}, key=len, reverse=True)
        spread = (re.escape(form).replace(r"\ ", r"\s+") for form in forms)
        return re.compile(rf"(?<![\w-])(?:{'|'.join(spread)})(?![\w-])", re.IGNORECASE)


@cache
def words() -> tuple[Word, ...]:
    """All words, theme by theme.

    >>> next(word.said for word in words() if word.word == "slot")
    'A place where a piece can sit.'
    """
    data = tomllib.loads(files(__package__).joinpath("glossary.toml").read_text("utf-8"))
    return tuple(Word(**{**entry, "forms": tuple(entry.get("forms", ()))}) for entry in data["word"])


def themes() -> tuple[str, ...]:
    return tuple(dict.fromkeys(word.theme for word in words()))


class Page(str):
    """Markdown that a notebook shows as a page, and that is plain text elsewhere."""

    __repr__ = _repr_markdown_ = str.__str__


def glossary_table(theme: str) -> Page:
    """The words of one theme as a table, each with a link to the lesson that defines it; `BadOption` for no theme.

    >>> print(str(glossary_table("What is wrong with a piece")).splitlines()[0])
    | word | what it means | on the puzzle table | first in |
    """
    chosen = [word for word in words() if word.theme == theme]
    if not chosen:
        raise BadOption(f"the glossary has no theme {quoted(theme)}: write one of {'; '.join(themes())}")
    notebooks = {lesson.number: lesson.name for lesson in lessons()}
    rows = ["| word | what it means | on the puzzle table | first in |", "|:--|:--|:--|:--|"]
    for word in chosen:
        rows.append(f"| **{word.word}** | {word.said} | {word.example} | [{word.lesson}]({notebooks[word.lesson]}.ipynb) |")
    return Page("\n".join(rows))


def alphabet() -> Page:
    """All words in the order of the alphabet, each with the theme where it is explained.

    >>> print(str(alphabet())[:44])
    - **A** alarm (*What is wrong with a piece*)
    """
    by_letter: dict[str, list[str]] = {}
    for word in sorted(words(), key=lambda word: word.word.lower()):
        by_letter.setdefault(word.word[0].upper(), []).append(f"{word.word} (*{word.theme}*)")
    return Page("\n".join(f"- **{letter}** {', '.join(found)}" for letter, found in by_letter.items()))


def plain_prose(markdown: str) -> str:
    """Markdown without code, formulas, links' targets and folds, of the same length, so that places in it stay where they are."""
    hidden = re.compile(r"<details>.*?</details>|```.*?```|`[^`]*`|\$[^$]*\$|(?<=\])\([^)]*\)", re.DOTALL)
    return hidden.sub(lambda found: " " * len(found[0]), markdown)
