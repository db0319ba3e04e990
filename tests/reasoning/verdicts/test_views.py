"""Views of a solid: what they show, what they tell apart, and that the ones asked for decide."""

from __future__ import annotations

from random import Random

import pytest

from oddswap.describing.sights import every_look, own_look
from oddswap.describing.stickers import paints_of, seen_stickers, stickers
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.verdicts.counting import count_explanations
from oddswap.reasoning.verdicts.explanations import drawn
from oddswap.reasoning.verdicts.views import after_view, best_views, decides, views
from oddswap.values.appearance import Appearance
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


def test_nothing_is_asked_where_there_is_no_solid():
    board = load("tiles:2x3")
    assert views(board) == () and best_views(board, nothing_seen(board), PLENTY) == ((), ())
