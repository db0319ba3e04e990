"""Exercises about ways out: a commutator that changes few pieces, a tool carried elsewhere, a shortest way."""

from __future__ import annotations

from collections.abc import Sequence as Items

from oddswap.describing.changes import changed
from oddswap.errors import quoted
from oddswap.lessons.exercises.written import written
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.search.shortest import find_way
from oddswap.reasoning.teaching.effects import effect_words
from oddswap.reasoning.teaching.shapes_of_words import structured
from oddswap.reasoning.ways.way_out import looks_solved
from oddswap.showing.ink.notes import Hint, Note, kindly
from oddswap.values.arrangement import Arrangement
from oddswap.values.grammar import listed, number_word
from oddswap.values.sequence import Commutator, Conjugate, Repetition, Sequence

LONGEST = 60
"""An answer of more turns is none that anybody would teach."""


@kindly
def check_commutator(answer: str, pieces: int, *, name: str = "cube:3") -> Note:
    """Whether ``answer`` is a commutator, written as one or turn by turn, that changes just so many ``pieces``.

    >>> check_commutator("[R, U]", 3)
    Not yet. It exchanges two pairs of corners and cycles three edges, which makes 7 pieces.
    A and B have UBR, UFR and UR in common: the fewer they share, the fewer change.
    """
    puzzle = load(name)
    read = _read(puzzle, answer, "[R, U]")
    parts = _as_commutator(puzzle, read)
    found = _out_of_place(puzzle, puzzle.follow(read))
    if parts is None:
        return Note("Not yet. That is no commutator: it is A, then B, then A undone, then B undone, and is written [A, B].")
    if len(found) == pieces:
        return Note(f"Yes: {read} is a commutator, and it {effect_words(puzzle, read)}.")
    shared = set.intersection(*(_out_of_place(puzzle, puzzle.follow(part)) for part in parts))
    if not found:
        why = "They share no slot" if not shared else "They come to the same in either order"
        return Note(f"Not yet. A and B undo each other, and nothing changes. {why}: choose others.")
    return Note(
        f"Not yet. It {effect_words(puzzle, read)}, which makes {len(found)} pieces. A and B have {_slots(puzzle, shared)} in "
        "common: the fewer they share, the fewer change."
    )


@kindly
def check_carried(set_up: str, tool: str, changes: Items[str], *, name: str = "cube:3") -> Note:
    """Whether ``set_up``, then the ``tool``, then the set-up undone solve what ``changes`` by hand have made.

    >>> check_carried("F2", "[L2, [U: R2]]", ["cycle UFR UFL UBL"])
    Yes: [F2: [L2, [U: R2]]] is a way out.
    """
    puzzle = load(name)
    start = changed(puzzle, changes)
    read = _read(puzzle, set_up, "R F2")
    way = puzzle.read(f"[{read}: {tool}]")
    end, reached = puzzle.follow(way, start), _out_of_place(puzzle, puzzle.follow(way))
    aim = _out_of_place(puzzle, start)
    if looks_solved(puzzle, puzzle.appearance(end)):
        return Note(f"Yes: {way} is a way out.")
    if reached != aim:
        return Note(
            f"Not yet. Carried like this, the tool changes the pieces in {_slots(puzzle, reached)}; the ticket is about "
            f"{_slots(puzzle, aim)}. By itself it works on {_slots(puzzle, _out_of_place(puzzle, puzzle.follow(tool)))}: bring "
            "the pieces of the ticket there."
        )
    return Note(
        "Not yet, but nearly: the tool now works on the right pieces, and sends them the wrong way round or into another "
        "twist. Bring them to the tool in another order."
    )


@kindly
def check_shortest(moves: str, after: str, *, name: str = "rings:4+4") -> Note:
    """Whether ``moves`` lead home from the position that the turns ``after`` make, and no way is shorter.

    >>> check_shortest("b' a'", "a b")
    Yes: that is a way out, and none has fewer than two turns.
    """
    puzzle = load(name)
    start = puzzle.follow(after)
    read = _read(puzzle, moves, " ".join(list(puzzle.turns)[:3]))
    turns = [turn.name for turn in puzzle.settled(read)[0] if not turn.whole]
    end = puzzle.follow(read, start)
    if not looks_solved(puzzle, puzzle.appearance(end)):
        return Note(f"Not yet. After your turns the pieces in {_slots(puzzle, _out_of_place(puzzle, end))} do not belong there.")
    left = [_distance(puzzle, puzzle.follow(" ".join(turns[:made]), start)) for made in range(len(turns) + 1)]
    if len(turns) == left[0]:
        return Note(f"Yes: that is a way out, and none has fewer than {_turns(left[0])}.")
    lost = next(made for made in range(len(turns)) if left[made + 1] >= left[made])
    return Note(
        f"It is a way out, in {_turns(len(turns))}, and not yet a shortest. Your turn {lost + 1}, {turns[lost]}, leads no "
        "nearer to home."
    )


def _read(puzzle: Puzzle, answer: object, example: str) -> Sequence:
    text = written(answer, f"turns such as: {example}")
    read = puzzle.read(text)
    if len(read) > LONGEST:
        raise Hint(f"That has {len(read)} turns. Nobody would want to learn it: keep to {LONGEST} or fewer.")
    if not read.items:
        raise Hint(f"There is no turn in {quoted(text)}. Write turns such as: {example}")
    return read


def _as_commutator(puzzle: Puzzle, sequence: Sequence) -> tuple[Sequence, Sequence] | None:
    """A and B of a commutator; one that is carried elsewhere is one too, with A and B carried along."""
    item = sequence.items[0]
    if len(sequence.items) > 1:
        item = structured(puzzle, sequence).items[0]
        if not isinstance(item, Commutator | Conjugate) or len(item) != len(sequence):
            return None
    if isinstance(item, Repetition) and abs(item.times) == 1:
        return _as_commutator(puzzle, item.body)
    if isinstance(item, Commutator) and abs(item.times) == 1:
        return item.a, item.b
    if isinstance(item, Conjugate) and abs(item.times) == 1:
        inner = _as_commutator(puzzle, item.b)
        return inner and (Sequence((Conjugate(item.a, inner[0]),)), Sequence((Conjugate(item.a, inner[1]),)))
    return None


def _out_of_place(puzzle: Puzzle, state: Arrangement) -> set[int]:
    """The slots that do not show what they show when solved."""
    pairs = zip(puzzle.appearance(state).sights, puzzle.appearance(puzzle.solved).sights, strict=True)
    return {slot for slot, (seen, home) in enumerate(pairs) if seen != home}


def _distance(puzzle: Puzzle, state: Arrangement) -> int:
    return len(find_way(puzzle, puzzle.appearance(state)).turns)


def _slots(puzzle: Puzzle, numbers: set[int]) -> str:
    return listed(sorted(puzzle.slots[number] for number in numbers)) if numbers else "no slot"


def _turns(count: int) -> str:
    return "1 turn" if count == 1 else f"{number_word(count)} turns"
