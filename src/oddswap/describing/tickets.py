"""Tickets: files that tell which puzzle somebody has and what is seen of it (TOML).

::

    puzzle = "cube:3"
    note = "for the explainer only"

    [colours]                       # the visitor's own words, for any facets
    U = "ivory"

One description, in one of three ways:

- ``after = "R U"`` and ``changes = ["flip UF"]``: turns from solved, then changes by hand (`oddswap.describing.changes`).
- ``[seen.U]`` with ``rows = ["ivory U red|orange", …]`` for each face that was seen: U with B at the top, D with F,
  the others with U. A sticker is a colour, a facet's own letter, several with ``|``, or ``?``; a row may be a list.
- ``[slots]`` with ``UF = "UR flipped"`` for each slot (`oddswap.describing.sights`). Beside ``[seen]`` it tells what
  colours do not, such as the turns of marked centres; it then names slots as the puzzle names them.

``[notation]`` says how turns are written: ``reverse = ["i"]`` which marks turn back, ``leading_number = "twice"`` or ``"slab"``
what ``2R`` means. Words are read, too: ``after = "front clockwise, right side half round"``.

``held`` says how the visitor holds it, such as ``"gold up, teal in front"``, by the colours in the middle of two sides of the
solved puzzle: they turn ``after`` so, and the reply is for that holding. Rows of ``[seen]`` show it themselves; ``changes`` and
``[slots]`` name slots as the puzzle does.
``turns`` are those that the question allows: ``"half"``, ``"all"`` or ``["R2", "U"]``, as in the puzzle's name; if left out,
all that keep the outline.
``copy`` are those that the visitor's copy makes at all, said likewise: no answer asks for another one.
``[mine]`` is the explainer's own copy, for the set-up and for filming: its ``colours``, its ``turns``, and how it is ``held``
when it is solved, such as ``"gold up, teal in front"``. The reply never uses it.
``elsewhere`` says of what is not mentioned that it is ``"in place"`` (it looks solved) or may have been ``"turned"`` (it was
not seen). Left out it means "turned" beside ``[seen]``, else "in place".
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from types import MappingProxyType

import tomli_w

from oddswap.describing.changes import changed
from oddswap.describing.copies import (
    EVERY,
    HELD_LIKE,
    OwnCopy,
    read_colours,
    read_held,
    read_own_copy,
    refuse_wider,
    turns_option,
    write_own_copy,
    write_turns,
)
from oddswap.describing.faces import SeenPaints, as_named, every_holding, read_faces, write_faces
from oddswap.describing.habits import Doubt, Habits, read_habits, write_habits
from oddswap.describing.naming import refuse_others, say_where
from oddswap.describing.sights import every_look, own_look, read_sight, sight_words
from oddswap.describing.stickers import seen_stickers, stickers
from oddswap.errors import BadTicket, ContradictoryTicket, quoted
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import load, restricted, with_turns_out_of_the_box
from oddswap.values.appearance import Appearance, Sight
from oddswap.values.sequence import Sequence, bounded
from oddswap.values.text import cleaned, one_line, refusal, refuse_unseen
from oddswap.values.text_file import parse_toml

LARGEST = 64_000
MOST_CHANGES = 100
IN_PLACE, TURNED = "in place", "turned"
KEYS = {
    "puzzle": (str, "a text such as cube:3"),
    "turns": ((str, list), "the text all or half, or a list such as [R2, U]"),
    "after": (str, "a text such as R U2"),
    "changes": (list, "a list such as [flip UF]"),
    "seen": (dict, "tables [seen.U], [seen.F] …"),
    "slots": (dict, "lines such as UF = UR flipped below [slots]"),
    "elsewhere": (str, f"the text {IN_PLACE} or the text {TURNED}"),
    "colours": (dict, "lines such as U = white below [colours]"),
    "held": (str, f"a text such as {HELD_LIKE}"),
    "copy": ((str, list), "the text all or half, or a list such as [R2, U]"),
    "notation": (dict, "lines such as leading_number = slab below [notation]"),
    "mine": (dict, "lines such as turns = half below [mine]"),
    "note": (str, "a text"),
}


@dataclass(frozen=True, repr=False)
class Ticket:
    """What a ticket tells.

    ``colours`` are the visitor's words for the colours of some facets, ``copy`` the turns that their copy makes, ``habits`` how
    they write turns, ``mine`` the explainer's own copy. ``doubt`` is a turn of theirs that can mean two things, and ``otherwise``
    what is seen if it means the other one. ``held`` says how the puzzle was held when its faces were read, "" if as it is named;
    ``appearance`` has it held as it is named. ``doubt``, ``otherwise``, ``held`` and ``source`` do not count when tickets are
    compared.
    """

    name: str
    puzzle: Puzzle = field(compare=False)
    appearance: Appearance
    colours: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}), hash=False)
    elsewhere: str = IN_PLACE
    copy: str = ""
    note: str = ""
    habits: Habits = Habits()
    mine: OwnCopy = OwnCopy()
    doubt: Doubt | None = field(default=None, compare=False)
    otherwise: Appearance | None = field(default=None, compare=False)
    held: str = field(default="", compare=False)
    source: Path | None = field(default=None, compare=False)

    def __post_init__(self):
        object.__setattr__(self, "note", cleaned(self.note))
        object.__setattr__(self, "name", one_line(self.name))

    @property
    def limit(self) -> Puzzle | None:
        """The puzzle with the turns that the visitor's copy makes; ``None`` where they did not say."""
        return restricted(self.puzzle, self.copy) if self.copy else None

    def __repr__(self) -> str:
        return f"parse_ticket({write_ticket(self)!r}, {self.name!r})"

    def __str__(self) -> str:
        return f"{self.name}: {self.puzzle.title}"


def parse_ticket(text: str, name: str = "ticket", source: Path | None = None) -> Ticket:
    r"""The ticket in a text. An `OddswapError` says what is wrong, where, and what would be right.

    >>> ticket = parse_ticket('puzzle = "shape-mod:prism8"\nchanges = ["flip UF"]')
    >>> ticket.appearance == ticket.puzzle.appearance(changed(ticket.puzzle, ["flip UF"]))
    True
    """
    data = _toml(text)
    copy = turns_option("copy", data.get("copy", EVERY))
    unsaid = EVERY if "turns=" in data["puzzle"] else data.get("copy", EVERY)
    turns = turns_option("turns", data.get("turns", unsaid))
    puzzle = load(data["puzzle"].strip() + (turns and f",turns={turns}"))
    if data.get("turns") == EVERY and "turns=" not in data["puzzle"]:
        puzzle = with_turns_out_of_the_box(puzzle) or puzzle
    refuse_wider(puzzle, restricted(puzzle, copy) if copy else None)
    colours = read_colours(puzzle, data.get("colours", {}), "[colours]")
    mine = read_own_copy(puzzle, data.get("mine", {}), colours)
    by_turns = "after" in data or "changes" in data
    if by_turns and ("seen" in data or "slots" in data or "elsewhere" in data):
        other = next(key for key in ("seen", "slots", "elsewhere") if key in data)
        raise ContradictoryTicket(
            f"after and changes tell the whole puzzle, and so does {other}: leave the ones or the other out"
        )
    elsewhere = data.get("elsewhere", TURNED if "seen" in data else IN_PLACE)
    if elsewhere not in (IN_PLACE, TURNED):
        raise BadTicket(f"elsewhere: {quoted(elsewhere)} is not offered: write {IN_PLACE} or {TURNED}")
    held, habits, doubt, otherwise = _held(puzzle, colours, data), read_habits(data.get("notation", {})), None, None
    if by_turns:
        after, changes = data.get("after", ""), data.get("changes", [])
        with say_where("after"):
            turns, doubt = habits.read(puzzle, after), habits.doubt(puzzle, after)
        appearance = _after(puzzle, held, turns, changes)
        otherwise = doubt and _after(puzzle, held, doubt.otherwise, changes)
    elif "seen" in data:
        told, held = as_named(puzzle, _faces(puzzle, colours, data["seen"]))
        appearance = _seen(puzzle, told, _slots(puzzle, data.get("slots", {})), elsewhere)
    elif "slots" in data:
        appearance = _seen(puzzle, (), _slots(puzzle, data["slots"]), elsewhere)
    else:
        raise BadTicket("the ticket does not tell what is seen: add after and changes, or [seen.U] …, or [slots]")
    note = data.get("note", "")
    return Ticket(name, puzzle, appearance, colours, elsewhere, copy, note, habits, mine, doubt, otherwise, held, source)


def _toml(text: str) -> dict:
    if len(text) > LARGEST:
        raise BadTicket(f"the ticket is longer than {LARGEST} bytes: a ticket needs a page at most")
    data = parse_toml(text, "the ticket", BadTicket)
    refuse_unseen({key: value for key, value in data.items() if key != "note"}, refusal(BadTicket))
    refuse_others(data, KEYS, "", "a ticket")
    if "puzzle" not in data:
        raise BadTicket("the ticket names no puzzle: add a line such as puzzle = 'cube:3'")
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
            raise BadTicket(f"changes: number {number} is of the wrong type: write a text such as flip UF")
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
            sights = _closed(puzzle, sights, {slot for slot, _ in places})
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
    return Appearance(puzzle.name, tuple(sights), told)


def _closed(box: Puzzle, sights: list[Sight], coloured: set[int]) -> list[Sight]:
    """Faces are told of the closed box, so that nothing lies outside of it."""
    return [sight if number in coloured else own_look(box, number) for number, sight in enumerate(sights)]


def write_ticket(ticket: Ticket) -> str:
    r"""The ticket as a text that reads as an equal one. The puzzle is held as it is named; comments are not kept.

    >>> print(write_ticket(parse_ticket('puzzle = "cube:3"\nchanges = ["swap UF RU", "twist UFR cw"]')), end="")
    puzzle = "cube:3"
    elsewhere = "in place"
    <BLANKLINE>
    [slots]
    UFR = "UFR twisted cw"
    UF = "UR flipped"
    UR = "UF flipped"
    """
    puzzle, appearance = ticket.puzzle, ticket.appearance
    data = {"puzzle": puzzle.name, "elsewhere": ticket.elsewhere}
    if ticket.copy:
        data["copy"] = write_turns(ticket.copy)
    if ticket.note:
        data["note"] = ticket.note
    if ticket.colours:
        data["colours"] = dict(ticket.colours)
    if appearance.stickers:
        faces = write_faces(puzzle, ticket.colours, appearance.stickers)
        data["seen"] = {face: {"rows": rows} for face, rows in faces.items()}
    tables = {"notation": write_habits(ticket.habits), "mine": write_own_copy(ticket.mine)}
    data |= {key: table for key, table in tables.items() if table}
    plain = _seen(puzzle, appearance.stickers, {}, ticket.elsewhere)
    slots = {
        puzzle.slots[number]: sight_words(puzzle, number, sight)
        for number, sight in enumerate(appearance.sights)
        if sight != plain.sights[number]
    }
    if slots or not appearance.stickers:
        data["slots"] = slots
    return tomli_w.dumps(data)
