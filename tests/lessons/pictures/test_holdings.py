"""One state held in several ways: signs as SymPy counts them, and the law of swaps as every text on the cube has it."""

from itertools import combinations

import pytest
from matplotlib.colors import to_hex
from sympy.combinatorics import Permutation

from oddswap.describing.changes import changed
from oddswap.lessons.pictures.holdings import always_held, draw_holdings, signs
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.law_book import law_book
from oddswap.showing.ink.palette import HIGHLIGHT

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
    words = [text.get_text().replace("\n", " ") for text in figure.axes[0].texts if text.get_text()]
    assert words == [
        "as it was brought", "corners even, edges odd: turns of the slabs never lead here",
        "after y", "corners even, edges even: turns of the slabs lead here",
        "after x2", "corners even, edges odd: turns of the slabs never lead here",
    ]  # fmt: skip


def test_the_pieces_out_of_place_stay_outlined_wherever_they_are_turned():
    for turn, seen in (("", True), ("y", True), ("x2", False)):
        (picture,) = draw_holdings(BARE, changed(BARE, ["swap UF UR"]), [turn]).axes[0].collections
        assert any(to_hex(face).upper() == HIGHLIGHT for face in picture.get_facecolor()) or not seen
    (solved,) = draw_holdings(BARE, BARE.solved, ["y"]).axes[0].collections
    assert not any(to_hex(face).upper() == HIGHLIGHT for face in solved.get_facecolor())
