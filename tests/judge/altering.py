"""One thing altered in what a person reads: a colour of the holding, or a sign, an amount or a letter of a move."""

import random
import re

from tests.judge.visitor import COLOURS


def altered(hold: str, moves: str, dice: random.Random) -> tuple[str, str]:
    """The words on how to hold it, and the moves, one of the two with one thing in it altered."""
    names = moves.split()
    at = dice.randrange(len(names))
    match dice.choice(("colour", "holding", "sign", "amount", "letter")):
        case "colour":
            used = _colours(hold)
            other = dice.choice([colour for colour in COLOURS if colour not in used])
            return re.sub(rf"\b{dice.choice(used)}\b", other, hold), moves
        case "holding" if len(used := _colours(hold)) > 1:
            one, two = dice.sample(used, 2)
            swap = {one: two, two: one}
            return re.sub(rf"\b(?:{one}|{two})\b", lambda found: swap[found[0]], hold), moves
        case "sign" if not names[at].endswith("2"):
            names[at] = names[at].removesuffix("'") if names[at].endswith("'") else f"{names[at]}'"
        case "amount":
            names[at] = names[at].removesuffix("2") if names[at].endswith("2") else f"{names[at].removesuffix(chr(39))}2"
        case _:
            letter = next(c for c in names[at] if c.isupper())
            names[at] = names[at].replace(letter, dice.choice([c for c in "UDFBLR" if c != letter]))
    return hold, " ".join(names)


def _colours(hold: str) -> list[str]:
    return [colour for colour in COLOURS if re.search(rf"\b{colour}\b", hold)]
