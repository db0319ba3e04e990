"""The worlds of a cube: as many as is published, told apart by the laws, each named by changes that lead there."""

from itertools import combinations

import numpy as np
import pytest

from oddswap.describing.changes import changed
from oddswap.lessons.pictures.worlds import draw_worlds, values_seen, worlds
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.verdicts.diagnosis import diagnose

PUBLISHED = {"cube:3": 12, "cube:2": 3}
"""12: GAP's worked example (M. Schoenert, 1993). 3: 8! * 3^8 over 24 * 3674160 (OEIS A075152)."""


@pytest.mark.parametrize("name", PUBLISHED)
def test_there_are_as_many_as_is_published(name):
    puzzle = load(name)
    found = worlds(puzzle)
    assert len(found) == PUBLISHED[name] == law_book(puzzle).seen_index
    for values, changes in found.items():
        assert values == values_seen(puzzle, changed(puzzle, changes))
        verdict = diagnose(puzzle, puzzle.appearance(changed(puzzle, changes))).verdict
        assert verdict == ("not by turning" if changes else "ordinary")


@pytest.mark.parametrize("name", PUBLISHED)
def test_turning_leads_from_none_to_another(name):
    """By membership in the group of turns, not by the laws' values: undo one, then do the other."""
    puzzle = load(name)
    states = [puzzle.permutation(changed(puzzle, changes)) for changes in worlds(puzzle).values()]
    chain = law_book(puzzle).chain
    unseen = [[], ["turn U cw"]] if name == "cube:3" else [[]]
    for one, other in combinations(states, 2):
        for changes in unseen:
            assert not chain.contains(other[np.argsort(one)][puzzle.permutation(changed(puzzle, changes))])


def test_a_turn_stays_in_its_world():
    puzzle = load("cube:3")
    rng = np.random.default_rng(4)
    for values, changes in worlds(puzzle).items():
        moves = " ".join(rng.choice(list(puzzle.turns), size=12))
        assert values_seen(puzzle, puzzle.follow(moves, changed(puzzle, changes))) == values


@pytest.mark.parametrize("name", PUBLISHED)
def test_each_card_says_how_to_come_there_and_words_stay_on_it(name):
    puzzle = load(name)
    figure = draw_worlds(puzzle)
    figure.canvas.draw()
    ax = figure.axes[0]
    texts = [text.get_text() for text in ax.texts]
    assert texts[::2] == [str(i + 1) for i in range(PUBLISHED[name])]
    assert texts[1::2] == ["\n".join(changes) or "solved" for changes in worlds(puzzle).values()]
    papers = [patch.get_window_extent() for patch in ax.patches[::2]]
    for text, paper in zip(ax.texts[1::2], papers, strict=True):
        box = text.get_window_extent()
        assert paper.contains(box.x0, box.y0) and paper.contains(box.x1, box.y1)
