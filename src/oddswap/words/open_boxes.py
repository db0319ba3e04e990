"""Boxes that leave their outline, the ways out and back, joined pieces, and turns that break the laws of others, in words."""

from collections.abc import Iterator

from oddswap.reasoning.opening import outside, ways_map
from oddswap.reasoning.verdicts.findings import PiecesJoined
from oddswap.reasoning.verdicts.first_looks import SmallestTurn, TurnsBreak
from oddswap.values.grammar import counted, listed
from oddswap.words.table import name_of, say, says
from oddswap.words.texts import TEXTS


@says(PiecesJoined)
def joined_words(assumed: PiecesJoined) -> str:
    blocks = [f"the block of {listed(block)}" for block in assumed.blocks]
    many = len(blocks) > 1
    return f"{listed(blocks)} {'each move' if many else 'moves'} as one, and no turn cuts {'them' if many else 'it'}"


@says(TurnsBreak)
def breaking_words(finding: TurnsBreak) -> str:
    one, pieces = len(finding.turns) == 1, [counted(number, family) for family, number in finding.leaving]
    broken = listed(name_of(law) for law in finding.laws) if finding.laws else ""
    if pieces:
        alone = sum(number for _, number in finding.leaving) == 1
        broken = f"the orbit law ({listed(pieces)} leave{'s' if alone else ''} their orbits)"
    return f"{'the turn' if one else 'each of the turns'} {' '.join(finding.turns)} breaks {broken}"


@says(SmallestTurn)
def smallest_words(finding: SmallestTurn) -> str:
    pieces = listed(counted(number, family) for family, number in finding.moved)
    shape = f"in the shape that {' '.join(finding.after)} gives" if finding.after else "in the shape that it has"
    return f"{shape}, {finding.turn} moves only {pieces}, and no turn inside the box moves so few pieces"


@says(outside.ProvedOutside)
def proved_words(finding: outside.ProvedOutside) -> str:
    broken = f": {listed(name_of(law) for law in finding.laws)}" if finding.laws else ""
    return f"that turns which leave the outline do not lead home either is proved by the laws of the open box{broken}"


NO_NEED = "Turns that keep the outline lead from each closed box to every other: nobody needs to leave the box."
THERE_AND_BACK = "From solved, an excursion sets the position up; undone, and with turns inside the box after it, it leads home."

MORE = "And {} more; `--json` has them all."
"""How many families have no room on a page."""
STATUS_WORDS = TEXTS["excursions"]


def turns_in_words(way: ways_map.MapEntry) -> str:
    """How many turns a shortest excursion has, or what is proved of it."""
    if way.moves is not None:
        return str(len(way.moves))
    known = "proved" if way.status == ways_map.BEYOND else "open"
    return "never" if way.status == ways_map.NEVER else f"{way.at_least} or more, {known}"


def length_words(way: ways_map.MapEntry) -> str:
    """How long a shortest excursion is, beneath a picture."""
    if way.moves is not None:
        return f"in {len(way.moves)} turns"
    return "never" if way.status == ways_map.NEVER else f"in {way.at_least} turns or more"


def family_words(way: ways_map.MapEntry) -> str:
    """What looks wrong on the boxes of a family."""
    return way.family.words or "no few small changes"


def map_notes(found: ways_map.WaysMap) -> Iterator[str]:
    """What was counted and taken for granted."""
    yield f"one turn is a turn of one layer by any amount; those allowed are the {len(found.box.turns)} of {found.box.name}"
    yield "turns that keep the outline are counted between those that open and close the box; before and after they are free"
    yield "after every turn all cells must touch by whole faces, which is a necessary test and no model of a mechanism"
    yield "pieces of one orbit that look alike, and twists that do not show, count as one; twins of different orbits do not"
    yield "this copy may not make all these turns: where a layer catches, line it up, and do not push"
    yield from map(say, found.notes)


def null_notes(found: ways_map.WaysMap) -> Iterator[str]:
    """Why some data are null."""
    if any(way.family.changes is None for way in found.ways):
        yield "changes are null where no few small changes by hand lead to a family"
    if any(way.moves is None for way in found.ways):
        yield "moves and length are null where no excursion was found, and at_least where it is proved that there is none"


def map_sentences(found: ways_map.WaysMap) -> Iterator[str]:
    """What leaving the box can do, a paragraph after the other."""
    if not found.ways:
        yield NO_NEED
        return
    families = "one family" if len(found.ways) == 1 else f"{len(found.ways)} families"
    counts = [(sum(way.status == status for way in found.ways), words) for status, words in STATUS_WORDS.items()]
    stand = listed(f"{number} {'is' if number == 1 else 'are'} {words}" for number, words in counts if number)
    ended = "" if isinstance(found.ending, ways_map.AllKnown | ways_map.DepthReached) else f" Then {say(found.ending)}."
    yield (
        f"Turns that keep the outline leave {found.classes} classes of closed boxes apart. Those other than the solved one's make"
        f" {families}: whoever turns inside the box before leaving it comes to any class of a family by one excursion. Of the"
        f" families, {stand}. All excursions of up to {found.complete} turns were looked at, {found.states} states.{ended}"
    )
    yield THERE_AND_BACK
