"""What a notebook shows of a value: its picture, and beside it what is known; nothing of what is too big to be drawn."""

from html import escape

from oddswap.errors import OddswapError
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.answers import Answer
from oddswap.reasoning.laws.law_book import LawBook
from oddswap.reasoning.verdicts.findings import Diagnosis
from oddswap.showing.ink.widgets import address_of, small_png
from oddswap.showing.pictures.prints import draw_prints
from oddswap.values.position import Appearance, Arrangement

MOST_SLOTS = 400
"""A puzzle of more is not drawn without being asked: a notebook should show at once what a cell returns."""
TEXT = '<pre style="white-space: pre-wrap; margin: 0">{}</pre>'
BESIDE = (
    '<div style="display: flex; flex-wrap: wrap; gap: 1em; align-items: center">'
    '<img alt="{}" style="max-width: 100%; height: auto" src="{}">{}</div>'
)


def text_html(value: object) -> str:
    """The plain lines of a value."""
    return TEXT.format(escape(str(value)))


def puzzle_html(puzzle: Puzzle) -> str | None:
    return _beside(puzzle, puzzle.solved, puzzle.title)


def position_html(value: Arrangement | Appearance) -> str | None:
    """An arrangement or an appearance; ``None``, too, where its puzzle cannot be loaded any more."""
    try:
        puzzle = load(value.puzzle)
        return _beside(puzzle, value, puzzle.title)
    except OddswapError:
        return None


def book_html(book: LawBook) -> str | None:
    return _beside(book.puzzle, book.puzzle.solved, str(book))


def diagnosis_html(found: Diagnosis) -> str | None:
    """The verdict beside an arrangement that looks so, where there is one."""
    like = found.first or found.explanation
    try:
        return text_html(found) if like is None else _beside(load(like.puzzle), like, str(found))
    except OddswapError:
        return None


def answer_html(answer: Answer) -> str | None:
    return _beside(answer.puzzle, answer.appearance, str(answer))


def _beside(puzzle: Puzzle, shown: Arrangement | Appearance, text: str) -> str | None:
    if len(puzzle.slots) > MOST_SLOTS:
        return None
    return BESIDE.format(escape(puzzle.title), address_of(small_png(draw_prints(puzzle, shown), 90)), TEXT.format(escape(text)))
