"""A kind sentence in a lesson: as text on paper, in a quiet box on the screen; and errors told that way."""

import textwrap
from collections.abc import Callable
from dataclasses import dataclass
from functools import wraps
from html import escape

from oddswap.errors import OddswapError
from oddswap.showing.ink.palette import BACKDROP, INK, PAPER
from oddswap.words.products.notebooks import NOT_MADE, NOT_READ

WIDTH = 88
BOX = f"color:{INK};background:{PAPER};border-left:6px solid {BACKDROP};padding:0.4em 0.8em;max-width:56em;line-height:1.45"


@dataclass(frozen=True)
class Note:
    """Some paragraphs of plain text; what stands in them is shown as it is.

    >>> Note("Both edges are the wrong way round.")
    Both edges are the wrong way round.
    """

    text: str

    def __repr__(self) -> str:
        return "\n".join(textwrap.fill(line, WIDTH, subsequent_indent=_indent(line)) for line in self.text.split("\n"))

    def _repr_html_(self) -> str:
        lines = "<br>".join(escape(line).replace("  ", "&ensp;") for line in self.text.split("\n"))
        return f'<div style="{BOX}">{lines}</div>'


class Hint(Exception):
    """One sentence that answers what somebody wrote at once, from wherever it is read."""


def kindly(check: Callable[..., Note]) -> Callable[..., Note]:
    """Let a checker answer with a note where what somebody wrote cannot be read, or where a `Hint` is raised."""

    @wraps(check)
    def checked(*arguments, **options) -> Note:
        try:
            return check(*arguments, **options)
        except Hint as hint:
            return Note(str(hint))
        except OddswapError as error:
            return unread(error)

    return checked


def unread(error: OddswapError) -> Note:
    """What is said of something written that cannot be read."""
    return Note(NOT_READ.format(error))


def _indent(line: str) -> str:
    return " " * (len(line) - len(line.lstrip()))


def be_kind() -> None:
    """From now on, in this notebook, input that cannot be used is answered by one sentence in place of a traceback.

    So is a name that a cell further up should have made. Any other error is shown as ever: it is ours to mend.
    """
    from IPython import get_ipython

    shell = get_ipython()
    if shell is not None:
        shell.set_custom_exc((NameError, OddswapError), _told_kindly)


def _told_kindly(shell, kind, error, trace, tb_offset=None):
    if isinstance(error, OddswapError):
        print(unread(error))
    elif isinstance(error, NameError) and _raised_in_cell(trace):
        print(Note(NOT_MADE.format(f"`{error.name}`" if error.name else "something")))
    else:
        shell.showtraceback((kind, error, trace), tb_offset=tb_offset)
    return []


def _raised_in_cell(trace) -> bool:
    """Whether the last frame of a traceback is the notebook's own and no module's."""
    while trace.tb_next:
        trace = trace.tb_next
    return trace.tb_frame.f_globals.get("__name__") == "__main__"
