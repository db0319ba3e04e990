"""One state held in several ways: signs as SymPy counts them, and the law of swaps as every text on the cube has it.

Three cubes, one alarm, three causes: true to the table of alarms, and to what is published of these cubes.

Exercises on holdings and signs accept every right answer; hints name the law, or a turn that was overlooked.
"""

import re
from itertools import combinations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from matplotlib.colors import to_hex
from sympy.combinatorics import Permutation

from oddswap.describing.changes import changed
from oddswap.lessons.free_holdings import (
    THREE_ALARMS,
    alarm_of,
    always_held,
    check_holding,
    check_signs,
    draw_holdings,
    draw_three_alarms,
    draw_three_causes,
    signs,
)
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.verdicts.alarms import alarms
from oddswap.reasoning.verdicts.diagnosis import diagnose
from oddswap.showing.ink.palette import HIGHLIGHT
from oddswap.words import say

BARE = load("cube:3,centres=none")
HOLDINGS = [f"{a} {b}".strip() for a in ("", "x", "x2", "x'", "z", "z'") for b in ("", "y", "y2", "y'")]


@pytest.mark.parametrize("name", ["cube:2", "cube:3,centres=none", "cube:4", "cube:5"])
@pytest.mark.parametrize("moves", ["U", "U2 R", "y", "x2", "x' U F y R'"])
def test_signs_are_those_that_sympy_finds(name, moves):
    puzzle = load(name)
    state = puzzle.follow(moves)
    for kind in puzzle.kinds:
        if len(kind.slots) > 1:
            parity = Permutation([state.pieces[slot] - kind.start for slot in kind.places]).parity()
            assert signs(puzzle, state)[kind.name] == ("odd" if parity else "even")


def test_always_held_it_has_the_laws_of_the_plain_cube():
    """Its order without turning centres: 8! 3^7 12! 2^11 / 2, as of the plain cube (OEIS A075152)."""
    assert law_book(always_held(BARE)).order == 43252003274489856000


def test_just_the_odd_holdings_mend_a_swap():
    """A quarter turn of the whole cube takes the 12 edges round in three cycles of four, and the corners in two."""
    fixed = law_book(always_held(BARE))
    for one, other in combinations(BARE.kinds[1].slots, 2):
        state = changed(BARE, [f"swap {one} {other}"])
        for turns in HOLDINGS:
            quarters = sum("2" not in turn for turn in turns.split())
            assert fixed.reaches(BARE.follow(turns, state)) == bool(quarters % 2)


def test_the_cards_say_signs_and_what_can_lead_there():
    figure = draw_holdings(BARE, changed(BARE, ["swap UF UR"]), ["", "y", "x2"])
    words = [text.get_text().replace("\n", " ") for text in figure.axes[0].texts if len(text.get_text()) > 1]
    assert words == [
        "as it was brought", "corners even, edges odd: turns of the layers never lead here",
        "after y", "corners even, edges even: turns of the layers lead here",
        "after x2", "corners even, edges odd: turns of the layers never lead here",
    ]  # fmt: skip


def test_the_pieces_out_of_place_stay_outlined_wherever_they_are_turned():
    for turn, seen in (("", True), ("y", True), ("x2", False)):
        (picture,) = draw_holdings(BARE, changed(BARE, ["swap UF UR"]), [turn]).axes[0].collections
        assert any(to_hex(face).upper() == HIGHLIGHT for face in picture.get_facecolor()) or not seen
    (solved,) = draw_holdings(BARE, BARE.solved, ["y"]).axes[0].collections
    assert not any(to_hex(face).upper() == HIGHLIGHT for face in solved.get_facecolor())


def words(figure) -> list[str]:
    return [text.get_text().replace("\n", " ") for text in figure.axes[0].texts if len(text.get_text()) > 1]


def test_the_causes_differ_and_stand_on_their_cards():
    """On four slabs the wings' sign is free, and that of the corners is that of the centres: Bonzio, Loi, Peruzzi,
    Math. Slovaca 67 (2017) 561-572. Without centres a lone swap is reachable: computed independently."""
    told = words(draw_three_causes())
    assert told[::2][:3] == ["a sign that is simply free", "equal pieces", "a holding that is not fixed"]
    assert "two of the diagonal centres have changed places unseen" in told[3]
    assert told[-1] == "has a twin that looks the same"


def test_each_of_the_three_can_happen_and_just_two_pieces_are_outlined():
    for name, *pair in THREE_ALARMS:
        puzzle = load(name)
        state = changed(puzzle, [f"swap {' '.join(pair)}"])
        assert diagnose(puzzle, puzzle.appearance(state)).verdict == alarm_of(puzzle, *pair).verdict != "not by turning"
    for figure in (draw_three_alarms(), draw_three_causes()):
        for collection in figure.axes[0].collections[:3]:
            assert any(to_hex(face).upper() == HIGHLIGHT for face in collection.get_facecolor())


def test_the_alarms_alone_tell_no_cause():
    told = " ".join(words(draw_three_alarms()))
    assert not any(say(alarm_of(load(name), *pair).reason).partition(":")[0] in told for name, *pair in THREE_ALARMS)
    assert all(f"{one} and {other} swapped" in told for _, one, other in THREE_ALARMS)


@pytest.mark.parametrize("name", ["cube:2", "cube:4", "cube:3,centres=none"])
def test_all_exchanges_of_two_of_a_kind_have_one_cause(name):
    """So it does not matter which of them stands for all."""
    puzzle = load(name)
    for kind in puzzle.kinds:
        same = {(a.verdict, a.reason) for a in alarms(puzzle) if say(a.sort) == f"two {kind.name} swapped"}
        assert len(same) == 1


def test_words_stay_on_their_cards():
    figure = draw_three_causes()
    figure.canvas.draw()
    ax = figure.axes[0]
    sheets = [p.get_window_extent() for p in ax.patches]
    for text in [text for text in ax.texts if text.get_text()][:6]:
        box = text.get_window_extent()
        assert any(p.contains(box.x0, box.y0) and p.contains(box.x1, box.y1) for p in sheets), text.get_text()


SWAP = ["swap UFR UFL"]
ODD = {"corners": "odd", "wings": "odd"}


@pytest.mark.parametrize("turns", [turns for turns in HOLDINGS if turns])
def test_an_odd_number_of_quarter_turns_of_the_whole_cube_mends_a_swap(turns):
    """Computed by hand: a quarter turn of the whole cube is odd on the edges alone."""
    right = sum("2" not in turn for turn in turns.split()) % 2 == 1
    told = check_holding(turns, BARE.name, SWAP).text
    assert told.startswith("Yes") if right else "both evenly or both oddly" in told


def test_where_centres_tell_the_holding_no_holding_helps():
    assert "still broken" in check_holding("y", "cube:3", SWAP).text


def test_a_turn_of_a_slab_is_no_holding():
    assert "R' turns only a part" in check_holding("y R'", BARE.name, SWAP).text


@pytest.mark.parametrize("moves", ["U 2U", "Rw", "R 2F", "Uw' Rw Fw", "2L R' U2"])
def test_every_way_to_be_odd_on_both_kinds_is_accepted(moves):
    """Outer quarter turns are odd on corners, inner ones on wings: Bonzio, Loi, Peruzzi, Math. Slovaca 67 (2017) 561-572."""
    assert check_signs(moves, "cube:4", ODD).text.startswith("Yes")


@pytest.mark.parametrize(("moves", "hint"), [("R", "2U changes that of the wings"), ("2R", "U changes that of the corners")])
def test_the_hint_names_a_turn_that_is_missing(moves, hint):
    assert hint in check_signs(moves, "cube:4", ODD).text
    assert "think of two" in check_signs("U2", "cube:4", ODD).text


ANYTHING = st.one_of(st.none(), st.integers(), st.text(max_size=30), st.lists(st.text(max_size=3), max_size=2))


@given(ANYTHING)
def test_nonsense_gets_a_kind_sentence(answer):
    assume(not isinstance(answer, str) or not re.fullmatch("[xyz2' ]*", answer))  # another holding is an answer
    for told in (check_holding(answer, BARE.name, SWAP).text, check_signs(answer, "cube:4", ODD).text):
        assert told and not told.startswith("Yes") and "\n" not in told


def test_an_empty_answer_is_neutral():
    assert check_holding(" ", BARE.name, SWAP).text.startswith("Nothing written yet")
    assert check_signs("", "cube:4", ODD).text.startswith("Nothing written yet")
