"""What is said at home against rotation matrices of blocks; buttons against refusals; loops that a learner writes."""

from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from oddswap.errors import UnknownMove
from oddswap.lessons.reshaped_boxes import check_shapes, law_at_home, walk
from oddswap.puzzles.catalogue import load

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
