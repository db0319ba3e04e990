"""The group of chosen turns where nothing fixes the holding, against stickers on integer cells, GAP, SymPy and walking.

What hands could do: generators of the assembly groups, whose orders SymPy tells, against n! and m to the n.
"""

from math import factorial, prod
from random import Random

import pytest
from sympy.combinatorics import Permutation, PermutationGroup

from oddswap.puzzles.catalogue import load, with_all_turns
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.lookalikes import hand_generators, kind_generators, whole_kinds
from tests.common import gap
from tests.reasoning.stickers_by_cell import Box, Perm, box_of, chosen, inverse, random_moves, then

TURNS_OF_TWO = ("R", "R2", "R+L", "R2+L2", "R+L2", "R2+U2", "R2+U2+F2", "R2+L2+U2", "R2+D2+F2+B2", "R+U2", "R+U", "U+F2")
SMALL = [
    *(f"cube:2,turns={turns}" for turns in (*TURNS_OF_TWO, "R2+L2+U2+D2+F2+B2")),
    *("cuboid:2x2x1,turns=U2", "cuboid:1x2x3,turns=F2", "cuboid:1x2x3,turns=U2+F2", "cuboid:1x2x3,turns=U2+D2"),
    *("cuboid:1x2x2,turns=U2", "cuboid:1x2x2,turns=U2+F2", "cuboid:1x1x4,turns=F2", "cuboid:1x1x4,turns=2F"),
    *(f"cuboid:2x2x3,turns={turns}" for turns in ("F", "R2+F", "R2+U2", "R2+F2", "R2+U2+F2+B2", "R2+L2+U2+D2+F2+B2", "F+B")),
    *("cuboid:2x2x4,turns=2F+R2", "cuboid:2x3x3,turns=R+U2", "cuboid:2x3x3,turns=U2+F2", "cuboid:2x3x4,turns=U2+R2"),
    *("cuboid:2x4x4,turns=2U2+F2", "cuboid:2x4x4,turns=R+U2", "cuboid:1x4x4,turns=U2+2F2"),
]
"""Copies whose turns reach at most some ten thousand appearances in one holding."""
LARGE = [
    *(f"cube:2,turns={turns}" for turns in ("R+L+U2", "R+L+U", "R+U+F", "R+U+F2", "R+L+U+D", "R+L+U2+D2")),
    *(f"cube:4,turns={turns}" for turns in ("R+U", "R2+U", "R2+U2", "R+2R", "2R+2U", "R+2U", "R2+2R2+U2", "R+2F2")),
    *("cube:4,turns=R+L+U+D+F+B", "cube:4,turns=2R+2L+2U+2D+2F+2B", "cube:4,turns=R2+L2+U2+D2+F2+B2"),
    *("cube:6,turns=R+U", "cube:6,turns=2R+3U"),
    *(f"cube:3,centres=none,turns={turns}" for turns in ("R", "R+U", "R2+U2", "R2+U", "R+L+U+D", "R+L+U2+F2", "R+U+F")),
    *("cube:3,centres=none,turns=R2+L2+U2+D2+F2+B2", "cube:3,centres=none,turns=R+L+U+D+F+B", "cuboid:2x2x3,turns=R2+L2+F"),
    *("cuboid:2x4x4,turns=R+F2+U2", "cuboid:2x4x4,turns=R+2F2+U2", "cuboid:3x3x4,turns=F+R2", "cuboid:3x3x4,turns=2F+U2+R2"),
    *("cuboid:2x4x4,turns=U2+2U2+D2+2D2+F2+2F2+B2+2B2", "cuboid:3x4x4,turns=U2+F2", "cuboid:3x4x4,turns=R+2U2"),
    "cuboid:3x3x2,turns=F+R2",
]
COPIES = [*SMALL, *LARGE]


def generators(name: str) -> list[Perm]:
    """The turns alone; with every way to hold it where each of them takes turns to turns."""
    box = box_of(name)
    return [box.turn(turn) for turn in chosen(name)] + (box.rotations if box.is_carried(chosen(name)) else [])


def test_there_are_enough_copies():
    assert len(set(COPIES)) == len(COPIES) >= 60
    kinds = {box_of(name).is_carried(chosen(name)) for name in SMALL}, {box_of(name).is_carried(chosen(name)) for name in LARGE}
    assert kinds == ({True, False}, {True, False})


@gap.needs_gap
def test_orders_and_members_agree_with_gap(cases):
    """The order of copies, every one with `--every-case`; and whether words of all turns are reached, in any way to hold it."""
    copies = COPIES if len(cases) > 100 else COPIES[::3]
    program, asked = ["held := function(G, rotations, p) return ForAny(rotations, r -> p * r^-1 in G); end;"], {}
    for name in copies:
        box, puzzle, rng = box_of(name), load(name), Random(name)
        turns, wide = [box.turn(turn) for turn in chosen(name)], list((with_all_turns(puzzle) or puzzle).turns)
        program.append(f'G := {gap.group(generators(name))};; Print(Size(G), "\n");')
        words = [*wide[::5], *(random_moves(wide, rng, length) for length in (2, 3, 5))]
        words += [f"{random_moves(chosen(name), rng, 6)} {held}" for held in ("", *(f"{a}2" for a in "xyz"))]
        words += [f"{random_moves(chosen(name), rng, 6)} {random_moves(wide, rng, 1)}" for _ in range(2)]
        program.append(f"T := {gap.group(turns)};; rotations := {gap.permutations(box.rotations)};;")
        asked[name] = words
        for word in words:
            program.append(f'Print(held(T, rotations, {gap.permutation(box.made(word))}), "\n");')
    said, truths = iter(gap.gap("\n".join(line.replace("\n", "\\n") for line in program))), set()
    for name in copies:
        puzzle, book = load(name), law_book(load(name))
        assert (name, str(book.order)) == (name, next(said))
        assert book.complete == (book.allowed == book.order)
        for word in asked[name]:
            reached = book.reaches((with_all_turns(puzzle) or puzzle).follow(word))
            assert (name, word, str(reached).lower()) == (name, word, next(said))
            truths.add(reached)
    assert truths == {True, False} and next(said, None) is None


@pytest.mark.parametrize("name", [*SMALL, "cube:2,turns=R+U+F", *(f"cube:3,centres=none,turns={t}" for t in ("R+U", "R2+U2"))])
def test_orders_agree_with_sympy(name):
    assert law_book(load(name)).order == PermutationGroup([Permutation(list(g)) for g in generators(name)]).order()


def orbits(box: Box, turns: list[str]) -> list[set[int]]:
    found: list[set[int]] = []
    for place in box.still:
        if not any(place in orbit for orbit in found):
            orbit = [place]
            for here in orbit:
                orbit += {box.turn(turn)[here] for turn in turns} - set(orbit)
            found.append(set(orbit))
    return found


@pytest.mark.parametrize("name", SMALL)
def test_appearances_agree_with_walking(name):
    """Held in one way, or in all where all have the same turns; and without those that differ only by how it is held."""
    box, book = box_of(name), law_book(load(name))
    reached = box.reached(chosen(name))
    held = {shown: {box.seen(then(image, r)) for r in box.rotations} for shown, image in reached.items()}
    every = set().union(*held.values()) if box.is_carried(chosen(name)) else set(reached)
    assert book.appearances == len(every)
    classes = {frozenset(others) for others in held.values()}
    assert book.appearances_up_to_rotation in (None, len(classes))
    assert book.appearances_up_to_rotation is not None or name.startswith("cuboid:1x1x4")


@pytest.mark.parametrize("name", SMALL)
def test_the_holdings_that_are_tried_are_those_to_which_the_turns_do_not_lead(name):
    box, book = box_of(name), law_book(load(name))
    alone = PermutationGroup([Permutation(list(box.turn(turn))) for turn in chosen(name)])
    within = [r for r in box.rotations if alone.contains(Permutation(list(r)))]
    if not box.is_carried(chosen(name)):
        assert len(book.holdings) * len(within) == len(box.rotations)
    else:
        parts = orbits(box, chosen(name))
        inside = [r for r in box.rotations if all({r[place] for place in orbit} == orbit for orbit in parts)]
        assert len(book.holdings) * len(inside) == len(box.rotations)


def test_the_copies_that_were_counted_wrongly():
    """R and U on a cube of two: PGL(2, 5) on six corners and their twists, 120 · 3⁵. Four slabs: by GAP, above."""
    assert law_book(load("cube:2,turns=R+U")).order == 120 * 3**5 == 29160
    assert law_book(load("cube:4,turns=R+U")).order == 587865600
    assert law_book(load("cube:2,turns=R+U")).complete


def test_each_rotation_of_the_cells_is_one_of_the_puzzle():
    """The model agrees with itself: R undoes L up to x, and so on (its source is only what clockwise means)."""
    box = Box((2, 2, 2))
    for face, other, whole in ("RLx", "UDy", "FBz"):
        assert then(box.turn(face), inverse(box.turn(other))) == box.turn(whole)
    assert [len(box_of(name).rotations) for name in ("cube:4", "cuboid:2x2x3", "cuboid:2x3x4", "cuboid:1x4x4")] == [24, 8, 4, 8]


NAMES = ["cube:2", "cube:3", "tetrahedron,tips=no", "cuboid:2x2x3", "cuboid:2x3x4,turns=half", "tiles:3x3", "cube:3,turns=R+U"]


def order(generators):
    return int(PermutationGroup([Permutation(g.tolist()) for g in generators]).order())


@pytest.mark.parametrize("name", NAMES)
def test_whole_kinds_are_assembled_in_as_many_ways_as_a_wreath_product_has(name):
    puzzle = load(name)
    wreath = prod(kind.twist ** (n := len([p for p in kind.places if p != puzzle.blank])) * factorial(n) for kind in puzzle.kinds)
    assert prod(s.assembly_order for s in whole_kinds(puzzle)) == wreath
    assert order(kind_generators(puzzle)) == wreath


@pytest.mark.parametrize("name", NAMES)
def test_hands_that_keep_the_sectors_make_each_of_their_wreath_products(name):
    book = law_book(load(name))
    assert order(hand_generators(book.puzzle, book.sectors)) * book.places == book.assembly_order
