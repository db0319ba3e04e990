"""What somebody says they see, as turns and changes, faces row by row, or slots; and how a ticket went on after that."""

from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path

from oddswap.describing.changes import changed
from oddswap.describing.habits import Habits, refuse_others, say_where
from oddswap.describing.postcards import read_postcard
from oddswap.describing.sights import every_look, own_look, read_sight, sight_words
from oddswap.describing.stickers import SeenPaints, as_named, every_holding, read_faces, seen_stickers, stickers, write_faces
from oddswap.describing.ticket import IN_PLACE, TURNED, Described, Message, read_held
from oddswap.errors import BadTicket, ContradictoryTicket, quoted
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.values.notation import write
from oddswap.values.position import Appearance, Sight
from oddswap.values.sequence import Sequence, bounded

MOST_CHANGES = 100


def read_look(puzzle: Puzzle, colours: Mapping[str, str], habits: Habits, data: dict) -> Described:
    """What ``data`` tells in one of the ways of a ticket. `BadTicket`, `ContradictoryTicket`."""
    by_turns = "after" in data or "changes" in data
    if by_turns and ("seen" in data or "slots" in data or "elsewhere" in data):
        other = next(key for key in ("seen", "slots", "elsewhere") if key in data)
        raise ContradictoryTicket(
            f"after and changes tell the whole puzzle, and so does {other}: leave the ones or the other out"
        )
    elsewhere = data.get("elsewhere", TURNED if "seen" in data else IN_PLACE)
    if elsewhere not in (IN_PLACE, TURNED):
        raise BadTicket(f"elsewhere: {quoted(elsewhere)} is not offered: write {IN_PLACE} or {TURNED}")
    held = _held(puzzle, colours, data)
    if by_turns:
        after, changes = data.get("after", ""), data.get("changes", [])
        with say_where("after"):
            turns, doubt = habits.read(puzzle, after), habits.doubt(puzzle, after)
        appearance = _after(puzzle, held, turns, changes)
        return Described(appearance, elsewhere, held, doubt, doubt and _after(puzzle, held, doubt.otherwise, changes))
    if "seen" in data:
        told, held = as_named(puzzle, _faces(puzzle, colours, data["seen"]))
        return Described(_seen(puzzle, told, _slots(puzzle, data.get("slots", {})), elsewhere), elsewhere, held)
    if "slots" in data:
        return Described(_seen(puzzle, (), _slots(puzzle, data["slots"]), elsewhere), elsewhere, held)
    raise BadTicket("the ticket does not tell what is seen: add after and changes, or [seen.U] …, or [slots]")


def write_look(puzzle: Puzzle, colours: Mapping[str, str], appearance: Appearance, elsewhere: str) -> dict:
    """The keys of a ticket that `read_look` reads as the same, with the puzzle held as it is named."""
    data: dict = {"elsewhere": elsewhere}
    if appearance.stickers:
        faces = write_faces(puzzle, colours, appearance.stickers)
        data["seen"] = {face: {"rows": rows} for face, rows in faces.items()}
    plain = _seen(puzzle, appearance.stickers, {}, elsewhere)
    slots = {
        puzzle.slots[number]: sight_words(puzzle, number, sight)
        for number, sight in enumerate(appearance.sights)
        if sight != plain.sights[number]
    }
    if slots or not appearance.stickers:
        data["slots"] = slots
    return data


def _held(puzzle: Puzzle, colours: Mapping[str, str], data: dict) -> str:
    """The whole-puzzle rotations to how a visitor says that they hold it."""
    if "held" not in data:
        return ""
    if "seen" in data:
        raise ContradictoryTicket("held: the rows of [seen] show how it is held: leave held out")
    if puzzle.rotations:
        raise BadTicket(f"held: nothing fixes how {puzzle.name} is held: tell it as you hold it, and leave held out")
    return every_holding()[read_held(puzzle, colours, data["held"])]


def _after(puzzle: Puzzle, held: str, after: Sequence, changes: list) -> Appearance:
    """The appearance after turns from solved, held so, and then changes by hand."""
    with say_where("after"):
        arrangement = puzzle.follow(puzzle.read(f"{held} {bounded(after)}") if held else bounded(after))
    if len(changes) > MOST_CHANGES:
        raise BadTicket(f"changes: these are more than {MOST_CHANGES}: tell what is seen instead")
    for number, change in enumerate(changes, 1):
        if not isinstance(change, str):
            raise BadTicket(f"changes: number {number} is of the wrong type: write a text such as 'flip UF'")
    return puzzle.appearance(changed(puzzle, changes, arrangement))


def _faces(puzzle: Puzzle, colours: Mapping[str, str], faces: dict) -> SeenPaints:
    for face, entry in faces.items():
        if not isinstance(entry, dict) or list(entry) != ["rows"] or not isinstance(entry["rows"], list):
            raise BadTicket(f"[seen] {quoted(face)} needs one key, rows, with a list of rows from top to bottom")
    return read_faces(puzzle, colours, {face: entry["rows"] for face, entry in faces.items()})


def _slots(puzzle: Puzzle, table: dict) -> dict[int, Sight]:
    """The looks that the slots' words allow, by number of slot."""
    told: dict[int, Sight] = {}
    for slot, words in table.items():
        with say_where(f"[slots] {quoted(slot)}"):
            if not isinstance(words, str):
                raise BadTicket("this is of the wrong type: write a text such as 'UR flipped', and a slot with a dot in quotes")
            number, sight = read_sight(puzzle, slot, words)
            if number in told:
                raise ContradictoryTicket("this slot is told twice: leave one out")
            told[number] = sight
    return told


def _seen(puzzle: Puzzle, told: SeenPaints, slots: Mapping[int, Sight], elsewhere: str) -> Appearance:
    """The appearance that stickers (none if it is told by slots alone) and slots tell together."""
    sights = [every_look(puzzle, number) for number in range(len(puzzle.slots))]
    unsure: set[int] = set()
    if told:
        places, paints = stickers(puzzle).places, puzzle.geometry.paints
        told = tuple(
            colours if colours is not None else frozenset((paints[face],)) if elsewhere == IN_PLACE else frozenset()
            for colours, (_, face) in zip(told, places, strict=True)
        )
        sights = list(seen_stickers(puzzle, told).sights)
        if puzzle.leaves_outline:
            coloured = {slot for slot, _ in places}  # faces are told of the closed box, so that nothing lies outside of it
            sights = [sight if slot in coloured else own_look(puzzle, slot) for slot, sight in enumerate(sights)]
        unsure = {slot for (slot, _), colours in zip(places, told, strict=True) if len(colours) != 1}
    for number, sight in enumerate(sights):
        if number in slots:
            sights[number] = sight & slots[number]
            if slots[number] and not sights[number]:
                raise ContradictoryTicket(
                    f"[slots] {puzzle.slots[number]}: its stickers in [seen] tell another piece: mend the one or the other"
                )
        elif elsewhere == IN_PLACE and number not in unsure and own_look(puzzle, number) <= sight:
            sights[number] = own_look(puzzle, number)
    shown = puzzle.narrowed(tuple(sights)) if puzzle.shape_first else tuple(sights)
    return Appearance(puzzle.name, shown, told)


MOST = 100
SAID = {
    "sent": (str, "a text such as R U2"),
    "did": (str, "a text such as R U2"),
    "postcard": (str, "the line that begins with odd1;"),
}


def read_thread(
    puzzle: Puzzle, colours: Mapping[str, str], habits: Habits, then: list, held: str, seen_keys: dict, folder: Path
) -> tuple[Message, ...]:
    """The messages that ``[[then]]`` tells; ``held`` is how the visitor held the puzzle before them. `BadTicket`.

    ::

        [[then]]
        sent = "U L D' U B"           # what they were sent, if it was not the way of the answer
        did = "U L D'"                # as they say it, held as they held it when they last looked at it
        postcard = "odd1;cube:3;…"    # what they see now; or [then.seen.U], [then.slots], after and changes, as in a ticket
    """
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
