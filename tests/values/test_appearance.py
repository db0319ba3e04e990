"""Appearances: immutable, hashable, and clear about what is not known."""

import dataclasses

import pytest

from oddswap.values.position import Appearance, Arrangement


def seen(*sights):
    return Appearance("ring", tuple(map(frozenset, sights)))


@pytest.mark.parametrize(
    "appearance, complete, foreign",
    [
        (seen({0}, {1}), True, ()),
        (seen({0}, {0}), True, ()),
        (seen({0}, {0, 1}), False, ()),
        (seen(set(), {1}), False, (0,)),
        (seen({0}, set(), set()), False, (1, 2)),
        (seen(), True, ()),
    ],
)
def test_complete_uncertain_and_foreign(appearance, complete, foreign):
    assert appearance.complete == complete and appearance.foreign == foreign


def test_looks_are_there_only_when_all_is_seen_for_certain():
    assert seen({2}, {1}).looks == (2, 1)
    for appearance in (seen({0}, {0, 1}), seen({0}, set())):
        with pytest.raises(ValueError, match="not seen for certain"):
            _ = appearance.looks


def test_equal_appearances_are_one_in_a_set_and_differ_by_what_was_read():
    read = Appearance("ring", (frozenset({0}),), (frozenset({"U"}),))
    assert len({seen({0}), seen({0}), seen({1}), seen({0, 1}), seen(set()), read}) == 5


def test_it_cannot_be_changed():
    with pytest.raises(dataclasses.FrozenInstanceError):
        seen({0}).sights = ()


def test_it_is_another_type_than_an_arrangement():
    assert not isinstance(seen({0}), Arrangement) and seen({0}) != Arrangement("ring", (0,), (0,))
