"""The tally as a picture, read back from its texts and marks."""

import pytest
from matplotlib.patches import Polygon, Rectangle

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.tally import Tally, quantities
from oddswap.showing.pictures.tallies import draw_tally

CUBE = load("cube:3")
SIGN, FLIPS = (next(q for q in quantities(CUBE) if q.name == name) for name in ("sign of corners", "flips of edges"))
TABLE = Tally(("R", "U", "R'"), (FLIPS, SIGN), ((0, 0, 1, 1), (0, 1, 0, 1)), (), ())
ROWS = (("flips of edges", ("0", "0", "1", "1")), ("sign of corners", ("even", "odd", "even", "odd")))


def test_every_value_stands_in_its_place():
    texts = draw_tally(TABLE).axes[0].texts
    at = {text.get_text(): text.get_position() for text in texts if text.get_text() in ("start", *TABLE.moves, *dict(ROWS))}
    for law, row in ROWS:
        cells = [t for t in texts if t.get_position()[1] == at[law][1] and t.get_text() != law]
        assert [t.get_text() for t in cells] == list(row)
        assert [t.get_position()[0] for t in cells] == pytest.approx([at[h][0] for h in ("start", *TABLE.moves)])


def test_what_changes_is_bold_and_marked_and_nothing_else_is():
    ax = draw_tally(TABLE).axes[0]
    heavy = [t.get_text() for t in ax.texts if t.get_weight() == "bold" and t.get_text() not in TABLE.moves]
    assert heavy == ["1", "odd", "even", "odd"]
    corners = [p for p in ax.patches if isinstance(p, Polygon)]
    tints = [p for p in ax.patches if isinstance(p, Rectangle)][1:]
    assert len(corners) == len(tints) == 4


def test_a_long_sequence_goes_on_below_with_its_laws_named_again():
    ax = draw_tally(Tally(("R", "U") * 10, (SIGN,), ((0, 1) * 10 + (0,),), (), ()), per_row=8).axes[0]
    texts = [t.get_text() for t in ax.texts]
    assert texts.count("sign of corners") == 3
    assert texts.count("R") == texts.count("U") == 10
    assert all(0 < t.get_position()[0] < ax.get_xlim()[1] for t in ax.texts)


def test_a_puzzle_without_laws_has_a_table_of_moves():
    assert [t.get_text() for t in draw_tally(Tally(("R",), (), (), (), ())).axes[0].texts] == ["start", "R"]
