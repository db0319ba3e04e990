"""The laws as a page weighs them, against the laws as Python does: random answers over the catalogue, wholly seen."""

import random

import pytest

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.law_book import law_book
from oddswap.showing.viewer.pack import laws_to_weigh
from oddswap.showing.viewer.widget import Viewer
from oddswap.values.position import Arrangement
from tests.browser.viewers import alone
from tests.showing.sample import SAMPLE

pytestmark = pytest.mark.browser

BROKEN = """([book, every]) => {
    const viewer = document.querySelector('.oddswap-viewer').parentElement.oddswap;
    return every.map(sights => viewer.broken(book, sights).map(law => book.laws.indexOf(law)));
}"""
OVER_ALL = 10_000
WEIGHED = [name for name in SAMPLE if load(name).blank is not None or not load(name).shape_first]
"""Of other puzzles whose shape decides the turns a page weighs nothing."""


def put_together(puzzle, dice) -> Arrangement:
    """The pieces of each kind in any of its slots, any way round."""
    pieces = [p for kind in puzzle.kinds for p in dice.sample(list(kind.places), len(kind.places))]
    return Arrangement(puzzle.name, tuple(pieces), tuple(dice.randrange(kind.twist) for kind in puzzle.kind_of))


def value(law, permutation) -> int:
    """What a law comes to; 0 where pieces have left the sectors that it speaks of, which another law minds."""
    try:
        return law.value(permutation)
    except KeyError:
        return 0


def fewest_broken(puzzle, laws, state):
    """How few of these laws hold not, in the holding where they are fewest; one that stands alone counts last."""
    found = []
    for held in law_book(puzzle).held(puzzle.permutation(state)):
        home = puzzle.homed(held)
        alone_ = [n for n, law in enumerate(laws) if law.alone and value(law, home)]
        found.append((bool(alone_), alone_[:1] or [n for n, law in enumerate(laws) if value(law, home)]))
    least = min((alone_, len(broken)) for alone_, broken in found)
    return [broken for alone_, broken in found if (alone_, len(broken)) == least]


@pytest.mark.parametrize("name", WEIGHED)
def test_the_page_finds_the_laws_broken_that_python_finds(sheet, tmp_path, name, request):
    share = OVER_ALL // len(WEIGHED) + 1
    count = share if request.config.getoption("--every-case") else share // 10
    alone(sheet, Viewer(name), tmp_path)
    puzzle, dice = load(name), random.Random(name)
    laws = [law for law in law_book(puzzle).laws if law.additive and law.seen]
    states = [put_together(puzzle, dice) for _ in range(count)]
    sights = [[sorted(sight) for sight in puzzle.appearance(state).sights] for state in states]
    found = sheet.evaluate(BROKEN, [laws_to_weigh(puzzle), sights])
    for state, broken in zip(states, found, strict=True):
        assert broken in fewest_broken(puzzle, laws, state)
        if len(law_book(puzzle).holdings) == 1 and all(law.additive and law.seen for law in law_book(puzzle).laws):
            assert [laws[n] for n in broken] == list(law_book(puzzle).broken(state))


def test_a_page_weighs_no_law_where_the_shape_decides():
    rest = set(SAMPLE) - set(WEIGHED)
    assert rest and all(not laws_to_weigh(load(name))["laws"] for name in rest)


def test_the_sample_breaks_laws_of_every_sort():
    sorts = {law.type for name in SAMPLE for law in law_book(load(name)).laws if law.additive and law.seen}
    assert {"sign", "twist", "mixed", "orbit"} <= sorts
