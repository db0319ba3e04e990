"""The law of the two fours, against every half turn and every seating of the corners.

In and out: one picture for each position, and just the pieces that ended elsewhere are inked.

Exercises on boxes accept every right answer; hints name the law or the move that was overlooked.

What is said at home against rotation matrices of blocks; buttons against refusals; loops that a learner writes.
"""

from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from matplotlib.colors import to_rgb

from oddswap.describing.changes import changed
from oddswap.errors import BadOption, OddswapError, UnknownMove
from oddswap.lessons.reshaped_boxes import (
    BLACK_CORNERS,
    MOST,
    WHITE_CORNERS,
    check_home,
    check_shapes,
    draw_fours,
    draw_in_and_out,
    ended_elsewhere,
    law_at_home,
    signs_of_fours,
    told_fours,
    walk,
)
from oddswap.puzzles.catalogue import load, with_turns_out_of_the_box
from oddswap.reasoning.laws.law_book import law_book
from oddswap.showing.ink.palette import HIGHLIGHT
from oddswap.showing.pictures.strip import states_along

CLOSED = load("cuboid:2x3x4")
OUT = with_turns_out_of_the_box(CLOSED)


def test_neighbours_along_an_edge_of_the_box_differ_in_colour():
    """Two corners are neighbours where their names, of three faces each, have two in common."""
    for one, other in product(BLACK_CORNERS, BLACK_CORNERS):
        assert len(set(one) & set(other)) in (1, 3)
    assert all(len(set(one) & set(other)) in (0, 2) for one, other in product(BLACK_CORNERS, WHITE_CORNERS))


@pytest.mark.parametrize("name", ["cuboid:2x3x4", "cuboid:2x3x5", "cuboid:2x2x4,turns=half", "cuboid:3x4x5,turns=half"])
def test_no_half_turn_changes_one_four_without_the_other(name):
    puzzle = load(name)
    for turn in puzzle.turns:
        assert signs_of_fours(puzzle, puzzle.follow(turn)) in {("even", "even"), ("odd", "odd")}


def test_of_the_576_seatings_half_turns_reach_96_and_all_keep_the_law():
    """4! x 4! seatings; half keep the law of signs, and a third of those the law of pairs."""
    corners = [CLOSED.slot(name) for name in BLACK_CORNERS + WHITE_CORNERS]
    start = tuple(CLOSED.solved.pieces[slot] for slot in corners)
    found, queue = {start}, [CLOSED.solved]
    for state in queue:
        for turn in CLOSED.turns:
            after = CLOSED.follow(turn, state)
            seated = tuple(after.pieces[slot] for slot in corners)
            if seated not in found:
                found.add(seated)
                queue.append(after)
    assert len(found) == 96 == 576 // 2 // 3
    assert {signs_of_fours(CLOSED, state) for state in queue} == {("even", "even"), ("odd", "odd")}


@pytest.mark.parametrize("pair", ["UFR UBL", "UFL DFR", "DFL DBR"])
def test_one_swap_breaks_the_law_that_the_stabiliser_chain_found(pair):
    state = changed(CLOSED, [f"swap {pair}"])
    assert set(signs_of_fours(CLOSED, state)) == {"odd", "even"}
    assert "sign of corners like UFL and corners like UFR" in [law.name for law in law_book(CLOSED).broken(state)]


def test_what_is_said_inside_outside_and_where_the_fours_have_mixed():
    assert told_fours(OUT, OUT.follow("U")) == "out of its outline"
    assert told_fours(OUT, OUT.follow("U U")) == "black corners odd, white corners odd"
    square = load("cuboid:2x2x4")
    assert told_fours(square, square.follow("F")) == "a black corner sits among the white ones"


def test_the_cards_outline_the_black_corners_wherever_they_are():
    figure = draw_fours(CLOSED, {"before": CLOSED.solved, "after U2": CLOSED.follow("U2")})
    words = [text.get_text() for text in figure.axes[0].texts]
    assert words == ["before", "black corners even, white corners even", "after U2", "black corners odd, white corners odd"]
    inks = [set(collection.get_edgecolor()[:, 0].round(3)) for collection in figure.axes[0].collections]
    assert len(inks) == 2 and all(0.71 in ink for ink in inks), "the red share of the outline of what the text speaks of"


BOX = load("cuboid:2x3x4,turns=all")
WAY = "U 2F2 RR2 2F2 U'"


def words(figure) -> list[str]:
    return [text.get_text() for text in figure.axes[0].texts]


def inked(collection) -> bool:
    """Whether something on a picture is outlined in the colour of what the text speaks of."""
    return bool((np.abs(collection.get_facecolor()[:, :3] - to_rgb(HIGHLIGHT)).max(axis=1) < 0.01).any())


@pytest.mark.parametrize("moves", [WAY, "D 2F2 LL2 2F2 D'", "U U", "U U'", "U2 L2 F2"])
def test_what_ended_elsewhere_is_what_changed_by_hand_would_show(moves):
    end = BOX.follow(moves)
    found = ended_elsewhere(BOX, BOX.solved, end)
    solved, seen = BOX.appearance(BOX.solved).sights, BOX.appearance(end).sights
    assert {BOX.slots[slot] for slot in range(len(solved)) if solved[slot] != seen[slot]} <= {BOX.slots[p] for p in found}
    assert (not found) == (end.pieces == BOX.solved.pieces)


def test_the_way_of_the_lesson_exchanges_two_corners_and_nothing_else():
    end = BOX.follow(WAY)
    assert {BOX.slots[piece] for piece in ended_elsewhere(BOX, BOX.solved, end)} == {"UFR", "UBL"}
    assert BOX.appearance(end).sights == BOX.appearance(changed(BOX, ["swap UFR UBL"])).sights
    states = states_along(BOX, BOX.solved, zip(BOX.settled(WAY)[0]))
    assert [BOX.closed(state) for state in states] == [True, False, False, False, False, True] and states[-1] == end


def test_a_picture_for_each_position_with_the_next_turn_and_what_has_become_of_the_box():
    figure = draw_in_and_out(BOX, WAY)
    told = words(figure)
    assert [word for word in told if word.startswith("next: ")] == [f"next: {turn}" for turn in WAY.split()]
    assert "after U: out" in told and "after U': a box again" in told and "elsewhere now: UFR and UBL" in told
    pictures = [c for c in figure.axes[0].collections if len(c.get_paths()) > 50]
    assert len(pictures) == 6 and all(inked(picture) for picture in pictures)
    letters = [word for word in told if word in set("UDFBLR")]
    assert set(letters) <= set("UFRBL") and len(letters) >= 4, "the stickers of the two corners that can be seen"


def test_what_came_home_is_not_inked_and_what_stays_open_says_so():
    figure = draw_in_and_out(BOX, "U U'")
    assert "every piece is where it was" in words(figure)
    assert not any(inked(c) for c in figure.axes[0].collections if len(c.get_paths()) > 50)
    assert "4 pieces stand out" in words(draw_in_and_out(BOX, "U"))
    assert "the box" in words(draw_in_and_out(BOX, ""))


def test_a_box_that_starts_elsewhere_is_compared_with_its_start():
    """After U2 the pieces of UFR and UBL are in each other's slots, so the same way brings just these two home."""
    start = BOX.follow("U2")
    assert "elsewhere now: UFR and UBL" in words(draw_in_and_out(BOX, WAY, start))
    assert len(ended_elsewhere(BOX, BOX.solved, start)) == 8 and not ended_elsewhere(BOX, start, start)


@pytest.mark.parametrize("moves", ["R", "RR2", " ".join(["U"] * (MOST + 1))])
def test_what_cannot_be_drawn_is_told_in_one_sentence(moves):
    with pytest.raises(OddswapError) as caught:
        draw_in_and_out(BOX, moves)
    assert "\n" not in str(caught.value)
    assert isinstance(caught.value, BadOption) == (len(moves) > 3)


@pytest.mark.parametrize("moves", ["D 2F2 RR2 2F2 D'", "D' 2F2 LL2 2F2 D", "[D 2F2: RR2]", "[D 2B2: LL2]", "[D' 2B2: RR2]"])
@pytest.mark.parametrize("change", ["swap DFR DBL", "swap DFL DBR"])
def test_home_is_accepted_where_the_turns_exchange_the_two_that_are_over(moves, change):
    """What the turns exchange is read from the box itself, piece by piece."""
    moved = {BOX.slots[slot] for slot in BOX.follow(moves).displaced() if BOX.slots[slot] in ("DFR", "DBL", "DFL", "DBR")}
    assert check_home(moves, [change]).text.startswith("Yes") == (moved == set(change.split()[1:]))


def test_home_in_another_holding_is_home():
    assert check_home("D 2F2 RR2 2F2 D' y2", ["swap DFR DBL"]).text.startswith("Yes")


@pytest.mark.parametrize("moves", ["B2 U 2F2 RR2 2F2 U' B2", "F2 D 2F2 LL2 2F2 D' F2", "[B2 U 2F2: RR2]"])
def test_go_there_act_come_back(moves):
    assert check_home(moves, ["swap UFR DBR"]).text.startswith("Yes")


def test_the_hint_names_the_law_or_to_go_there_first():
    assert "no half turn of a whole layer will change that" in check_home("U2", ["swap UFR DBR"]).text
    assert "Go there, act, come back" in check_home("U 2F2 RR2 2F2 U'", ["swap UFR DBR"]).text
    assert "still out of its outline" in check_home("U", ["swap UFR DBR"]).text


ANYTHING = st.one_of(st.none(), st.integers(), st.text(max_size=30), st.lists(st.text(max_size=3), max_size=2))


@settings(max_examples=40)
@given(ANYTHING)
def test_nonsense_gets_a_kind_sentence(answer):
    told = check_home(answer, ["swap UFR DBR"]).text
    assert told and not told.startswith("Yes") and "\n" not in told


def test_an_empty_answer_is_neutral():
    assert check_home("", ["swap UFR DBR"]).text.startswith("Nothing written yet")


FLAT = load("cuboid:1x3x3,turns=all")
SIDES = {"U": (1, 2), "D": (1, -2), "F": (2, 2), "B": (2, -2), "LL": (0, -2), "RR": (0, 2)}
HOMES = [(0, y, z) for y, z in product((-2, 0, 2), repeat=2) if y or z]
HALF = ("U2", "D2", "F2", "B2")


def matrix_of(turn):
    """Axis, layer and matrix of a turn by its name: clockwise as seen from outside, with y up and z to the viewer."""
    name = turn.rstrip("2'")
    axis, at = SIDES[name]
    a, b = (axis + 1) % 3, (axis + 2) % 3
    backwards = np.eye(3, dtype=int)
    backwards[[a, b]] = backwards[[b, a]] * np.array([[1], [-1]])
    quarters = {"": 1, "2": 2, "'": 3}[turn[len(name) :]] * (1 if at > 0 else 3)
    return axis, at, np.linalg.matrix_power(backwards, quarters)


def after(blocks, turn):
    """Each block as the rotation that it has made."""
    axis, at, matrix = matrix_of(turn)
    return tuple(
        tuple(map(tuple, (matrix @ one).tolist())) if (np.array(one) @ home)[axis] == at else one
        for home, one in zip(HOMES, blocks, strict=True)
    )


STILL = tuple(tuple(map(tuple, np.eye(3, dtype=int).tolist())) for _ in HOMES)


def by_half_turns():
    found, queue = {STILL}, [STILL]
    for blocks in queue:
        for new in {after(blocks, turn) for turn in HALF} - found:
            found.add(new)
            queue.append(new)
    return found


def test_what_is_said_at_home_is_what_half_turns_reach():
    """Half turns reach 192 of the 384 boxes that they could be asked of: the other half has one more block flipped."""
    kept = by_half_turns()
    top = HOMES.index((0, 2, 0))
    flip = np.diag([-1, 1, -1])
    broken = {(*b[:top], tuple(map(tuple, (np.array(b[top]) @ flip).tolist())), *b[top + 1 :]) for b in kept}
    assert len(kept) == len(broken) == 192 and not kept & broken
    dice, said = np.random.default_rng(12), {}
    out = [way for way in FLAT.turns if way not in HALF]
    for _ in range(1500):
        path = [str(dice.choice(HALF)) for _ in range(dice.integers(4))]
        there = [str(turn) for turn in dice.choice(["U", "D'", "F'", "B", "F", "B'"], 2)]
        path += [*there, str(dice.choice([*HALF, *out])), *(f"({turn})'" for turn in reversed(there))]
        try:
            state = FLAT.follow(" ".join(path))
        except UnknownMove:
            continue
        blocks = STILL
        for step in FLAT.read(" ".join(path)).steps:
            blocks = after(blocks, str(step))
        home = all((np.array(one) @ place)[0] == 0 for one, place in zip(blocks, HOMES, strict=True))
        wanted = "not at home" if not home else "kept" if blocks in kept else "BROKEN" if blocks in broken else "as no half turn"
        assert wanted in law_at_home(FLAT, state), path
        said[wanted] = said.get(wanted, 0) + 1
    assert min(said.values()) > 20 and len(said) == 4, said


def test_a_box_without_laws_says_so():
    assert law_at_home(load("cuboid:1x2x3,turns=all"), load("cuboid:1x2x3,turns=all").solved).endswith("no law")


@pytest.mark.parametrize("name", ["cuboid:1x3x3,turns=all", "cuboid:1x2x3,turns=all"])
def test_a_button_can_be_pressed_where_the_turn_is_not_refused(name):
    puzzle, dice = load(name), np.random.default_rng(5)
    found = walk(puzzle, law_at_home)
    for _ in range(14):
        can = []
        for turn, button in found.buttons.items():
            try:
                puzzle.follow(turn, puzzle.follow(" ".join(found.path)))
                can.append(turn)
            except UnknownMove:
                assert button.disabled
            else:
                assert not button.disabled
        before = found._picture.value
        found.buttons[str(dice.choice(can))].click()
        assert found._picture.value != before and repr(found).startswith(" ".join(found.path))
    found.back.click()
    assert len(found.path) == 13
    found.again.click()
    assert found.path == () and repr(found) == repr(walk(puzzle, law_at_home))


@settings(max_examples=30)
@given(st.one_of(st.none(), st.integers(5, 10**9), st.text(max_size=20)))
def test_a_count_that_is_none_gets_a_kind_sentence(answer):
    told = check_shapes(answer, "cuboid:1x2x5,turns=all").text
    assert told and (not told.startswith("Yes") or str(answer).strip() == "4")
