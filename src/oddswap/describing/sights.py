"""What a slot shows, in words.

It shows ``UR``, ``UR flipped``, ``UFR twisted cw``, ``F turned half``, or ``UR+1`` in the words of a change; several
with ``|``; ``?`` where it was not seen; ``foreign`` where it shows what no piece of the puzzle has. The sticker on the
first-named face of the piece shows on the first-named face of the slot, before it is flipped, twisted or turned.
"""

from collections.abc import Iterable

import numpy as np

from oddswap.describing.habits import NamedSlot, aim, read_slot, say_where, steps
from oddswap.errors import BadTicket, quoted
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.values.position import Appearance, Sight

UNSEEN = "?"
FOREIGN = "foreign"
WAYS = {2: ("", "flipped"), 3: ("", "twisted cw", "twisted ccw"), 4: ("", "turned cw", "turned half", "turned ccw")}


def every_look(puzzle: Puzzle, number: int) -> Sight:
    """All looks that a slot (its number) can show: what is known of it when it is not seen."""
    return frozenset(puzzle.looks[list(puzzle.kind_of[number].labels)].tolist())


def own_look(puzzle: Puzzle, number: int) -> Sight:
    """The look of a slot (its number) when the puzzle is solved."""
    return frozenset((int(puzzle.looks[puzzle.base_label[number]]),))


def covered(puzzle: Puzzle, slots: Iterable[str]) -> Appearance:
    """The solved puzzle with nothing known of some slots; `UnknownSlot` for a name that is none.

    >>> from oddswap import load
    >>> cube = load("cube:3")
    >>> [cube.slots[b] for b in covered(cube, ["UF", "UR", "U"]).uncertain]
    ['UF', 'UR']
    """
    numbers = {puzzle.slot(slot) for slot in slots}
    sights = ((every_look if b in numbers else own_look)(puzzle, b) for b in range(len(puzzle.slots)))
    return Appearance(puzzle.name, tuple(sights))


def read_sight(puzzle: Puzzle, slot: str, words: str) -> tuple[int, Sight]:
    """A slot's number and the looks that ``words`` allow it.

    Empty for a piece that the puzzle does not have: that is a finding. `UnknownSlot` and `BadTicket` for other words.

    >>> from oddswap.puzzles.catalogue import load
    >>> cube = load("cube:3")
    >>> read_sight(cube, "UF", "UF | UF flipped") == (8, read_sight(cube, "UF", "UF")[1] | read_sight(cube, "UF", "FU")[1])
    True
    >>> read_sight(cube, "UF", "UD")
    (8, frozenset())
    """
    place = read_slot(puzzle, slot)
    if place.extra:
        raise BadTicket(f"{quoted(slot)} is more than a slot: say behind the piece how far it is turned")
    if words.strip() == UNSEEN:
        return place.number, every_look(puzzle, place.number)
    looks = []
    for told in dict.fromkeys(" ".join(part.split()) for part in words.split("|")):
        with say_where(quoted(told)):
            looks.append(_one_look(puzzle, place, told))
    if not all(looks) and any(looks):
        raise BadTicket(f"{quoted(words)} allows pieces of the puzzle and none of them: write the one or the other")
    return place.number, frozenset().union(*looks)


def _one_look(puzzle: Puzzle, place: NamedSlot, told: str) -> Sight:
    kind = puzzle.kind_of[place.number]
    match told.split():
        case ["foreign"]:
            return frozenset()
        case [piece]:
            turned = 0
        case piece, "flipped" if kind.twist == 2:
            turned = 1
        case piece, "twisted" | "turned", way:
            turned = steps(puzzle, place.number, way)
        case _:
            ways = ", ".join(filter(None, WAYS.get(kind.twist, ())))
            raise BadTicket(f"this tells no piece: write its name{', and ' + ways + ' behind it if it is' if ways else ''}")
    if _never_made(puzzle, place.number, piece):
        return frozenset()
    source = read_slot(puzzle, piece)
    if puzzle.kind_of[source.number] is not kind:
        if puzzle.kind_of[source.number].family == kind.family:
            return frozenset()
        raise BadTicket(
            f"a piece of the {puzzle.kind_of[source.number].family} is never at {puzzle.slots[place.number]}: "
            f"name one of the {kind.family}"
        )
    twist = aim(puzzle, source, place) + source.extra + turned
    return frozenset((int(puzzle.looks[puzzle.base_label[source.number] + twist % kind.twist]),))


def _never_made(puzzle: Puzzle, number: int, piece: str) -> bool:
    """Whether ``piece`` names as many faces as the slot touches, but no slot touches these together."""
    faces = puzzle.slots[number]
    directions = puzzle.geometry.mechanism.directions if puzzle.geometry else {}
    together = {"".join(sorted(slot)) for slot in puzzle.slots}
    return len(piece) == len(faces) and set(piece) <= set(directions) and "".join(sorted(piece)) not in together


def sight_words(puzzle: Puzzle, number: int, sight: Sight) -> str:
    """Words for the looks that a slot (its number) may show, which `read_sight` reads as the same.

    >>> from oddswap.puzzles.catalogue import load
    >>> marked = load("cube:3,centres=marked")
    >>> slot, sight = read_sight(marked, "F", "F turned ccw | F")
    >>> sight_words(marked, slot, sight)
    'F | F turned ccw'
    """
    if not sight:
        return FOREIGN
    if sight == every_look(puzzle, number):
        return UNSEEN
    return " | ".join(_look_words(puzzle, number, look) for look in sorted(sight))


def _look_words(puzzle: Puzzle, number: int, look: int) -> str:
    """The slot's own piece if it can look so, else the first that can, turned as little as possible."""
    kind, place = puzzle.kind_of[number], read_slot(puzzle, puzzle.slots[number])
    pieces = sorted(kind.places, key=lambda piece: (piece != number, piece))
    shown = puzzle.looks[puzzle.base_label[pieces][:, None] + np.arange(kind.twist)]
    piece, ways = next((p, ways) for p, ways in zip(pieces, shown, strict=True) if look in ways)
    start = aim(puzzle, read_slot(puzzle, puzzle.slots[piece]), place)
    turned = int((np.roll(ways, -start) == look).argmax())
    if kind.twist in WAYS or not turned:
        return f"{puzzle.slots[piece]} {WAYS.get(kind.twist, ('',))[turned]}".strip()
    return f"{puzzle.slots[piece]}+{turned}"
