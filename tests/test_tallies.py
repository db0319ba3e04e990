"""The tally as a picture, read back from its texts and marks."""

from dataclasses import dataclass

import pytest
from matplotlib.patches import Polygon, Rectangle

from oddswap.showing.tallies import draw_tally


@dataclass(frozen=True)
class Table:
    moves: tuple[str, ...]
    laws: tuple[str, ...]
    values: tuple[tuple[str, ...], ...]


TABLE = Table(
    moves=("R", "U", "R'"),
    laws=("edge flips", "signs together"),
    values=(("0", "0", "1", "1"), ("even", "odd", "even", "odd")),
)


def test_every_value_stands_in_its_place():
    texts = draw_tally(TABLE).axes[0].texts
    at = {text.get_text(): text.get_position() for text in texts if text.get_text() in ("start", *TABLE.moves, *TABLE.laws)}
    for law, row in zip(TABLE.laws, TABLE.values, strict=True):
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
    ax = draw_tally(Table(("R", "U") * 10, ("sign",), (("even", "odd") * 10 + ("even",),)), per_row=8).axes[0]
    texts = [t.get_text() for t in ax.texts]
    assert texts.count("sign") == 3
    assert texts.count("R") == texts.count("U") == 10
    assert all(0 < t.get_position()[0] < ax.get_xlim()[1] for t in ax.texts)


def test_a_puzzle_without_laws_has_a_table_of_moves():
    assert [t.get_text() for t in draw_tally(Table(("R",), (), ())).axes[0].texts] == ["start", "R"]
