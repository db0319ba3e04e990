"""What is said of many letters that were answered at once."""

from collections.abc import Iterable, Sequence

from oddswap.reasoning.answers import SeenBefore
from oddswap.values.grammar import listed
from oddswap.words import say

COLUMNS = ("letter", "puzzle", "verdict", "what else")


def said_of(alike: str, mirrored: bool, before: Iterable[SeenBefore], error: str) -> str:
    """What else there is to say of a letter: why it was refused, or which others show its position."""
    same = f"the same position as {alike}{', in a mirror' if mirrored else ''}" if alike else ""
    return ". ".join(filter(None, [error, same, *map(say, before)]))


def passed_over(strangers: Sequence[str]) -> list[str]:
    """That some files of a folder are no letters."""
    if not strangers:
        return []
    few = listed(strangers) if len(strangers) <= 3 else f"{len(strangers)} files"
    return ["", f"Passed over, because a letter ends in .toml or .txt: {few}."]
