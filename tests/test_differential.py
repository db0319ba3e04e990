"""Order and membership of random permutation groups made into puzzles, against GAP and SymPy.

Each has up to four kinds of pieces with up to five ways round, at most 40 labels, and one to three moves; some are written to
files in cycle notation and read back.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import pytest
from sympy.combinatorics import Permutation, PermutationGroup

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.law_book import LawBook, law_book
from tests.common import gap
from tests.reasoning.handmade import any_assembly, any_move, handmade, kinds_of

COUNT, FILES = 330, 60
LABELS = 40


@dataclass(frozen=True, eq=False)
class Case:
    """A puzzle of these moves, and elements that may be in its group: products of moves, and such as were tampered with."""

    puzzle: Puzzle
    moves: list[np.ndarray]
    elements: list[np.ndarray]

    @cached_property
    def book(self) -> LawBook:
        return law_book(self.puzzle)

    @cached_property
    def reached(self) -> list[bool]:
        return [self.book.reaches(self.puzzle.arrangement(element)) for element in self.elements]


def shapes_of(rng):
    shapes, left = [], LABELS
    while not shapes or rng.random() < 0.6 and len(shapes) < 4:
        twist = int(rng.choice([1, 1, 1, 2, 3, 4, 5]))
        slots = int(rng.integers(1, 13))
        if slots * twist <= left and slots * twist > 1:
            shapes.append((slots, twist))
            left -= slots * twist
    return shapes


def made(seed, folder):
    rng = np.random.default_rng(seed)
    shapes = shapes_of(rng)
    kinds = kinds_of(shapes)
    moves = [any_move(kinds, rng) for _ in range(rng.integers(1, 4))]
    puzzle = from_file(folder / f"random{seed}.toml", kinds, moves) if seed < FILES else handmade(shapes, moves)
    elements = []
    for i in range(8):
        element = np.arange(puzzle.degree)
        for move in rng.integers(len(moves), size=12):
            element = moves[move][element]
        if i % 4 == 2:
            element = any_move(kinds, rng)[element]
        elements.append(any_assembly(kinds, rng) if i % 4 == 3 else element)
    return Case(puzzle, moves, elements)


def from_file(path, kinds, moves):
    lines = ["[moves]", *(f'm{i} = "{in_cycles(kinds, move)}"' for i, move in enumerate(moves))]
    for kind in kinds:
        lines += ["[[kind]]", f'name = "{kind.name}"', f'slots = "{" ".join(kind.slots)}"', f"twist = {kind.twist}"]
    path.write_text("\n".join(lines), "utf-8")
    return load(f"custom:{path}")


def in_cycles(kinds, move):
    """A cycle for each set of slots that a move takes round, from the first one's way 0 until that comes again."""
    names = [f"{slot}+{way}" if way else slot for kind in kinds for slot in kind.slots for way in range(kind.twist)]
    slot_of = [slot for kind in kinds for slot in kind.slots for _ in range(kind.twist)]
    text, done = "", set()
    for label, slot in enumerate(slot_of):
        cycle, at = [label], int(move[label])
        while slot not in done and at != label:
            cycle.append(at)
            at = int(move[at])
        done |= {slot_of[i] for i in cycle} if slot not in done else set()
        text += f"({' '.join(names[i] for i in cycle)})" if len(cycle) > 1 else ""
    return text


@pytest.fixture(scope="module")
def every(tmp_path_factory):
    folder = tmp_path_factory.mktemp("random")
    return [made(seed, folder) for seed in range(COUNT)]


def test_the_groups_are_of_all_sorts(every):
    books = [case.book for case in every]
    assert {law.type for book in books for law in book.laws} >= {"sign", "twist", "mixed", "orbit"}
    assert all(book.complete for book in books)
    assert max(case.puzzle.degree for case in every) == LABELS and max(book.order for book in books) > 10**12
    answers = [reached for case in every for reached in case.reached]
    assert 0.3 < np.mean(answers) < 0.9


def test_what_is_read_from_a_file_moves_as_it_was_written(every):
    for case in every[:FILES]:
        once = [turn.permutation for turn in case.puzzle.turns.values() if turn.step.amount == 1]
        assert len(once) == len(case.moves)
        assert all((a == b).all() for a, b in zip(once, case.moves, strict=True))


@gap.needs_gap
def test_orders_and_members_agree_with_gap(every):
    lines, expected = [], []
    for case in every:
        elements = gap.permutations(case.elements)
        lines.append(f'g := {gap.group(case.moves)};; Print(Size(g), List({elements}, p -> p in g), "\\n");')
        answers = ", ".join("true" if reached else "false" for reached in case.reached)
        expected.append(f"{case.book.order}[ {answers} ]")
    assert gap.gap("\n".join(lines)) == expected


def test_orders_and_members_agree_with_sympy(every):
    for case in every:
        group = PermutationGroup([Permutation(move.tolist()) for move in case.moves])
        assert group.order() == case.book.order
        assert [group.contains(Permutation(element.tolist())) for element in case.elements] == case.reached
