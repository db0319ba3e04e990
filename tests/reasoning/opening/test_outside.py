"""Ways out of the box for exchanges that half turns cannot make."""

import pytest

from oddswap.describing.changes import changed
from oddswap.puzzles.catalogue import load, with_turns_out_of_the_box
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.opening.findings import ChangeOutside, CloseBox, LeaveBox
from oddswap.reasoning.opening.outside import way_outside
from oddswap.reasoning.verdicts.mending import is_reachable
from oddswap.reasoning.ways.way_out import looks_solved


@pytest.mark.parametrize(
    ("name", "change", "most"), [("cuboid:2x2x4,turns=half", "swap UFL UFR", 7), ("cuboid:1x3x3,turns=half", "swap UFLR UBLR", 8)]
)
def test_an_exchange_that_half_turns_cannot_make_is_made_outside(name, change, most):
    half = load(name)
    box, state = with_turns_out_of_the_box(half), changed(half, [change])
    assert not is_reachable(law_book(half), half.permutation(state))
    way = way_outside(half, box, state)
    assert len(way.excursion) <= most and set(way.inside) <= set(half.turns)
    assert not set(way.excursion) <= set(half.turns)
    end = box.follow(" ".join(way.turns), way.start)
    assert looks_solved(box, box.appearance(end))
    assert [phase.aim for phase in way.phases][:3] == [LeaveBox(), ChangeOutside(), CloseBox()]
    assert " ".join(phase.moves for phase in way.phases) == " ".join(way.turns)
