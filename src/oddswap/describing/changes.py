"""Changes from solved, as people say them: ``flip UF``, ``twist UFR cw``, ``swap A B``, ``cycle A B C``, ``turn F half``.

All as seen from outside. Where a kind has more than one way round, the sticker on the first-named face of the old slot
shows on the first-named face of the new one, so that ``swap UF BU`` differs from ``swap UF UB``; ``+1``, ``+2`` … behind
a slot twists on by so many steps where that leaves a choice.
"""

from collections.abc import Iterable

from oddswap.describing.habits import aim, read_slot, say_where, steps
from oddswap.errors import BadTicket, quoted
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.values.grammar import counted_words
from oddswap.values.position import Arrangement

FORMS = "flip SLOT, twist SLOT cw|ccw, swap A B, cycle A B C, turn SLOT cw|ccw|half"


def changed(puzzle: Puzzle, changes: Iterable[str], start: Arrangement | None = None) -> Arrangement:
    """``start`` (solved when left out) after changes made by hand, one after the other, at the slots they name.

    >>> from oddswap import load
    >>> cube = load("cube:3")
    >>> changed(cube, ["swap UF UR"]).pieces[8:12]
    (11, 9, 10, 8)
    """
    state = start or puzzle.solved
    for change in changes:
        with say_where(f"change {quoted(change)}"):
            state = _one(puzzle, change, state)
    return state


def _one(puzzle: Puzzle, change: str, state: Arrangement) -> Arrangement:
    match str(change).split():
        case "swap" | "cycle" as word, first, second, *rest if rest or word == "swap":
            if word == "swap" and rest:
                raise BadTicket("swap takes two slots: for more write cycle A B C")
            return _cycle(puzzle, [first, second, *rest], state)
        case "flip", slot:
            number = puzzle.slot(slot)
            ways = puzzle.kind_of[number].twist
            if ways != 2:
                right = "write twist or turn" if ways > 1 else "choose another"
                raise BadTicket(f"{slot} has no flip, because its piece has {counted_words(ways, 'ways')} round: {right}")
            return _twist(puzzle, number, 1, state)
        case "twist" | "turn", slot, way:
            number = puzzle.slot(slot)
            return _twist(puzzle, number, steps(puzzle, number, way), state)
    raise BadTicket(f"unknown: write one of {FORMS}, with commas between several")


def _twist(puzzle: Puzzle, number: int, steps: int, state: Arrangement) -> Arrangement:
    twists = list(state.twists)
    twists[number] = (twists[number] + steps) % puzzle.kind_of[number].twist
    return Arrangement(state.puzzle, state.pieces, tuple(twists))


def _cycle(puzzle: Puzzle, names: list[str], state: Arrangement) -> Arrangement:
    spots = [read_slot(puzzle, name) for name in names]
    numbers = [s.number for s in spots]
    if len(set(numbers)) < len(numbers):
        raise BadTicket("a slot stands twice: name different ones")
    kind = puzzle.kind_of[numbers[0]]
    for number, name in zip(numbers, names, strict=True):
        if puzzle.kind_of[number] is not kind:
            raise BadTicket(f"{names[0]} and {name} are pieces of different kinds, which never change places")
    pieces, twists = list(state.pieces), list(state.twists)
    for source, target in zip(spots, spots[1:] + spots[:1], strict=True):
        pieces[target.number] = state.pieces[source.number]
        turned = aim(puzzle, source, target)
        twists[target.number] = (state.twists[source.number] + turned) % kind.twist
    return Arrangement(state.puzzle, tuple(pieces), tuple(twists))
