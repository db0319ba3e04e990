"""Exercises about twins: every right answer is accepted, each against trying all, and hints name what was overlooked."""

from collections import Counter
from itertools import permutations, product
from math import factorial, prod

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from oddswap.lessons.exercises.twins import check_explanation, check_letters, check_lookalike
from oddswap.puzzles.catalogue import load
from tests.common.walking import all_states, depths

TEETH = "tiles:2x3,letters=TEETH"


def test_ways_to_look_are_counted_as_by_trying_all():
    for letters in ("trays", "apart", "teeth", "mamma", "eerie", "aaaab", "aaaaa"):
        ways = len({tuple((letters + "-")[piece] for piece in line) for line in permutations(range(6))})
        assert ways == 720 // prod(map(factorial, Counter(letters).values()))
        for wanted in (60, 180, ways):
            assert check_letters(letters, wanted).text.startswith("Yes") == (ways == wanted)


def test_the_hint_names_the_twins():
    assert "Twins: 2 times t and 2 times e" in check_letters("teeth", 60).text
    assert "Twins: none" in check_letters("trays", 60).text


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
    assert "an even number of exchanges" in check_explanation("swap r2c1 r2c2", "swap r2c1 r2c2", name=name).text
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
    assert word in check_letters(answer, 60).text and word in check_lookalike(answer, "swap 1 2").text


@given(st.one_of(st.none(), st.integers(), st.text(max_size=12), st.lists(st.text(max_size=3), max_size=2)))
def test_nonsense_gets_a_kind_sentence(answer):
    for told in (
        check_letters(answer, 61),
        check_explanation(answer, "swap r2c1 r2c2", name="tiles:3x3,letters=REPAIRED"),
        check_lookalike(answer, "swap 1 2"),
    ):
        assert told.text and "\n" not in told.text
        assert not told.text.startswith("Yes") or str(answer).isalpha()
