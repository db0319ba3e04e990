"""What is said of a reading of photographs: what is doubtful, what was not read, and whose colours these are."""

from collections.abc import Iterable

DOUBTFUL = "{} on {} is doubtful, most likely {}: look at it once more"
CLASH = "two photographs show different colours at {} on {}: look there once more"
NOT_ALL = "no photograph shows every facet well: photographs from two opposite corners show all of a cube"
NO_LAWS = "neither laws nor pieces were asked: what cannot be is read as it is seen"
INFERRED = "nobody named the colours: look whether these are right, write a word for each, and copy their lines into the ticket"


def reading_notes(
    inferred: bool, unread: bool, clashing: Iterable[tuple[str, str]], unsure: Iterable[tuple[str, str, str]]
) -> list[str]:
    """What there is to look at: slots and sides with two colours, doubtful ones with a colour, and what holds of all."""
    facets = [*(CLASH.format(*place) for place in clashing), *(DOUBTFUL.format(*place) for place in unsure)]
    return [*facets, *([NOT_ALL] if unread else []), NO_LAWS, *([INFERRED] if inferred else [])]
