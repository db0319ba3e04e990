"""What is told at the desk, from touches to an appearance, and from an appearance to what its prints can show."""

from collections.abc import Mapping
from random import Random

from oddswap.describing.stickers import seen_stickers, stickers
from oddswap.describing.ticket import Ticket
from oddswap.errors import BadTicket
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.laws.lookalikes import first_sight, surplus
from oddswap.reasoning.verdicts.counting import count_explanations
from oddswap.reasoning.verdicts.explanations import drawn, in_place
from oddswap.reasoning.verdicts.findings import SeenTooOften
from oddswap.showing.ink.palette import colours_for
from oddswap.showing.ink.stand_ins import stand_ins
from oddswap.showing.viewer.pack import labels_of
from oddswap.values.grammar import listed
from oddswap.values.position import Appearance, Arrangement
from oddswap.words import say
from oddswap.words.products.desk import SAYS, left_words

NAMED = 6
"""So many pieces are named in a complaint."""


def as_touched(puzzle: Puzzle, sights: list[list[int]], told: Mapping[str, str], before: Appearance) -> Appearance:
    """Return what a hand has told: the looks that each slot may show and, where stickers were ``told`` by paint, those.

    Of a sticker that nobody has told anew, ``before`` may still say *this or that*. `BadTicket` for what the puzzle has not.
    """
    if not told or stickers(puzzle) is None:
        known = set(puzzle.looks.tolist())
        if len(sights) != len(puzzle.slots) or not known.issuperset(look for sight in sights for look in sight):
            raise BadTicket(f"these looks are none of {puzzle.title}: load the page anew")
        return Appearance(puzzle.name, tuple(map(frozenset, sights)))
    names = _names(puzzle)
    either = [held if len(held) > 1 else frozenset() for held in before.stickers] or [frozenset()] * len(names)
    held = zip(names, either, strict=True)
    return seen_stickers(puzzle, tuple(frozenset((told[name],)) if name in told else other for name, other in held))


def _names(puzzle: Puzzle) -> list[str]:
    """The places of stickers as the viewer's script names them."""
    return [f"{puzzle.slots[slot]}|{face}" for slot, face in stickers(puzzle).places]


def shown(ticket: Ticket) -> dict:
    """Return what the prints show of a ticket: an arrangement with slots ``covered``, or what is ``told`` of each sticker."""
    puzzle, seen = ticket.puzzle, ticket.appearance
    inks = colours_for(puzzle, stand_ins(ticket.colours)) if puzzle.geometry is not None else {}
    arrangement, told = _near(puzzle, seen), {}
    hidden = (*seen.uncertain, *seen.foreign)
    if seen.stickers and (arrangement is None or any(1 < len(held) for held in seen.stickers) or _partly(puzzle, seen)):
        told = {name: next(iter(held)) for name, held in zip(_names(puzzle), seen.stickers, strict=True) if len(held) == 1}
    return {
        "labels": labels_of(puzzle, puzzle.solved if told or arrangement is None else arrangement),
        "covered": [puzzle.slots[b] for b in hidden],
        "told": told,
        "colours": inks,
        "sights": [sorted(sight) for sight in seen.sights],
    }


def _near(puzzle: Puzzle, seen: Appearance) -> Arrangement | None:
    """An arrangement that agrees with what is seen; ``None`` where there is none."""
    if seen.foreign:
        return None
    nearest = in_place(puzzle, seen)
    whole = nearest if nearest.complete else drawn(puzzle, nearest, Random(0))
    sighted = first_sight(puzzle, whole) if whole else None
    return sighted[0] if sighted else None


def _partly(puzzle: Puzzle, seen: Appearance) -> bool:
    """Whether of some piece one sticker is seen, and another is not."""
    slots: dict[int, set[bool]] = {}
    for (slot, _), held in zip(stickers(puzzle).places, seen.stickers, strict=True):
        slots.setdefault(slot, set()).add(bool(held))
    return any(len(sorts) > 1 for sorts in slots.values())


def checked(puzzle: Puzzle, seen: Appearance) -> tuple[tuple[str, ...], str]:
    """Return what cannot be, in sentences, and how much is still open; quick enough to go along with every touch."""
    complaints = []
    if seen.foreign:
        complaints.append(SAYS.strange.format(listed(puzzle.slots[b] for b in seen.foreign[:NAMED])))
    too_many, _ = surplus(puzzle, seen)
    if too_many:
        complaints.append(say(SeenTooOften(tuple(puzzle.slots[p] for p in too_many[:NAMED]))))
    count = count_explanations(puzzle, seen) if seen.uncertain and not seen.foreign else None
    if not complaints and (count.total == 0 if count else first_sight(puzzle, seen) is None):
        complaints.append(SAYS.not_together)
    return tuple(complaints), left_words(not complaints, len(seen.uncertain), count and count.appearances)
