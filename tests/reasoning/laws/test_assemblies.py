"""Whole arrays of assemblies, against elements put together slot by slot and against SymPy."""

import numpy as np
import pytest
from sympy.combinatorics import Permutation

from oddswap.errors import BadPermutation
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.assemblies import SectorRows
from oddswap.reasoning.laws.sectors import measure, measures, sectors
from oddswap.values.permutation import cycle_type
from tests.reasoning.laws.assembled import any_action, element, plain, sectors_of

SHAPES = [(5, 3), (1, 4), (9, 1), (1, 1), (2, 2), (12, 6)]


def drawn(seed: int, count: int = 20):
    rng = np.random.default_rng(seed)
    parts = sectors_of(*SHAPES)
    actions = [[any_action(rng, n, m) for n, m in SHAPES] for _ in range(count)]
    return parts, actions, SectorRows(parts).read([element(parts, *each) for each in actions])


@pytest.mark.parametrize("seed", range(5))
def test_slots_and_twists_are_those_put_in(seed):
    _, actions, found = drawn(seed)
    starts = np.cumsum([0, *(n for n, _ in SHAPES[:-1])])
    assert found.slots.tolist() == [
        np.concatenate([s + start for (s, _), start in zip(each, starts, strict=True)]).tolist() for each in actions
    ]
    assert found.twists.tolist() == [np.concatenate([t for _, t in each]).tolist() for each in actions]


@pytest.mark.parametrize("seed", range(5))
def test_cycles_are_those_that_sympy_finds(seed):
    """The length of each slot's cycle, and the sum of the twists along it."""
    _, actions, found = drawn(seed)
    for each, lengths, rounds in zip(actions, found.lengths, found.rounds, strict=True):
        expected = []
        for slots, twists in each:
            cycle_of = {i: c for c in Permutation(slots.tolist()).full_cyclic_form for i in c}
            expected += [(len(cycle_of[i]), sum(int(twists[j]) for j in cycle_of[i])) for i in range(len(slots))]
        assert list(zip(lengths.tolist(), rounds.tolist(), strict=True)) == expected


@pytest.mark.parametrize("seed", range(5))
def test_cycle_types_sector_by_sector(seed):
    _, actions, found = drawn(seed)
    for each, types in zip(actions, found.cycle_types(), strict=True):
        for i, (slots, _) in enumerate(each):
            lengths = sorted(length for length in cycle_type(slots) for _ in range(length))
            assert types[found.layout.span(i)].tolist() == lengths


@pytest.mark.parametrize("seed", range(5))
def test_signs_and_twist_sums_are_the_quantities_of_the_laws(seed):
    parts, actions, found = drawn(seed)
    for row, signs, sums in zip(found.rows, found.signs, found.twist_sums, strict=True):
        values = {(c.sector, c.what): v for c, v in zip(measures(parts), measure(measures(parts), row), strict=True)}
        for i, sector in enumerate(parts):
            assert signs[i] == values.get((sector, "sign"), 0)
            assert sums[i] == values.get((sector, "twist"), 0)


def test_transitive_sectors():
    parts = sectors_of((4, 1), (4, 2), (1, 3))
    found = SectorRows(parts).read([element(parts, plain([1, 2, 3, 0]), plain([1, 0, 3, 2]), ([0], [1]))])
    assert found.transitive.tolist() == [True, False, True]


def test_a_split_kind_is_read_on_the_sectors_of_its_turns():
    """Two neighbouring faces alone: six corners, seven edges, the rest at rest."""
    puzzle = load("cube:3")
    turns = [puzzle.turns[name].permutation for name in "RU"]
    parts = sectors(puzzle, turns)
    found = SectorRows(parts).read(turns)
    assert found.rows.shape == (2, sum(sector.labels.size for sector in parts))
    assert sorted(found.layout.sizes.tolist())[-2:] == [6, 7]
    assert found.transitive.all()


def test_what_does_not_keep_the_sectors_is_refused():
    parts = sectors_of((3, 2), (3, 2))
    across = np.roll(np.arange(12), 2)
    torn = np.array([1, 2, 0, 3, 4, 5, *range(6, 12)])
    mirrored = element(sectors_of((3, 3)), plain([0, 1, 2]))
    mirrored[[1, 2]] = mirrored[[2, 1]]
    for sector_list, row in [(parts, across), (parts, torn), (sectors_of((3, 3)), mirrored)]:
        with pytest.raises(BadPermutation):
            SectorRows(sector_list).read([row])
    with pytest.raises(BadPermutation):
        SectorRows(parts[:1]).read([across])
    with pytest.raises(BadPermutation):
        SectorRows(parts).read([np.zeros(12, dtype=int)])


def test_no_generator():
    found = SectorRows(sectors_of((3, 2), (1, 1))).read([])
    assert found.rows.shape == (0, 7)
    assert found.signs.shape == found.twist_sums.shape == (0, 2)
    assert found.transitive.tolist() == [False, True]
