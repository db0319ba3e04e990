"""What is said of the ways out of a box and back: how each family stands, how many turns it takes, and why a map ended."""

from collections.abc import Iterator

from oddswap.reasoning.opening.ways_map import (
    BEYOND,
    FOUND,
    NEVER,
    OPEN,
    AllKnown,
    DepthReached,
    Looking,
    MapEntry,
    MoreByLooking,
    ReadBySign,
    WaysMap,
)
from oddswap.values.grammar import listed
from oddswap.words.table import say, says_so

NO_NEED = "Turns that keep the outline lead from each closed box to every other: nobody needs to leave the box."
THERE_AND_BACK = "From solved, an excursion sets the position up; undone, and with turns inside the box after it, it leads home."

MORE = "And {} more; `--json` has them all."
"""How many families have no room on a page."""
STATUS_WORDS = {
    FOUND: "found",
    BEYOND: "proved to need more turns than were asked for",
    OPEN: "open",
    NEVER: "proved never to be reached",
}
says_so(
    {
        AllKnown: "for every family it is known",
        DepthReached: "all excursions of that many turns were looked at",
        ReadBySign: "the readings of the pieces are too many, so that orbits of four count by their sign alone: "
        "pairing laws are left out",
        MoreByLooking: "by looking, {0.classes} classes can be told apart; here orbits with twins are not read, so that an "
        "excursion which is found may have changed how their pieces fall into pairs, too",
        Looking: "excursions of {0.length} turns, {0.states:,} states",
    }
)


def turns_in_words(way: MapEntry) -> str:
    """How many turns a shortest excursion has, or what is proved of it."""
    if way.moves is not None:
        return str(len(way.moves))
    return "never" if way.status == NEVER else f"{way.at_least} or more, {'proved' if way.status == BEYOND else 'open'}"


def length_words(way: MapEntry) -> str:
    """How long a shortest excursion is, beneath a picture."""
    if way.moves is not None:
        return f"in {len(way.moves)} turns"
    return "never" if way.status == NEVER else f"in {way.at_least} turns or more"


def family_words(way: MapEntry) -> str:
    """What looks wrong on the boxes of a family."""
    return way.family.words or "no few small changes"


def map_notes(found: WaysMap) -> Iterator[str]:
    """What was counted and taken for granted."""
    yield f"one turn is a turn of one layer by any amount; those allowed are the {len(found.box.turns)} of {found.box.name}"
    yield "turns that keep the outline are counted between those that open and close the box; before and after they are free"
    yield "after every turn all cells must touch by whole faces, which is a necessary test and no model of a mechanism"
    yield "pieces of one orbit that look alike, and twists that do not show, count as one; twins of different orbits do not"
    yield "this copy may not make all these turns: where a layer catches, line it up, and do not push"
    yield from map(say, found.notes)


def null_notes(found: WaysMap) -> Iterator[str]:
    """Why some data are null."""
    if any(way.family.changes is None for way in found.ways):
        yield "changes are null where no few small changes by hand lead to a family"
    if any(way.moves is None for way in found.ways):
        yield "moves and length are null where no excursion was found, and at_least where it is proved that there is none"


def map_sentences(found: WaysMap) -> Iterator[str]:
    """What leaving the box can do, a paragraph after the other."""
    if not found.ways:
        yield NO_NEED
        return
    families = "one family" if len(found.ways) == 1 else f"{len(found.ways)} families"
    counts = [(sum(way.status == status for way in found.ways), words) for status, words in STATUS_WORDS.items()]
    stand = listed(f"{number} {'is' if number == 1 else 'are'} {words}" for number, words in counts if number)
    ended = "" if isinstance(found.ending, AllKnown | DepthReached) else f" Then {say(found.ending)}."
    yield (
        f"Turns that keep the outline leave {found.classes} classes of closed boxes apart. Those other than the solved one's make"
        f" {families}: whoever turns inside the box before leaving it comes to any class of a family by one excursion. Of the"
        f" families, {stand}. All excursions of up to {found.complete} turns were looked at, {found.states} states.{ended}"
    )
    yield THERE_AND_BACK
