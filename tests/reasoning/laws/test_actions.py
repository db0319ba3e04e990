"""What many elements do to one sector, against elements put together slot by slot and against SymPy."""

import numpy as np
import pytest
from sympy.combinatorics import Permutation

from oddswap.errors import BadPermutation
from oddswap.reasoning.laws.structure import Actions
from tests.reasoning.laws.assembled import any_action, element, plain, sectors_of

SHAPES = [(5, 3), (1, 4), (9, 1), (1, 1), (2, 2), (12, 6)]


def drawn(seed: int, count: int = 20):
    rng = np.random.default_rng(seed)
    parts = sectors_of(*SHAPES)
    actions = [[any_action(rng, n, m) for n, m in SHAPES] for _ in range(count)]
    rows = np.array([element(parts, *each) for each in actions])
    return [(Actions.on(sector, rows), [each[i] for each in actions]) for i, sector in enumerate(parts)]


@pytest.mark.parametrize("seed", range(5))
def test_slots_and_twists_are_those_put_in(seed):
    for found, actions in drawn(seed):
        assert found.slots.tolist() == [slots.tolist() for slots, _ in actions]
        assert found.twists.tolist() == [twists.tolist() for _, twists in actions]


@pytest.mark.parametrize("seed", range(5))
def test_cycles_are_those_that_sympy_finds(seed):
    """The length of each slot's cycle, and the sum of the twists along it."""
    for found, actions in drawn(seed):
        for (slots, twists), lengths, rounds in zip(actions, found.lengths, found.rounds, strict=True):
            cycle_of = {i: c for c in Permutation(slots.tolist()).full_cyclic_form for i in c}
            expected = [(len(cycle_of[i]), sum(int(twists[j]) for j in cycle_of[i])) for i in range(len(slots))]
            assert list(zip(lengths.tolist(), rounds.tolist(), strict=True)) == expected


def test_what_does_not_keep_a_sector_is_refused():
    parts = sectors_of((3, 2), (3, 2))
    across = np.roll(np.arange(12), 2)
    torn = np.array([1, 2, 0, 3, 4, 5, *range(6, 12)])
    mirrored = element(sectors_of((3, 3)), plain([0, 1, 2]))
    mirrored[[1, 2]] = mirrored[[2, 1]]
    for sector, row in [(parts[0], across), (parts[0], torn), (sectors_of((3, 3))[0], mirrored)]:
        with pytest.raises(BadPermutation):
            Actions.on(sector, row[None])
