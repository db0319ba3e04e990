"""Arrows on a dial: they stand for the twists, each begins where the last ended, and they close when SymPy's sum vanishes."""

from dataclasses import replace
from itertools import product

import numpy as np
import pytest
from sympy import Mod

from oddswap.describing.changes import changed
from oddswap.lessons.pictures.full_turn import dial_arrows, full_turn, summed_up
from oddswap.puzzles.catalogue import load

CUBE = load("cube:3")
CORNERS, EDGES = CUBE.kinds[:2]
FIRST = CORNERS.slots[:4]


def twisted(twists):
    return replace(CUBE.solved, twists=(*twists, *CUBE.solved.twists[len(twists) :]))


@pytest.mark.parametrize("twists", list(product(range(3), repeat=4)))
def test_arrows_follow_one_another_and_close_exactly_when_the_twists_vanish_mod_3(twists):
    arrows = dial_arrows(CUBE, twisted(twists), CORNERS)
    mark = 0
    for arrow in arrows:
        assert arrow.start == mark and abs(arrow.step) == 1
        mark += arrow.step
    assert (summed_up(arrows, 3)[0] == "closed") == (Mod(sum(twists), 3) == 0)
    assert [arrow.slot for arrow in arrows] == [slot for slot, t in zip(FIRST, twists, strict=True) if t]
    assert [arrow.step for arrow in arrows] == [1 if t == 1 else -1 for t in twists if t]


@pytest.mark.parametrize("twists", list(product(range(3), repeat=4)))
def test_no_two_arrows_lie_on_each_other(twists):
    arrows = dial_arrows(CUBE, twisted(twists), CORNERS)
    places = [(min(a.start, a.start + a.step) % 3, a.lap) for a in arrows]
    assert len(set(places)) == len(places)


@pytest.mark.parametrize("turn", list(CUBE.turns))
def test_after_any_turn_the_arrows_close(turn):
    """Common practice: turning never leaves a twist or a flip over."""
    for kind in (CORNERS, EDGES):
        assert summed_up(dial_arrows(CUBE, CUBE.follow(turn), kind), kind.twist)[0] == "closed"


def test_words():
    def words(*changes, kind=CORNERS):
        return summed_up(dial_arrows(CUBE, changed(CUBE, changes), kind), kind.twist)

    assert words() == ("closed", "back at the start")
    assert words("twist UFR cw") == ("open", "one third left over")
    assert words("twist UFR ccw") == ("open", "two thirds left over")
    assert words("twist UFR cw", "twist UFL ccw") == ("closed", "back at the start")
    assert words(*[f"twist {slot} cw" for slot in FIRST[:3]]) == ("closed", "a whole turn")
    assert words(*[f"twist {slot} ccw" for slot in CORNERS.slots[:6]]) == ("closed", "2 whole turns")
    assert words("flip UF", kind=EDGES) == ("open", "one half left over")
    assert words("flip UF", "flip DB", kind=EDGES) == ("closed", "a whole turn")


def test_a_card_bears_the_names_and_the_words():
    figure = full_turn(CUBE, [changed(CUBE, ["twist UFR cw", "twist UBL ccw"]), changed(CUBE, ["twist DFR cw"])])
    texts = [text.get_text() for text in figure.axes[0].texts]
    assert texts == ["UFR", "UBL", "closed", "back at the start", "DFR", "open", "one third left over"]


@pytest.mark.parametrize("count", range(1, 9))
def test_everything_stays_on_the_sheet(count):
    figure = full_turn(CUBE, [changed(CUBE, [f"twist {slot} cw" for slot in CORNERS.slots[:count]])])
    figure.canvas.draw()
    ax = figure.axes[0]
    points = np.concatenate([path.vertices for c in ax.collections for path in c.get_paths()])
    assert (points > 0).all() and (points < (ax.get_xlim()[1], ax.get_ylim()[1])).all()
    paper, backdrop = (ax.patches[i].get_window_extent() for i in (0, 1))
    for text in ax.texts:
        box = text.get_window_extent()
        assert paper.contains(box.x0, box.y0) and paper.contains(box.x1, box.y1) and box.y1 < backdrop.y0
