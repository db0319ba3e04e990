"""A square for each appearance, coloured where it is reached.

The table of twins: the verdict on every swap, against a walk over all arrangements, and letters that lift.

Exercises about twins: every right answer is accepted, each against trying all, and hints name what was overlooked.
"""

from itertools import combinations, permutations, product
from math import factorial

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from matplotlib.colors import to_hex

from oddswap.errors import BadOption
from oddswap.lessons.identical_twins import (
    PER_ROW,
    check_explanation,
    check_lookalike,
    draw_looks,
    draw_swapped,
    looks_words,
    swap_words,
    twin_table,
)
from oddswap.puzzles.catalogue import load
from oddswap.showing.ink.palette import PALETTE, PAPER
from tests.common.walking import all_states, depths


def squares(figure):
    (collection,) = figure.axes[0].collections
    return collection


def test_a_square_for_each_in_the_order_of_reading():
    reached = [i % 3 == 0 for i in range(2 * PER_ROW + 1)]
    drawn = squares(draw_looks(reached, "ABC"))
    assert [to_hex(face).upper() for face in drawn.get_facecolor()] == [PALETTE["sky blue"] if r else PAPER for r in reached]
    corners = [tuple(path.vertices[0]) for path in drawn.get_paths()]
    assert corners == sorted(corners, key=lambda at: (-round(at[1], 6), at[0]))
    assert len({round(y, 6) for _, y in corners}) == 3


def test_no_square_leaves_the_sheet_nor_covers_another():
    for count in (1, 60, 720, 1000):
        figure = draw_looks([True] * count, "ABC")
        width, height = figure.axes[0].get_xlim()[1], figure.axes[0].get_ylim()[1]
        boxes = [path.get_extents() for path in squares(figure).get_paths()]
        assert all(0 < box.x0 and box.x1 < width and 0 < box.y0 and box.y1 < height for box in boxes)
        assert len({(round(box.x0, 6), round(box.y0, 6)) for box in boxes}) == count


def test_the_words_count():
    assert looks_words([True] * 3, "ODD") == "ODD: 3 ways to look, all of them reached"
    assert draw_looks([True, False, False], "TRAYS").axes[0].texts[0].get_text() == "TRAYS: 3 ways to look, 1 of them reached"


NAMES = {"word": "tiles:2x3,letters=APART", "letters": "tiles:2x3,letters=TRAYS", "loop": "loop:6,window=4"}


def reached(puzzle):
    if puzzle.blank is None:
        return all_states([tuple(turn.permutation.tolist()) for turn in puzzle.turns.values()])
    return {tuple(row) for level in depths(puzzle) for row in level.tolist()}


@pytest.mark.parametrize("name", [*NAMES.values(), "loop:5,window=4", "loop:5,window=4,beads=abcdd"])
def test_the_verdict_on_each_swap_is_that_of_a_walk(name):
    puzzle = load(name)
    looks = [token.text if token else "" for token in puzzle.flat.tokens]
    seen = {tuple(looks[piece] for piece in line) for line in reached(puzzle)}
    straight = reached(puzzle)
    pieces = [number for number in range(len(puzzle.slots)) if number != puzzle.blank]
    for a, b in combinations(pieces, 2):
        line = list(range(len(puzzle.slots)))
        line[a], line[b] = b, a
        told = swap_words(puzzle, puzzle.slots[a], puzzle.slots[b])
        if looks[a] == looks[b]:
            assert "Nobody can see" in told
        elif tuple(line) in straight:
            assert told.startswith("Verdict: ordinary.")
        elif tuple(looks[piece] for piece in line) in seen:
            assert told.startswith("Verdict: lookalike.")
        else:
            assert told.startswith("Verdict: not by turning.")


def test_the_same_slot_twice_is_asked_for_kindly():
    assert swap_words(load("tiles:2x2"), "r1c1", "r1c1") == "Choose two different slots to swap."
    draw_swapped(load("tiles:2x2"), "r1c1", "r1c1", lifted=True)


def test_another_puzzle_starts_with_its_first_two_pieces_and_letters_down():
    table = twin_table(NAMES)
    assert repr(table).startswith("word: swap r1c1 r1c2\nVerdict: lookalike.")
    table.lift.value = True
    table.which.value = "loop"
    assert (table.one.value, table.other.value, table.lift.value) == ("1", "2", False)
    assert repr(table).startswith("loop: swap 1 2\nVerdict: ordinary.")
    assert "r2c3" not in twin_table(NAMES).one.options, "the blank is nothing to swap"


def test_lifting_the_letters_changes_the_picture_and_not_the_words():
    table = twin_table(NAMES)
    before, words = bytes(table._picture.value), table.words
    table.lift.value = True
    assert before.startswith(b"\x89PNG") and bytes(table._picture.value) != before and table.words == words
    table.other.value = "r2c1"
    assert "swap r1c1 r2c1" in repr(table)


def test_every_choice_can_be_made():
    table = twin_table(NAMES)
    for which in NAMES:
        table.which.value = which
        for lifted in (False, True):
            table.lift.value = lifted
            for slot in table.other.options:
                table.other.value = slot
                assert table.words


def test_more_pairs_of_twins_make_more_possible_culprits():
    assert "one of 2 possible pairs" in swap_words(load("tiles:3x3,letters=REPAIRED"), "r2c1", "r2c2")
    assert "possible pairs" not in swap_words(load("tiles:3x3,letters=WORKSHOP"), "r2c2", "r2c3")


@pytest.mark.parametrize("names", [{}, {"cube": "cube:2"}])
def test_there_must_be_a_flat_puzzle(names):
    with pytest.raises(BadOption):
        twin_table(names)


TEETH = "tiles:2x3,letters=TEETH"


def test_explanations_are_accepted_if_a_walk_reaches_them_and_they_look_right():
    """On a tray of two pairs of twins: all sets of at most two swaps are tried."""
    puzzle = load(TEETH)
    reached = {tuple(row) for level in depths(puzzle) for row in level.tolist()}
    slots, accepted = puzzle.slots[:5], set()
    swaps = [f"swap {one} {other}" for one in slots for other in slots if one < other]
    wanted = list("TEETH-")
    wanted[3], wanted[4] = wanted[4], wanted[3]
    for pair in product(swaps, repeat=2):
        line = list(range(6))
        for swap in pair:
            a, b = (puzzle.slots.index(slot) for slot in swap.split()[1:])
            line[a], line[b] = line[b], line[a]
        right = tuple(line) in reached and ["TEETH-"[piece] for piece in line] == wanted
        told = check_explanation(", ".join(pair), "swap r2c1 r2c2", name=TEETH).text
        assert told.startswith("Yes") == right
        accepted |= {tuple(line)} if right else set()
    assert len(accepted) == 2, "half of the four: the E's swapped as well, or H by way of both T's"


def test_what_is_wrong_with_an_explanation_is_said():
    name = "tiles:3x3,letters=REPAIRED"
    assert "an even number of swaps" in check_explanation("swap r2c1 r2c2", "swap r2c1 r2c2", name=name).text
    told = check_explanation("swap r2c1 r2c2, swap r3c1 r3c2", "swap r2c1 r2c2", name=name).text
    assert "look otherwise in r3c1 and r3c2" in told
    assert "That cannot be read yet" in check_explanation("swap r9c9 r1c1", "swap r2c1 r2c2", name=name).text
    assert "Nothing written yet" in check_explanation(" , ", "swap r2c1 r2c2", name=name).text
    assert check_explanation("swap r2c1 r2c2, swap r1c1 r2c3", "swap r2c1 r2c2", name=name).text.startswith("Yes: 4 pieces")


def test_a_swap_passes_for_a_lookalike_exactly_if_a_walk_reaches_what_it_looks_like():
    puzzle, rng = load("loop:7,window=4"), np.random.default_rng(4)
    reached = all_states([tuple(turn.permutation.tolist()) for turn in puzzle.turns.values()])
    assert len(reached) == factorial(7) // 2
    accepted = 0
    for _ in range(60):
        letters = rng.choice(list("abcdefg"), 7).tolist()
        goal = [letters[1], letters[0], *letters[2:]]
        lines = [line for line in permutations(range(7)) if [letters[p] for p in line] == goal]
        away = [sum(p != i for i, p in enumerate(line)) for line in lines]
        at_first_sight = {line for line, count in zip(lines, away, strict=True) if count == min(away)}
        right = letters != goal and not at_first_sight & reached and not reached.isdisjoint(lines)
        told = check_lookalike("".join(letters), "swap 1 2").text
        assert told.startswith("Yes") == right
        accepted += right
    assert 20 < accepted < 60


def test_beads_that_do_not_do_are_told_why():
    assert "no two beads look the same" in check_lookalike("abcdefg", "swap 1 2").text
    assert "make them differ" in check_lookalike("aabcdef", "swap 1 2").text
    assert "6 and 7" in check_lookalike("abcdeff", "swap 1 2").text
    assert "one of these pairs" in check_lookalike("abccdee", "swap 1 2").text


@pytest.mark.parametrize(("answer", "word"), [("", "Nothing written yet"), ("abc", "3 letters"), ("ab,c=d", "more than letters")])
def test_letters_that_cannot_be_used_get_a_kind_sentence(answer, word):
    assert word in check_lookalike(answer, "swap 1 2").text


@given(st.one_of(st.none(), st.integers(), st.text(max_size=12), st.lists(st.text(max_size=3), max_size=2)))
def test_nonsense_gets_a_kind_sentence(answer):
    for told in (
        check_explanation(answer, "swap r2c1 r2c2", name="tiles:3x3,letters=REPAIRED"),
        check_lookalike(answer, "swap 1 2"),
    ):
        assert told.text and "\n" not in told.text
        assert not told.text.startswith("Yes") or str(answer).isalpha()
