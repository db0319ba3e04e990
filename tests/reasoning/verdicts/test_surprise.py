"""The surprise, against listing looks on small puzzles (`by_definition`), the numbers of lessons 07 and 08, and known cases."""

from collections import Counter
from dataclasses import replace
from fractions import Fraction
from itertools import combinations, permutations, product
from pathlib import Path

import numpy as np
import pytest

from oddswap.describing.changes import changed
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.laws.as_seen import free_pieces
from oddswap.reasoning.laws.characters import count_values, laws_of
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.lookalikes import first_sight
from oddswap.reasoning.laws.sectors import sectors
from oddswap.reasoning.verdicts import surprise as surprises
from oddswap.reasoning.verdicts.diagnosis import diagnose
from oddswap.reasoning.verdicts.first_looks import broken_laws
from oddswap.reasoning.verdicts.surprise import NO_LAW, TOO_MANY, surprise_of
from oddswap.values.permutation import sign
from oddswap.values.position import Appearance
from tests.common.walking import depths
from tests.reasoning.abelian import span
from tests.reasoning.by_definition import ByDefinition
from tests.reasoning.handmade import any_assembly, any_move, handmade, kinds_of
from tests.reasoning.random_puzzles import random_puzzles, some_looks


def surprise(puzzle, appearance):
    book = law_book(puzzle)
    first, displaced = first_sight(puzzle, appearance)
    permutation = puzzle.permutation(first)
    broken = broken_laws(book, permutation, free_pieces(puzzle, displaced))
    return surprise_of(book, permutation, displaced, broken, Budget().start()), broken


def test_small_puzzles_agree_with_listing_every_look(cases):
    shares, additive = Counter(), Counter()
    for puzzle, rng in random_puzzles(cases):
        judge, book = ByDefinition(puzzle), law_book(puzzle)
        for looks in some_looks(judge, rng, 40):
            if judge.verdict(looks) == "lookalike":
                found, broken = surprise(puzzle, Appearance(puzzle.name, tuple(frozenset((look,)) for look in looks)))
                if found.share is None:
                    assert found.uncounted == NO_LAW and not book.additive
                else:
                    assert found.share == judge.surprise(looks, broken)
                shares[found.share] += 1
                additive[book.additive] += 1
    assert shares[Fraction(1, 2)] > 4 * shares[None] and len(additive) == 2


@pytest.mark.parametrize(
    "name, changes, share",
    [
        ("shape-mod:prism8", ["flip UF"], Fraction(1, 2)),
        ("shape-mod:prism8", ["swap UF UR", "swap UFR UFL", "flip DF"], Fraction(1, 2)),
        ("shape-mod:prism8,paint=FR+FL+BR+BL", ["swap UF UR"], Fraction(1, 2)),
        ("shape-mod:prism8,paint=FR+FL+BR+BL", ["swap UF UR", "flip UF"], Fraction(1, 4)),
        ("shape-mod:cube,axis=U,degrees=45", ["turn F cw"], Fraction(1, 2)),
        ("cube:4", ["swap UFR UFL"], Fraction(1, 2)),
    ],
)
def test_one_time_in_two_and_one_in_four(name, changes, share):
    """Lessons 07 and 08 prove the first and the third by partners; both at once come half as often, for they are independent."""
    puzzle = load(name)
    assert surprise(puzzle, puzzle.appearance(changed(puzzle, changes)))[0].share == share


def test_the_numbers_of_lesson_05_come_out():
    """The lesson lists upper and middle edges: of 128 flips that are reached 64 are odd above, and of 288 orders 144."""
    upper, middle = ["UF", "UB", "UL", "UR"], ["FL", "FR", "BL", "BR"]
    prism, painted = load("shape-mod:prism8"), load("shape-mod:prism8,paint=FR+FL+BR+BL")
    subsets = [[way for count in range(5) for way in combinations(edges, count)] for edges in (upper, middle)]
    flips = [len(up) % 2 for up, mid in product(*subsets) if law_book(prism).reaches(flipped(prism, up + mid))]
    orders = [
        sign([upper.index(edge) for edge in up]) < 0
        for up, mid in product(permutations(upper), permutations(middle))
        if law_book(painted).reaches(seated(painted, upper + middle, up + mid))
    ]
    assert (len(flips), sum(flips), len(orders), sum(orders)) == (128, 64, 288, 144)
    for up in subsets[0]:
        if len(up) % 2:
            assert surprise(prism, prism.appearance(flipped(prism, up)))[0].share == Fraction(sum(flips), len(flips))
    swapped = painted.appearance(changed(painted, ["swap UF UR"]))
    assert surprise(painted, swapped)[0].share == Fraction(sum(orders), len(orders))


def flipped(puzzle, edges):
    return changed(puzzle, [f"flip {edge}" for edge in edges])


def seated(puzzle, slots, pieces):
    moved = dict(zip(map(puzzle.slot, slots), map(puzzle.slot, pieces), strict=True))
    return replace(puzzle.solved, pieces=tuple(moved.get(slot, slot) for slot in puzzle.solved.pieces))


@pytest.mark.parametrize("name, most", [("cube:3,turns=half", 2000), ("corner-cube", 10)])
def test_no_share_is_given_where_too_many_looks_would_have_to_be_told_apart(name, most, monkeypatch):
    """With half turns alone looks are listed one by one; on the other puzzle they are told apart by classes, which are few."""
    book = law_book(load(name))
    monkeypatch.setattr(surprises, "MOST", most)
    everything = frozenset(range(len(book.puzzle.slots)))
    found = surprises.surprise_of(book, np.arange(book.puzzle.degree), everything, book.laws[:1], Budget().start())
    assert found == surprises.Surprise(None, TOO_MANY)


def test_values_of_laws_are_those_of_every_product():
    rng = np.random.default_rng(5)
    for shapes in ([(5, 4), (6, 2)], [(5, 6), (5, 1)], [(5, 2), (6, 1), (5, 9)]) * 4:
        kinds = kinds_of(shapes)
        puzzle = handmade(shapes, [any_move(kinds, rng)])
        laws = laws_of(sectors(puzzle, [any_assembly(kinds, rng) for _ in range(40)]), [any_move(kinds, rng)], [])
        steps = [any_assembly(kinds, rng) for _ in range(rng.integers(1, 4))]
        chosen = rng.random(len(laws)) < 0.5
        own, kept = ([law for law, take in zip(laws, chosen, strict=True) if take == want] for want in (True, False))
        every = span([[law.value(step) for law in (*own, *kept)] for step in steps], [law.modulus for law in (*own, *kept)])
        expected = {tuple(row[: len(own)]) for row in every.tolist() if not any(row[len(own) :])}
        assert count_values(tuple(own), tuple(kept), steps) == len(expected)


SQUARE_WITH_A_TAIL = """
[graph]
edges = "a-b b-c c-d d-e e-f f-c"
blank = "d"
looks = { c = "red", f = "red" }
"""


@pytest.mark.parametrize("name", ["tiles:2x3,letters=teeth", "tiles:2x3,letters=apart", "custom:tail.toml"])
def test_blanks_agree_with_a_walk_over_all_that_they_reach(name, tmp_path, monkeypatch):
    """Twins that look unmoved are to blame; of the looks that agree with solved elsewhere those in the other class count.

    On the tail pieces keep their order, so that the blank cannot just have changed places with a piece there.
    """
    monkeypatch.chdir(tmp_path)
    Path("tail.toml").write_text(SQUARE_WITH_A_TAIL)
    puzzle = load(name)
    book = law_book(puzzle)
    reached = {puzzle.appearance(replace(puzzle.solved, pieces=tuple(row))) for level in depths(puzzle) for row in level.tolist()}
    shares = set()
    for pieces in permutations(range(len(puzzle.slots))):
        look = puzzle.appearance(replace(puzzle.solved, pieces=pieces))
        found = diagnose(puzzle, look)
        if found.verdict == "lookalike" and found.broken:
            (law,) = found.broken
            wrong = {slot for slot, pair in enumerate(zip(look.sights, solved(puzzle).sights, strict=True)) if len(set(pair)) > 1}
            near = [other for other in reached if agree(other, solved(puzzle), wrong)]
            alike = [other for other in near if book.broken(first_sight(puzzle, other)[0]) == (law,)]
            shares.add(surprise(puzzle, look)[0].share == Fraction(len(alike), len(near)))
    assert shares == {True}


def solved(puzzle):
    return puzzle.appearance(puzzle.solved)


def agree(one, other, but):
    return all(slot in but or a == b for slot, (a, b) in enumerate(zip(one.sights, other.sights, strict=True)))
