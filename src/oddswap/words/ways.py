"""What is said of the ways out of a box and back: how each family stands, and how many turns it takes."""

from __future__ import annotations

from oddswap.reasoning.opening.ways_map import BEYOND, FOUND, NEVER, OPEN, Way

SAID = {
    FOUND: "found",
    BEYOND: "proved to need more turns than were asked for",
    OPEN: "open",
    NEVER: "proved never to be reached",
}


def turns_in_words(way: Way) -> str:
    """How many turns a shortest excursion has, or what is proved of it."""
    if way.moves is not None:
        return str(len(way.moves))
    return "never" if way.status == NEVER else f"{way.at_least} or more, {'proved' if way.status == BEYOND else 'open'}"
