"""How a ticket goes on: what the visitor was sent, what they did, and what it looks like now.

::

    [[then]]
    sent = "U L D' U B"           # what they were sent, if it was not the way of the answer
    did = "U L D'"                # as they say it, held as they held it when they last looked at it
    postcard = "odd1;cube:3;…"    # what they see now; or [then.seen.U], [then.slots], after and changes, as in a ticket
"""

from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path

from oddswap.describing.habits import Habits
from oddswap.describing.naming import refuse_others, say_where
from oddswap.describing.postcards import read_postcard
from oddswap.describing.seen import read_look, write_look
from oddswap.describing.ticket import Described, Message
from oddswap.errors import BadTicket
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.values.notation import write
from oddswap.values.sequence import bounded

MOST = 100
SAID = {
    "sent": (str, "a text such as R U2"),
    "did": (str, "a text such as R U2"),
    "postcard": (str, "the line that begins with odd1;"),
}


def read_thread(
    puzzle: Puzzle, colours: Mapping[str, str], habits: Habits, then: list, held: str, seen_keys: dict, folder: Path
) -> tuple[Message, ...]:
    """The messages that ``[[then]]`` tells; ``held`` is how the visitor held the puzzle before them. `BadTicket`."""
    if len(then) > MOST:
        raise BadTicket(f"then: these are more than {MOST} messages: begin a new ticket with what is seen now")
    messages = []
    for number, data in enumerate(then, 1):
        if not isinstance(data, dict):
            raise BadTicket(f"then: number {number} is of the wrong type: write [[then]], and did or what is seen below it")
        with say_where(f"[[then]] number {number}"):
            refuse_others(data, SAID | seen_keys, "", "it")
            told = {key: _as_named(puzzle, habits, data[key], held) for key in ("sent", "did") if key in data}
            look = _look(puzzle, colours, habits, data, folder)
            if look is None and "did" not in told:
                raise BadTicket("it tells nothing: add did, or what is seen now")
        messages.append(Message(look, told.get("did"), told.get("sent")))
        held = look.held if look else held
    return tuple(messages)


def _as_named(puzzle: Puzzle, habits: Habits, moves: str, held: str) -> str:
    """Turns with the puzzle held as it is named, from what hands say that hold it so."""
    read = bounded(habits.read(puzzle, moves))
    return write(puzzle.settled(held)[1].inverse.moves_by_hand(read.steps)) if puzzle.alphabet.is_box else str(read)


def _look(puzzle: Puzzle, colours: Mapping[str, str], habits: Habits, data: dict, folder: Path) -> Described | None:
    seen = {key: value for key, value in data.items() if key not in SAID}
    if "postcard" not in data:
        return read_look(puzzle, colours, habits, seen) if seen else None
    sent = read_postcard(data["postcard"], folder)
    if seen or sent.puzzle.name != puzzle.name:
        wrong = (
            f"the postcard shows {sent.puzzle.name} and the ticket {puzzle.name}" if not seen else "it says twice what is seen"
        )
        raise BadTicket(f"{wrong}: leave the postcard out, or the rest")
    return Described(sent.appearance, sent.elsewhere, sent.held)


def write_thread(puzzle: Puzzle, colours: Mapping[str, str], thread: Iterable[Message]) -> Iterator[dict]:
    """The tables that `read_thread` reads as the same, with the puzzle held as it is named."""
    for message in thread:
        told = {key: said for key in ("sent", "did") if (said := getattr(message, key)) is not None}
        look = message.look
        yield told | (write_look(puzzle, colours, look.appearance, look.elsewhere) if look else {})
