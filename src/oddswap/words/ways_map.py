"""What is said of the ways out of a box and back: how each family stands, how many turns it takes, and why a map ended."""

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
)
from oddswap.words.table import says_so

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
