"""What a ticket says, as values: which puzzle, what is seen, whose copies, and how it went on."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from types import MappingProxyType

from oddswap.describing.copies import OwnCopy
from oddswap.describing.habits import Doubt, Habits
from oddswap.forwards import forwarded
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import restricted
from oddswap.values.position import Appearance
from oddswap.values.text import cleaned, one_line

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
