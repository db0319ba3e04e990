"""Atoms of change: what they do to names, what they add to the laws, and how they are told."""

import numpy as np
import pytest

from oddswap.describing.changes import changed
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.lookalikes import lookalikes
from oddswap.reasoning.verdicts.exchanges import hand_atoms, hidden_atoms, hidden_changes, relabelled
from oddswap.words import say
from oddswap.words.culprits import turn_words
from tests.reasoning.judge import Judge

NAMES = ["cube:2", "cube:3", "shape-mod:prism8", "shape-mod:prism8,paint=FR+FL+BR+BL", "shape-mod:cube,axis=U,degrees=45"]


@pytest.mark.parametrize("name", NAMES)
def test_hidden_atoms_are_all_relabellings_of_one_or_two_pieces_that_nobody_sees(name):
    """Against the table of shapes (`reference/shapes.json`), without those of two pieces that are two of one."""
    puzzle = load(name)
    alike, laws = lookalikes(puzzle), law_book(puzzle).laws
    atoms = hidden_atoms(alike, laws)
    small = Judge.of(puzzle).small_relabellings(frozenset(range(len(puzzle.slots))), 2)
    expected = {frozenset((p, *image) for p, image in images.items()) for images in small if images}
    single = {images for images in expected if len(images) == 1}
    pairs = {images for images in expected if len(images) == 2 and all(p != q for p, q, _ in images)}
    assert {frozenset(atom.images) for atom in atoms} == single | pairs and len(atoms) == len(single | pairs)


@pytest.mark.parametrize("name", NAMES)
def test_atoms_add_to_every_law_what_they_say(name):
    puzzle, rng = load(name), np.random.default_rng(1)
    alike, book = lookalikes(puzzle), law_book(puzzle)
    start = puzzle.permutation(puzzle.follow("R U2 F' L"))
    atoms = hidden_atoms(alike, book.laws) + hand_atoms(puzzle, book.laws)
    for i in rng.choice(len(atoms), size=60):
        after = start[relabelled(alike, [atoms[i]])]
        assert tuple(law.value(after) for law in book.laws) == atoms[i].values
        assert {p for p, _, _ in atoms[i].images} == set(atoms[i].pieces)


@pytest.mark.parametrize("name", ["cube:2", "cube:3"])
def test_hand_atoms_are_turns_of_one_piece_and_exchanges_of_two(name):
    puzzle = load(name)
    atoms = hand_atoms(puzzle, (), first=[3])
    single = {atom.images for atom in atoms if len(atom.pieces) == 1}
    assert single == {((p, p, e),) for p, kind in enumerate(puzzle.kind_of) for e in range(1, kind.twist)}
    pairs = [atom for atom in atoms if len(atom.pieces) == 2]
    counts = [len(kind.slots) * (len(kind.slots) - 1) // 2 * kind.twist for kind in puzzle.kinds]
    assert len({frozenset(atom.images) for atom in pairs}) == len(pairs) == sum(counts)
    assert all(puzzle.kind_of[atom.pieces[0]] is puzzle.kind_of[atom.pieces[1]] for atom in pairs)
    assert 3 in atoms[0].pieces and all(3 in atom.pieces for atom in pairs[: 7 * 3])


@pytest.mark.parametrize(
    "changes", [["flip UF"], ["twist UFR cw"], ["twist UFR ccw"], ["swap UF UR"], ["swap UFR DBL"], ["turn F half"]]
)
def test_an_atom_on_solved_does_what_the_change_of_that_name_does(changes):
    puzzle = load("cube:3")
    alike = lookalikes(puzzle)
    wanted = changed(puzzle, changes)
    made = [puzzle.arrangement(relabelled(alike, [atom])) for atom in hand_atoms(puzzle, ())]
    assert made.count(wanted) == 1


def test_atoms_on_different_pieces_go_together():
    puzzle = load("cube:3")
    alike, atoms = lookalikes(puzzle), hand_atoms(puzzle, ())
    flip = next(a for a in atoms if a.pieces == (puzzle.slot("UF"),))
    swap = next(a for a in atoms if set(a.pieces) == {puzzle.slot("UFR"), puzzle.slot("UFL")})
    both = puzzle.arrangement(relabelled(alike, [flip, swap]))
    assert both == changed(puzzle, ["flip UF", "swap UFL UFR"])


@pytest.mark.parametrize(
    "steps, order, words",
    [
        (1, 2, "the other way round"),
        (1, 3, "twisted clockwise"),
        (-1, 3, "twisted anticlockwise"),
        (1, 4, "turned clockwise"),
        (2, 4, "half turned"),
        (3, 4, "turned anticlockwise"),
        (5, 4, "turned clockwise"),
        (2, 5, "turned by 2 of 5 clockwise"),
        (3, 5, "turned by 2 of 5 anticlockwise"),
    ],
)
def test_turns_in_words(steps, order, words):
    assert turn_words(steps, order) == words


def said(puzzle, ways):
    return "; ".join(map(say, hidden_changes(puzzle, ways)))


def test_hidden_changes_in_words():
    puzzle = load("shape-mod:prism8,paint=FR+FL+BR+BL")
    atoms = {atom.images: atom for atom in hidden_atoms(lookalikes(puzzle), ())}
    u, fl, fr = map(puzzle.slot, ("U", "FL", "FR"))
    quarter = [(atoms[(u, u, e),],) for e in (1, 3)]
    assert said(puzzle, quarter) == "the U centre is turned clockwise or turned anticlockwise, which does not show"
    swap = next(a for a in atoms.values() if a.pieces == (fl, fr))
    words = said(puzzle, [(swap, atoms[(u, u, 2),])])
    assert words == (
        "the FL edge and the FR edge have changed places, and they look the same; "
        "the U centre is half turned, which does not show"
    )
