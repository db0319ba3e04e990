"""What a command says on the terminal, and what it shows there while it works."""

import codecs
import io
import json
import logging
import os
import sys
from collections.abc import Callable
from contextlib import contextmanager
from unicodedata import normalize

from oddswap.errors import NoOutput, drop

NEAREST = {"×": "x", "·": "-", "•": "*", "–": "-", "−": "-", "→": "->", "’": "'", "′": "'"}
"""What is printed for letters that a terminal does not have, where it is not the same letter without its accent."""


def open_streams() -> None:
    """Make sure that whatever is printed can be, on any terminal, and that no library writes between our lines."""
    if sys.stdin is None:  # where one of the three is closed, the next file that is opened would take its place
        sys.stdin = open(os.devnull)
    if sys.stdout is None:
        sys.stdout = open(os.open(os.devnull, os.O_RDONLY), "w")  # which takes nothing, so that `print_all` says so
    if sys.stderr is None:
        sys.stderr = open(os.devnull, "w")
    codecs.register_error("nearest", _nearest)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="nearest")
    logging.getLogger("matplotlib").setLevel(logging.ERROR)


def _nearest(error: UnicodeError) -> tuple[str, int]:
    letters = error.object[error.start : error.end]
    plain = (NEAREST.get(letter) or normalize("NFKD", letter).encode("ascii", "ignore").decode() or "?" for letter in letters)
    return "".join(plain), error.end


@contextmanager
def print_all():
    """See to it that what is printed meanwhile arrives. `NoOutput` where it does not, `BrokenPipeError` where nobody reads on."""
    try:
        try:
            yield
        finally:
            sys.stdout.flush()
    except OSError as error:
        if error.filename is not None:
            raise
        drop(sys.stdout.fileno())
        if isinstance(error, BrokenPipeError):
            raise
        raise NoOutput(f"standard output cannot be written ({error.strerror}): send it where it can be") from None


@contextmanager
def bar():
    """A bar on the terminal for files that are being made; ``None`` where nobody would see it."""
    if not sys.stderr.isatty():
        yield None
        return
    from rich.console import Console
    from rich.progress import Progress, TextColumn

    words = TextColumn("{task.description}", markup=False)
    with Progress(words, *Progress.get_default_columns()[1:], console=Console(stderr=True), transient=True) as shown:
        task = shown.add_task("", total=1.0)
        yield lambda name, done: shown.update(task, description=name, completed=done)


@contextmanager
def search_status(doing: str = "looking for a way out"):
    """A line on the terminal that tells how far a long search is; ``None`` where nobody would see it.

    What is printed meanwhile would get lost in that line: print before it or after it.
    """
    if not sys.stderr.isatty():
        yield None
        return
    from rich.console import Console

    from oddswap.words.products.desk import searching_words

    with Console(stderr=True).status(doing) as status:
        yield lambda *reached: status.update(searching_words(*reached))


def say(as_data: bool, data: Callable[..., object], markdown: Callable[..., str], *found: object) -> None:
    """Print what was found: as JSON of its data, or as its text."""
    if as_data:
        print(json.dumps(data(*found), indent=2))
    else:
        show(f"{markdown(*found).rstrip()}\n")


def show(text: str) -> None:
    """Print Markdown at once, whoever reads it; a terminal shows it with its tables and headings."""
    if not sys.stdout.isatty():
        print(text, end="", flush=True)
    else:
        from rich.console import Console
        from rich.markdown import Markdown

        Console().print(Markdown(text))
