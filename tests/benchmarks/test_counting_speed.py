"""How long counting takes: a puzzle half seen (a hand waits for it: 50 ms) and one not seen at all (half a second)."""

import pytest

from oddswap.describing.sights import every_look
from oddswap.describing.stickers import paints_of, seen_stickers, stickers
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.verdicts.counting import count_explanations
from oddswap.reasoning.verdicts.views import best_views
from oddswap.values.position import Appearance
from tests.common.clocks import PLENTY


def half_seen(name: str) -> Appearance:
    """What one photograph of U, F and R shows after some turns."""
    puzzle = load(name)
    paints = paints_of(puzzle, puzzle.follow("R U F2 L' D"))
    return seen_stickers(
        puzzle,
        tuple(
            frozenset((paint,)) if face in "UFR" else frozenset()
            for (_, face), paint in zip(stickers(puzzle).places, paints, strict=True)
        ),
    )


def unseen(name: str) -> Appearance:
    puzzle = load(name)
    return Appearance(name, tuple(every_look(puzzle, b) for b in range(len(puzzle.slots))))


@pytest.mark.parametrize("name", ["cube:3", "cube:2", "cube:4"])
@pytest.mark.parametrize("seen", [half_seen, unseen])
def test_counting(benchmark, name, seen):
    puzzle, appearance = load(name), seen(name)
    law_book(puzzle)
    assert benchmark(count_explanations, puzzle, appearance).appearances_reached


def test_the_views_to_ask_for(benchmark):
    assert benchmark(best_views, load("cube:3"), unseen("cube:3"), PLENTY)
