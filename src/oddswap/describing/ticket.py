"""What a ticket says, as values: which puzzle, what is seen, what the copies are like, and how it went on."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from types import MappingProxyType

from oddswap.describing.habits import Doubt, Habits, refuse_others, say_where
from oddswap.describing.sights import UNSEEN
from oddswap.describing.stickers import every_holding
from oddswap.errors import BadTicket, ContradictoryTicket, UnknownColour, quoted
from oddswap.forwards import forwarded
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import restricted
from oddswap.values.position import Appearance, Holding
from oddswap.values.text_file import cleaned, one_line

EVERY = "all"
HELD = re.compile(r"(?P<top>.+?) (?:up|on top),? (?:and )?(?P<front>.+?) (?:in front|towards (?:me|you))", re.IGNORECASE)
HELD_LIKE = "gold up, teal in front"
KEYS = {
    "colours": (dict, "lines such as U = 'white' below [mine.colours]"),
    "turns": ((str, list), "the text 'all' or 'half', or a list such as ['R2', 'U']"),
    "held": (str, f"a text such as '{HELD_LIKE}'"),
}


@dataclass(frozen=True)
class OwnCopy:
    """The explainer's own copy: its ``colours`` by facet, the ``turns`` that it makes, how it is ``held`` when it is solved.

    What is empty was not said; ``turns`` are an option of the puzzle's name, and ``held`` stands in the explainer's words.
    """

    colours: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}), hash=False)
    turns: str = ""
    held: str = ""
    holding: Holding | None = None


def read_own_copy(puzzle: Puzzle, table: dict, colours: Mapping[str, str]) -> OwnCopy:
    """What ``[mine]`` says of a copy, whose colours are as in ``colours`` if it does not say. `OddswapError` for what is none."""
    refuse_others(table, KEYS, "[mine] ", "it")
    own = read_colours(puzzle, table.get("colours", {}), "[mine] colours")
    turns, held = turns_option("[mine] turns", table.get("turns", EVERY)), " ".join(table.get("held", "").split())
    if turns:
        with say_where("[mine] turns"):
            restricted(puzzle, turns)
    return OwnCopy(own, turns, held, read_held(puzzle, own or colours, held, "[mine] held") if held else None)


def write_own_copy(mine: OwnCopy) -> dict:
    """The table that `read_own_copy` reads as the same."""
    said = {"turns": write_turns(mine.turns), "held": mine.held, "colours": dict(mine.colours)}
    return {key: value for key, value in said.items() if value}


def read_held(puzzle: Puzzle, colours: Mapping[str, str], held: str, where: str = "held") -> Holding:
    """How a solved copy is held, by the colours of the pieces in the middle of its top and front. `BadTicket` if that is unclear.

    >>> from oddswap.puzzles.catalogue import load
    >>> read_held(load("cube:3"), {"L": "gold"}, "gold up, F in front").own("U")
    'L'
    """
    said = HELD.fullmatch(held.strip())
    if not said or not puzzle.alphabet.is_box:
        right = f"write such as {HELD_LIKE}" if puzzle.alphabet.is_box else "leave it out, for it is held in one way only"
        raise BadTicket(f"{where}: {quoted(held)} says no way to hold {puzzle.name}: {right}")
    paints = puzzle.geometry.paints
    words = {**paints, **{word.casefold(): paints[facet] for facet, word in colours.items()}}
    wanted = {face: _paints(words, said[part], where) for face, part in (("U", "top"), ("F", "front"))}
    fitting = [
        holding
        for holding in every_holding()
        if all(middle_paints(puzzle, holding.own(face)) == own for face, own in wanted.items())
    ]
    if len(fitting) != 1:
        count = f"{len(fitting)} ways to hold" if fitting else "no way to hold"
        raise BadTicket(f"{where}: {quoted(held, 60)} is {count} {puzzle.name}: name the middles of two sides that meet")
    return fitting[0]


def _paints(words: Mapping[str, str], said: str, where: str) -> frozenset[str]:
    parts = re.split(r", | and ", said.strip())
    for part in parts:
        if part not in words and part.casefold() not in words:
            raise UnknownColour(f"{where}: {quoted(part)} is no colour of this copy: write {', '.join(words)}")
    return frozenset(words.get(part) or words[part.casefold()] for part in parts)


def middle_paints(puzzle: Puzzle, face: str) -> frozenset[str]:
    """The paints of the piece in the middle of a face of the solved puzzle, or of the whole face where no single piece is."""
    geometry = puzzle.geometry
    if face in puzzle.slots:
        return geometry.paints_of(geometry.bodies[puzzle.slot(face)])
    return frozenset(filter(None, [geometry.paints.get(face)]))


def read_colours(puzzle: Puzzle, table: dict, where: str) -> Mapping[str, str]:
    """Somebody's colours by facet; facets have the same word if and only if they share a paint. An error says ``where``."""
    paints = puzzle.geometry.paints if puzzle.geometry else {}
    words: dict[str, str] = {}
    of_paint: dict[str, str] = {}
    for facet, word in table.items():
        if facet not in paints:
            raise BadTicket(f"{where} {quoted(facet)}: {puzzle.name} has no such facet, only {', '.join(paints)}")
        if not isinstance(word, str) or not word.strip() or "|" in word or word.strip() == UNSEEN:
            raise UnknownColour(f"{where} {facet}: {quoted(word)} is no colour: write a name such as white, or #f2e6c8")
        words[facet] = " ".join(word.split())
        known, paint = words[facet].casefold(), paints[facet]
        for other in paints:
            if known == other.casefold() and paints[other] != paint:
                raise ContradictoryTicket(
                    f"{where} {facet}: {quoted(word)} is also the name of another facet: write the colour in full"
                )
        if of_paint.setdefault(paint, known) != known:
            raise ContradictoryTicket(f"{where} {facet}: facets that share a colour on {puzzle.name} have two: give them one")
        if list(of_paint.values()).count(known) > 1:
            raise ContradictoryTicket(f"{where} {facet}: {quoted(word)} is another facet's colour too: tell them apart")
    return MappingProxyType(words)


def turns_option(key: str, turns: str | list) -> str:
    """Turns as an option of the puzzle's name; empty if these are all."""
    names = turns if isinstance(turns, list) else [turns]
    for name in names:
        if not isinstance(name, str) or not name.strip() or set(name) & set(",=+"):
            raise BadTicket(f"{key}: {quoted(name)} is no turn: write 'all', 'half' or a list such as ['R2', 'U']")
    if not names:
        raise BadTicket(f"{key}: the list is empty: name the turns that this copy makes, or leave it out")
    return "" if turns == EVERY else "+".join(name.strip() for name in names)


def write_turns(turns: str) -> str | list[str]:
    """What `turns_option` reads as the same."""
    return turns.split("+") if "+" in turns else turns


def refuse_wider(turns: Puzzle, copy: Puzzle | None) -> None:
    """`ContradictoryTicket` where a question allows ``turns`` that the visitor's ``copy`` does not make."""
    beyond = [name for name in turns.turns if copy is not None and name not in copy.turns]
    if beyond:
        raise ContradictoryTicket(f"turns: this copy does not make {beyond[0]}: leave it out, or name it in copy, too")


IN_PLACE, TURNED = "in place", "turned"


@dataclass(frozen=True)
class Described:
    """What somebody says they see: the ``appearance`` with the puzzle held as it is named, and the rest as `Ticket` has it."""

    appearance: Appearance
    elsewhere: str = IN_PLACE
    held: str = field(default="", compare=False)
    doubt: Doubt | None = field(default=None, compare=False)
    otherwise: Appearance | None = field(default=None, compare=False)


@dataclass(frozen=True)
class Message:
    """What a visitor wrote next: the turns that they ``did``, of those that they were ``sent``, and their ``look`` at it now.

    Turns are said with the puzzle held as it is named; ``sent`` is ``None`` for the way of the answer, ``did`` and ``look``
    where they did not say.
    """

    look: Described | None
    did: str | None = None
    sent: str | None = None


@forwarded
@dataclass(frozen=True, repr=False)
class Ticket:
    """What a ticket tells.

    ``colours`` are the visitor's words for the colours of some facets, ``copy`` the turns that their copy makes, ``habits`` how
    they write turns, ``mine`` the explainer's own copy. ``doubt`` is a turn of theirs that can mean two things, and ``otherwise``
    what is seen if it means the other one. ``held`` says how the puzzle was held when its faces were read, "" if as it is named;
    ``appearance`` has it held as it is named. ``thread`` is what they wrote after that. ``doubt``, ``otherwise``, ``held``
    and ``source`` do not count when tickets are compared.
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
    thread: tuple[Message, ...] = ()
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

    @property
    def held_last(self) -> str:
        """How it was held when it was looked at last."""
        return next((message.look.held for message in reversed(self.thread) if message.look), self.held)

    def __str__(self) -> str:
        return f"{self.name}: {self.puzzle.title}"
