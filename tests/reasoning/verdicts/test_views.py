"""Views of a solid: what they show, what they tell apart, and that the ones asked for decide."""

from __future__ import annotations

from itertools import permutations, product
from math import log
from random import Random

import numpy as np
import pytest
from sympy.combinatorics import Permutation, PermutationGroup

from oddswap.describing.sights import covered, every_look, own_look
from oddswap.describing.stickers import paints_of, seen_stickers, stickers
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.verdicts.counting import count_explanations
from oddswap.reasoning.verdicts.explanations import drawn
from oddswap.reasoning.verdicts.views import EVERY, after_view, best_views, decides, views
from oddswap.values.position import Appearance
from tests.common.clocks import PLENTY


def nothing_seen(puzzle) -> Appearance:
    return Appearance(puzzle.name, tuple(every_look(puzzle, b) for b in range(len(puzzle.slots))))


@pytest.mark.parametrize("name", ["cube:2", "cube:3", "cuboid:2x3x4", "cube:4"])
def test_a_photograph_tells_what_its_stickers_tell(name):
    """The shapes and paints turned towards the eye against the table of stickers, read colour by colour."""
    puzzle, rng = load(name), Random(name)
    arrangement = puzzle.follow(" ".join(rng.choices(list(puzzle.turns), k=12)))
    paints = paints_of(puzzle, arrangement)
    for view in views(puzzle):
        told = tuple(
            frozenset((paint,)) if face in view.facets else frozenset()
            for (_, face), paint in zip(stickers(puzzle).places, paints, strict=True)
        )
        found = after_view(puzzle, view, nothing_seen(puzzle), puzzle.appearance(arrangement))
        assert found.sights == seen_stickers(puzzle, told).sights


@pytest.mark.parametrize("name", ["cube:3", "shape-mod:prism8", "corner-cube", "tetrahedron", "dodecahedron"])
def test_every_facet_is_in_some_view_and_all_views_together_show_all(name):
    puzzle = load(name)
    assert {facet for view in views(puzzle) for facet in view.facets} == set(puzzle.geometry.facets)
    whole = puzzle.appearance(puzzle.follow(" ".join(list(puzzle.turns)[:3])))
    known = nothing_seen(puzzle)
    for view in views(puzzle):
        narrower = after_view(puzzle, view, known, whole)
        assert all(new <= old for new, old in zip(narrower.sights, known.sights, strict=True))
        known = narrower
    assert known.sights == whole.sights


@pytest.mark.parametrize("name", ["cube:3", "shape-mod:prism8", "corner-cube"])
def test_the_views_asked_for_settle_a_top_layer(name):
    """The top layer is unseen. One photograph can leave two edges that show only their tops: then a second one is asked for."""
    puzzle, rng = load(name), Random(5)
    sights = [(every_look if "U" in slot else own_look)(puzzle, b) for b, slot in enumerate(puzzle.slots)]
    seen = Appearance(name, tuple(sights))
    asked, _ = best_views(puzzle, seen, PLENTY)
    assert 1 <= len(asked) <= 2
    for _ in range(3):
        whole, known = drawn(puzzle, seen, rng), seen
        for view in views(puzzle):
            if view in asked:
                known = after_view(puzzle, view, known, whole)
        assert decides(count_explanations(puzzle, known))


def put_in(puzzle, slots) -> list[np.ndarray]:
    """Every way to put the pieces of these slots back into them, as label permutations; all other pieces are at home."""
    rows = [np.arange(puzzle.degree)]
    for kind in puzzle.kinds:
        bases = [puzzle.base_label[puzzle.slot(slot)] for slot in slots if slot in kind.slots]
        way, ways = np.arange(kind.twist), []
        for row, order, twists in product(rows, permutations(bases), product(range(kind.twist), repeat=len(bases))):
            image = row.copy()
            for home, place, twist in zip(bases, order, twists, strict=True):
                image[home + way] = place + (way + twist) % kind.twist
            ways.append(image)
        rows = ways
    return rows


@pytest.mark.parametrize(
    ("name", "slots"),
    [
        ("cube:3", ["UF", "UR"]),
        ("cube:3", ["UF", "DB"]),
        ("cube:3", ["FR", "DBL"]),
        ("cuboid:2x2x3,turns=half", ["UFR", "UFL", "DBL"]),
    ],
)
def test_the_first_view_asked_for_decides_most_and_then_leaves_the_fewest_looks(name, slots):
    """Every whole that can be is photographed from everywhere, sticker by sticker; SymPy says which of them turning reaches."""
    puzzle, wholes = load(name), {}
    group = PermutationGroup([Permutation(turn.tolist()) for turn in puzzle.generators])
    for image in put_in(puzzle, slots):
        wholes[tuple(paints_of(puzzle, puzzle.arrangement(image)))] = group.contains(Permutation(image.tolist()))
    assert 1 < len(wholes) <= EVERY and set(wholes.values()) == {True, False}

    def worth(view):
        shown = [number for number, (_, face) in enumerate(stickers(puzzle).places) if face in view.facets]
        photographs = [tuple(paints[number] for number in shown) for paints in wholes]
        alike = [[own for taken, own in zip(photographs, wholes.values(), strict=True) if taken == one] for one in photographs]
        decided = sum(len(reached) == 1 or len(set(reached)) == 1 for reached in alike)
        return -decided, round(sum(log(len(reached)) for reached in alike) / len(alike), 6)

    worths = {view.facets: worth(view) for view in views(puzzle)}
    assert len(set(worths.values())) > 1
    (first, *_), sampled = best_views(puzzle, covered(puzzle, slots), PLENTY)
    assert worths[first.facets] == min(worths.values()) and not sampled


def test_nothing_is_asked_where_there_is_no_solid():
    board = load("tiles:2x3")
    assert views(board) == () and best_views(board, nothing_seen(board), PLENTY) == ((), ())
