"""Sentences are worded in `words` alone: no later room holds a text that reads like one, except as listed with its reason."""

import ast
import re
from fnmatch import fnmatch

import pytest

from tests.test_layers import FILES, SOURCE

ROOMS = ("showing", "story", "workshop", "desk", "edition", "commands")
SENTENCE = re.compile(r"[.?!]\W*$|[.?!] [A-Z]")
PLAIN = re.compile(r"(?<![\w-])[a-z]{2,}(?![\w-])")
LEAST = 4
"""A text of so many plain words or more that ends in a full stop, or goes on after one, is a sentence."""
ELSEWHERE = {
    ("commands/command_line.py", "Can this puzzle*"): "the help of the command, beside that of its options",
    ("story/telling/story_file.py", "# A story.*"): "a comment in a file of data, for whoever edits it by its keys",
}
"""Sentences that stand elsewhere: (file, text), as patterns, with the reason."""


def text_of(node: ast.AST) -> str:
    """A constant text, or one with fields, each as one word; empty for anything else."""
    if isinstance(node, ast.JoinedStr):
        return "".join(text_of(part) or "{field}" for part in node.values)
    return node.value if isinstance(node, ast.Constant) and isinstance(node.value, str) else ""


def sentences_in(code: str) -> list[str]:
    """The texts that read like sentences, apart from docstrings and the messages of errors that are raised."""
    tree, passed = ast.parse(code), set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Raise):
            passed.update(ast.walk(node))
        elif isinstance(node, ast.JoinedStr):
            passed.update(node.values)
        elif isinstance(node, ast.Expr):
            passed.add(node.value)
    texts = [text_of(node) for node in ast.walk(tree) if node not in passed]
    return [text for text in texts if SENTENCE.search(text.strip()) and len(PLAIN.findall(text)) >= LEAST]


def reasons(file: str, text: str) -> list[tuple[str, str]]:
    """The entries of `ELSEWHERE` that allow a sentence in a file."""
    return [(where, what) for where, what in ELSEWHERE if fnmatch(file, where) and fnmatch(text, what)]


def worded() -> list[tuple[str, str]]:
    """Each sentence of the later rooms with its file."""
    paths = [path for path in FILES if path.relative_to(SOURCE / "oddswap").parts[0] in ROOMS]
    assert len(paths) > 60
    named = [(path.relative_to(SOURCE / "oddswap").as_posix(), path) for path in paths]
    return [(name, text) for name, path in named for text in sentences_in(path.read_text("utf-8"))]


def test_no_later_room_words_a_sentence():
    assert [(file, text) for file, text in worded() if not reasons(file, text)] == []


def test_every_reason_is_needed():
    assert {reason for file, text in worded() for reason in reasons(file, text)} == set(ELSEWHERE)


@pytest.mark.parametrize(
    "code",
    [
        "words = 'It is well mixed: look again.'",
        "parts.append(f'No way out was found in {seconds} s. Counting: {counted}')",
        "page.text('Which of these pieces can it be?')",
        "WORDS = {'a': ('The laws are proved complete.',)}",
    ],
)
def test_a_sentence_is_found(code):
    assert len(sentences_in(code)) == 1


@pytest.mark.parametrize(
    "code",
    [
        '"""Whatever a docstring says of a file is none."""',
        "raise BadOption(f'there are no lessons in {folder}. Name another one')",
        "style = 'max-width: 100%; margin: 0 auto'",
        "label = 'Find a way out'",
    ],
)
def test_what_is_no_sentence_is_passed_over(code):
    assert sentences_in(code) == []
