"""What a command says on the terminal, and what it shows there while it works."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable
from contextlib import contextmanager


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
def search_status():
    """A line on the terminal that tells how far a long search is; ``None`` where nobody would see it."""
    if not sys.stderr.isatty():
        yield None
        return
    from rich.console import Console

    with Console(stderr=True).status("looking for a way out") as status:
        yield lambda bound, states, seconds: status.update(
            f"no way is shorter than {bound} turns so far; {states:,} states, {seconds:.0f} s"
        )


def say(as_data: bool, data: Callable[..., object], markdown: Callable[..., str], *found: object) -> None:
    """Print what was found: as JSON of its data, or as its text, which a terminal shows with its tables and headings."""
    if as_data:
        print(json.dumps(data(*found), indent=2))
    elif not sys.stdout.isatty():
        print(markdown(*found).rstrip())
    else:
        from rich.console import Console
        from rich.markdown import Markdown

        Console().print(Markdown(markdown(*found)))
