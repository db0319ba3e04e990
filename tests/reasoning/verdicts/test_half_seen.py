"""Verdicts and counts of half-seen puzzles, against going through all that they may be."""

from collections import Counter

import numpy as np
import pytest

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.verdicts import partly
from oddswap.reasoning.verdicts.counting import count_explanations
from oddswap.reasoning.verdicts.diagnosis import judged
from oddswap.reasoning.verdicts.partly import NotYetPlaced
from oddswap.values.orbits import orbit_labels
from tests.reasoning.half_seen import HalfSeen, some_sights
from tests.reasoning.random_puzzles import random_puzzles

EACH = 17
"""So many sights of each puzzle made at random."""
NAMES = {
    **dict.fromkeys(("tiles:2x3", "tiles:2x3,letters=AABCD", "tiles:2x3,letters=AAABB", "tiles:3x3,letters=AABCDEFG"), 200),
    **dict.fromkeys(("loop:6,window=4", "rings:5+5,cross=2", "graph:2+1+2"), 200),
    **dict.fromkeys(("cuboid:1x2x3", "cuboid:2x2x3", "cuboid:1x3x3", "cuboid:2x3x4", "cuboid:2x2x3,turns=half"), 200),
    **dict.fromkeys(("cuboid:1x2x3,turns=F2", "cuboid:2x2x3,turns=R2+F", "cuboid:1x4x4,turns=2U2+2F2"), 100),
    **dict.fromkeys(("tetrahedron", "corner-cube", "cube:2", "cube:2,turns=half"), 60),
    **dict.fromkeys(("shape-mod:prism5", "shape-mod:cube,axis=U,degrees=45", "cube:3,centres=marked,turns=half"), 40),
    **dict.fromkeys(("cube:3", "cube:3,turns=R+L"), 12),
}
"""In how many ways the whole may look at most: fewer where each takes longer to judge."""


def compared(judge: HalfSeen, sights, counts: Counter, monkeypatch):
    """Every figure and the verdict against all completions; in turn where few are judged one by one, and as many are."""
    puzzle, rotations = judge.puzzle, judge.puzzle.rotations.values()
    orbit = orbit_labels(np.array([turn.permutation for turn in (*judge.puzzle.turns.values(), *rotations)]), puzzle.degree)
    for number, appearance in enumerate(sights):
        monkeypatch.setattr(partly, "FEW", (12, 0)[number % 2])
        every, count, found = judge.all_of(appearance.sights), count_explanations(puzzle, appearance), judged(puzzle, appearance)
        assert (count.total, count.appearances) == (len(every.arrangements), len(every.wholes))
        assert (count.reachable, count.appearances_reached) == (every.reached.sum(), every.looks_reached)
        if count.classes and puzzle.blank is None and len(law_book(puzzle).holdings) == 1 and count.total < 5000:
            assert sorted(filter(None, every.classes(orbit))) == sorted(filter(None, count.classes.values()))
            counts["by class"] += 1
        assert found.verdict == every.verdict, (appearance, every.verdicts)
        turned = any(isinstance(assumed, NotYetPlaced) for assumed in found.assumed)
        assert turned == (found.verdict in ("lookalike", "other turns") and len(every.verdicts) > 1)
        assert all(every.is_mended_by(frozenset(map(puzzle.slot, culprit.pieces))) for culprit in found.culprits)
        counts["culprits"] += bool(found.culprits)
        counts[found.verdict] += 1


def test_random_puzzles_agree_with_going_through_all(cases, monkeypatch):
    counts = Counter()
    for puzzle, rng in random_puzzles(cases):
        judge = HalfSeen(puzzle)
        compared(judge, some_sights(judge, rng, EACH, unseen=5, most=300), counts, monkeypatch)
    assert min(counts[what] for what in ("ordinary", "lookalike", "not by turning", "cannot tell yet", "culprits")) > 5
    print(dict(counts))


@pytest.mark.parametrize("name", NAMES)
def test_families_agree_with_going_through_all(name, cases, monkeypatch):
    judge, counts = HalfSeen(load(name)), Counter()
    sights = some_sights(judge, np.random.default_rng(5), max(6, len(cases) // 6), unseen=5, most=NAMES[name])
    compared(judge, sights, counts, monkeypatch)
    print(name, dict(counts))
