"""Small words: lists, counts and large numbers, as they are read."""

import pytest

from oddswap.values.grammar import listed, number_word, read_number


@pytest.mark.parametrize("words, text", [(["a"], "a"), (["a", "b"], "a and b"), (["a", "b", "c"], "a, b and c")])
def test_lists_in_words(words, text):
    assert listed(words) == text


@pytest.mark.parametrize(
    "number, words",
    [
        (0, "0"),
        (999, "999"),
        (1000, "1 000"),
        (3674160, "3 674 160"),
        (10**15 - 1, "999 999 999 999 999"),
        (10**15, "about 1.00 × 10^15"),
        (43252003274489856000, "about 4.33 × 10^19"),
        (7401196841564901869874093974498574336000000000, "about 7.40 × 10^45"),
    ],
)
def test_numbers_are_told_in_threes_or_rounded(number, words):
    assert read_number(number) == words


def test_small_counts_are_words():
    assert (number_word(0), number_word(12), number_word(13)) == ("no", "twelve", "13")
