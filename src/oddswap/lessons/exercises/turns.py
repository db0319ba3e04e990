"""Exercises about turns: swaps that undo a turn, going there and coming back, sequences with given cycles."""

from __future__ import annotations

from collections.abc import Mapping

from oddswap.describing.changes import changed
from oddswap.errors import quoted
from oddswap.lessons.exercises.written import parts, written
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import load
from oddswap.showing.ink.notes import Note, kindly
from oddswap.showing.pictures.cycles import groups_of
from oddswap.values.arrangement import Arrangement
from oddswap.values.grammar import listed

FAMILIES = ("corners", "edges")


@kindly
def check_swaps(swaps: str, count: int, *, turn: str = "U", family: str = "edges", name: str = "cube:3") -> Note:
    """Whether exactly ``count`` swaps (pairs of slots, separated by commas) bring the pieces that a turn moved home.

    Which way round they sit there is not asked.

    >>> check_swaps("UF UL, UL UB, UB UR", 3)
    Yes: all edges that U moved are home after 3 swaps.
    """
    pairs = [pair.removeprefix("swap ").strip() for pair in parts(swaps, "pairs of slots such as: UF UR, UL UB")]
    for pair in pairs:
        if len(pair.split()) != 2:
            return Note(f"Each swap names two slots, as in: UF UR. In your answer there is {quoted(pair)}.")
    puzzle = load(name)
    start = puzzle.follow(turn)
    state = changed(puzzle, [f"swap {pair}" for pair in pairs], start)
    strangers = [slot for pair in pairs for slot in pair.split() if _family(puzzle, slot) != family]
    if strangers:
        return Note(f"Not yet. This exercise is about the {family} alone, and {strangers[0]} is none of them.")
    away = _away(puzzle, state, family)
    if away:
        hint = ""
        if len(pairs) % 2 != _odd(puzzle, start, family):
            hint = f" {'An odd' if len(pairs) % 2 else 'An even'} number of swaps can never do it: think of the cycles of {turn}."
        number = f"{len(pairs)} swaps" if len(pairs) > 1 else "1 swap"
        return Note(f"Not yet. After your {number} the pieces in {listed(away)} still belong elsewhere.{hint}")
    if len(pairs) != count:
        return Note(
            f"All are home, but after {len(pairs)} swaps where {count} are asked for. Two further swaps can always be put "
            "in so that the second undoes the first; a single one never, because each swap changes odd to even or back."
        )
    return Note(f"Yes: all {family} that {turn} moved are home after {count} swaps.")


@kindly
def check_there(there: str, act: str, wanted: str, *, name: str = "cube:3") -> Note:
    """Whether going ``there``, doing ``act`` and coming back changes exactly the pieces in the ``wanted`` slots.

    >>> check_there("R2", "[U R U', L']", "UFL UBL DFR")
    Yes: [R2: [U R U', L']] changes the pieces in UFL, UBL and DFR, and no other.
    """
    puzzle = load(name)
    aim = {puzzle.slot(slot) for slot in wanted.split()}
    set_up = puzzle.read(written(there, "the turns that lead there, such as: R F2"))
    reached = _out_of_place(puzzle, puzzle.follow(f"[{set_up}: {act}]"))
    before = _out_of_place(puzzle, puzzle.follow(act))
    if reached == aim:
        return Note(f"Yes: [{set_up}: {act}] changes the pieces in {_slots(puzzle, aim)}, and no other.")
    return Note(
        f"Not yet. Going there and coming back kept the lengths of the cycles, but now they run through "
        f"{_slots(puzzle, reached)}. Your turns must bring the pieces from {_slots(puzzle, aim)} to "
        f"{_slots(puzzle, before)}, in any order."
    )


@kindly
def check_cycles(moves: str, wanted: Mapping[str, tuple[int, ...]], *, name: str = "cube:3") -> Note:
    """Whether turns have just the ``wanted`` lengths of cycles, by family, longest first; a piece turned in its slot has 1.

    What does not show of the centres is not asked.

    >>> check_cycles("R U R' U'", {"corners": (2, 2), "edges": (3,)})
    Yes: corners in cycles of 2 and 2, edges in a cycle of 3.
    """
    puzzle, moves = load(name), written(moves, "turns such as: R U R' U'")
    turns, _ = puzzle.settled(moves)
    state = puzzle.follow(moves)
    found = {group.title: tuple(sorted((len(c.slots) for c in group.cycles), reverse=True)) for group in groups_of(puzzle, state)}
    found, wanted = ({family: lengths.get(family, ()) for family in FAMILIES} for lengths in (found, wanted))
    told = ", ".join(f"{family} {_cycle_words(lengths)}" for family, lengths in found.items())
    if found == wanted:
        return Note(f"Yes: {', '.join(f'{family} {_cycle_words(found[family])}' for family in found if found[family])}.")
    quarters = sum(abs(turn.step.amount) % 2 for turn in turns)
    return Note(f"Not yet. Your turns give: {told}. {_overlooked(wanted, found, quarters)}")


def _overlooked(wanted: Mapping[str, tuple[int, ...]], found: Mapping[str, tuple[int, ...]], quarters: int) -> str:
    """The law, or else the move, that an answer did not think of."""
    odd = sum(length - 1 for length in wanted["corners"]) % 2
    if quarters % 2 != odd:
        number = "an odd" if quarters % 2 else "an even"
        needed = "an odd" if odd else "an even"
        return (
            f"You made {number} number of quarter turns. Each quarter turn is odd on the corners and on the edges, and here "
            f"{needed} number is needed."
        )
    for family in FAMILIES:
        if len(found[family]) > len(wanted[family]) or sum(found[family]) > sum(wanted[family]):
            return (
                f"Too many {family} are out of place. A commutator [A, B] disturbs little when A and B have few pieces "
                "in common: best of all one."
            )
    return "Something must move: choose A and B such that they have at least one piece in common."


def _family(puzzle: Puzzle, slot: str) -> str:
    return puzzle.kind_of[puzzle.slot(slot)].family


def _away(puzzle: Puzzle, state: Arrangement, family: str) -> list[str]:
    """The slots of a family whose piece belongs elsewhere."""
    kinds = [kind for kind in puzzle.kinds if kind.family == family]
    return [puzzle.slots[slot] for kind in kinds for slot in kind.places if state.pieces[slot] != slot]


def _odd(puzzle: Puzzle, state: Arrangement, family: str) -> int:
    """1 if the pieces of a family are rearranged oddly, else 0."""
    lengths = [len(cycle.slots) for group in groups_of(puzzle, state) if group.title == family for cycle in group.cycles]
    return sum(length - 1 for length in lengths) % 2


def _out_of_place(puzzle: Puzzle, state: Arrangement) -> set[int]:
    return {slot for slot in state.displaced() if puzzle.kind_of[slot].family in FAMILIES}


def _slots(puzzle: Puzzle, numbers: set[int]) -> str:
    return listed(puzzle.slots[number] for number in sorted(numbers)) if numbers else "no slot at all"


def _cycle_words(lengths: tuple[int, ...]) -> str:
    if not lengths:
        return "at rest"
    return f"in a cycle of {lengths[0]}" if len(lengths) == 1 else f"in cycles of {listed(map(str, lengths))}"
