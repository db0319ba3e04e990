"""The paper card: cards in rows lie apart on their sheet, and a picture lies on its backdrop."""

from itertools import combinations

import pytest

from oddswap.showing.ink.paper_card import PaperCard

CARD = PaperCard(side=2.0, pad=0.1, foot=0.5)


@pytest.mark.parametrize(("count", "per_row"), [(1, 3), (3, 3), (7, 3), (5, 5)])
def test_cards_in_rows_lie_apart_on_their_sheet(count, per_row):
    ax, corners = CARD.in_rows(count, per_row, 0.2, above=0.3, below=0.4)
    assert len(corners) == count
    for x, y in corners:
        assert 0 < x < x + CARD.width < ax.get_xlim()[1]
        assert 0.4 < y < y + CARD.height < ax.get_ylim()[1] - 0.3
    for (x, y), (u, v) in combinations(corners, 2):
        assert abs(x - u) > CARD.width or abs(y - v) > CARD.height


def test_cards_are_read_from_the_upper_left():
    _, corners = CARD.in_rows(5, 2, 0.2)
    assert corners == sorted(corners, key=lambda corner: (-corner[1], corner[0]))


def test_what_stands_beside_a_picture_does_not_move_it():
    plain, wide = CARD, PaperCard(side=2.0, pad=0.1, foot=0.5, beside=1.5)
    ax, ((x, y),) = wide.in_rows(1, 1, 0.2)
    spot = wide.lay(ax, x, y, room=4.0)
    assert (spot.x, spot.y, spot.scale) == pytest.approx((x + plain.width / 2, y + 1.5, 0.25))
    paper, backdrop = (patch.get_bbox() for patch in ax.patches)
    assert paper.contains(*backdrop.p0) and paper.contains(*backdrop.p1)
    assert (backdrop.x0 + backdrop.x1, backdrop.y0 + backdrop.y1) == pytest.approx((2 * spot.x, 2 * spot.y))
