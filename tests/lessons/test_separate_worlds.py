"""The worlds of a cube: as many as is published, told apart by the laws, each named by changes that lead there.

Arrows on a dial: they stand for the twists, each begins where the last ended, and they close when SymPy's sum vanishes.

Exercises about worlds: every right answer is accepted, a hint names the law, nonsense is answered kindly.
"""

from dataclasses import replace
from itertools import combinations, product

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from sympy import Mod

from oddswap.describing.changes import changed
from oddswap.errors import BadOption
from oddswap.lessons.separate_worlds import (
    check_made_up,
    check_repair,
    dial_arrows,
    draw_full_turn,
    draw_worlds,
    summed_up,
    values_seen,
    worlds,
)
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
    figure = draw_full_turn(CUBE, [changed(CUBE, ["twist UFR cw", "twist UBL ccw"]), changed(CUBE, ["twist DFR cw"])])
    texts = [text.get_text() for text in figure.axes[0].texts]
    assert texts == ["UFR", "UBL", "closed", "back at the start", "DFR", "open", "one third left over"]


@pytest.mark.parametrize("count", range(1, 9))
def test_everything_stays_on_the_sheet(count):
    figure = draw_full_turn(CUBE, [changed(CUBE, [f"twist {slot} cw" for slot in CORNERS.slots[:count]])])
    figure.canvas.draw()
    ax = figure.axes[0]
    points = np.concatenate([path.vertices for c in ax.collections for path in c.get_paths()])
    assert (points > 0).all() and (points < (ax.get_xlim()[1], ax.get_ylim()[1])).all()
    paper, backdrop = (ax.patches[i].get_window_extent() for i in (0, 1))
    for text in ax.texts:
        box = text.get_window_extent()
        assert paper.contains(box.x0, box.y0) and paper.contains(box.x1, box.y1) and box.y1 < backdrop.y0


GIVEN = ["flip UF", "twist UFR cw"]
BROKEN = ["swap UF UR", "twist UFL cw", "flip DB"]


def right(note) -> bool:
    return note.text.startswith("Yes")


def test_any_other_edge_with_any_other_corner_makes_up_for_one_of_each():
    """Common practice: a flip needs a second one, a twist needs its opposite."""
    for edge, corner, way in product(EDGES.slots[2:5], CORNERS.slots, ("cw", "ccw")):
        told = check_made_up(f"flip {edge}, twist {corner} {way}", GIVEN)
        assert right(told) == (way == "ccw" and corner != "UFR"), told
    assert right(check_made_up("flip DB, twist UFL cw, twist DFR cw", GIVEN)), "three thirds are a whole turn"


@pytest.mark.parametrize(
    ("changes", "hint"),
    [
        ("flip DB", "twists of the corners"),
        ("twist DBL ccw", "number of flipped edges"),
        ("flip DB, twist DBL ccw, swap UB UL", "both evenly or both oddly"),
        ("flip UF, twist UFR ccw", "Leave UFR and UF alone"),
        ("flip DB, flip DB", "undo each other"),
    ],
)
def test_hints_on_making_up(changes, hint):
    assert hint in check_made_up(changes, GIVEN).text


def test_a_repair_with_the_fewest_pieces_is_right_and_others_are_told_the_number():
    assert right(check_repair("swap UF UR, flip UR, twist UFL ccw", BROKEN))
    assert right(check_repair("swap UFR UFL, twist UFR ccw, flip DR", BROKEN))
    assert "4 pieces in hand, and 3 would do" in check_repair("swap UF UR, flip DB, twist UFL ccw", BROKEN).text
    assert "twists of the corners" in check_repair("swap UF UR, flip UR", BROKEN).text


def test_no_repair_of_two_pieces_would_do():
    """Two edges leave the twists broken, two corners the flips, one of each the signs: some of every sort are tried."""
    edges, corners = EDGES.slots[:4], CORNERS.slots
    twos = [f"flip {e}, twist {c} {w}" for e in edges for c in corners[:3] for w in ("cw", "ccw")]
    twos += [f"swap {a} {b}" for pieces in (edges, corners) for a, b in combinations(pieces, 2)]
    assert not any(right(check_repair(two, BROKEN)) for two in twos)


CHECKS = [lambda answer: check_made_up(answer, GIVEN), lambda answer: check_repair(answer, BROKEN)]


@pytest.mark.parametrize("check", CHECKS)
def test_an_empty_answer_is_neutral(check):
    assert check(" , ").text.startswith("Nothing written yet")


@pytest.mark.parametrize("check", CHECKS)
@given(st.one_of(st.none(), st.integers(), st.text("flipswatUFRDBLcyx ,", max_size=24), st.text(max_size=12)))
def test_nonsense_gets_a_kind_sentence(check, answer):
    told = check(answer).text
    assert told and "\n" not in told and not told.startswith("Yes")


def test_where_nothing_can_be_twisted_there_are_no_worlds():
    with pytest.raises(BadOption, match="tiles:3x3 has no corners to twist"):
        worlds(load("tiles:3x3"))
