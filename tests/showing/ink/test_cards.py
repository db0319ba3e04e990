"""Cards: every card has its picture, its headline and its words, and nothing leaves its paper."""

from itertools import combinations

import pytest
from matplotlib.collections import PolyCollection
from matplotlib.colors import to_hex
from matplotlib.patches import Rectangle

from oddswap.puzzles.catalogue import load
from oddswap.showing.ink.camera import cameras
from oddswap.showing.ink.cards import LETTERS, Card, PaperCard, draw_cards
from oddswap.showing.ink.palette import HIGHLIGHT, PAPER

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


CUBE = load("cube:3")
LONG = "Some words that are far too long for a single line and so are laid on several.\nAnd a second paragraph."


def papers(figure):
    return [p for p in figure.axes[0].patches if isinstance(p, Rectangle) and to_hex(p.get_facecolor()).upper() == PAPER]


@pytest.mark.parametrize(("count", "per_row", "rows"), [(1, 3, 1), (3, 3, 1), (4, 3, 2), (4, 2, 2), (5, 2, 3)])
def test_cards_stand_in_rows_from_the_left_without_meeting(count, per_row, rows):
    figure = draw_cards([Card(CUBE, CUBE.solved, str(i)) for i in range(count)], per_row=per_row)
    boxes = [(p.get_x(), -p.get_y() - p.get_height(), p.get_width(), p.get_height()) for p in papers(figure)]
    assert len(boxes) == count and boxes == sorted(boxes, key=lambda box: (round(box[1], 6), box[0]))
    assert len({round(box[1], 6) for box in boxes}) == rows
    for i, (x, y, w, h) in enumerate(boxes):
        assert not any(x < a + c and a < x + w and y < b + d and b < y + h for a, b, c, d in boxes[:i])


def test_words_stay_on_their_cards_and_off_the_pictures():
    figure = draw_cards([Card(CUBE, CUBE.solved, "one", LONG), Card(CUBE, CUBE.solved, "two")])
    figure.canvas.draw()
    ax = figure.axes[0]
    sheets = [p.get_window_extent() for p in papers(figure)]
    backdrops = [p.get_window_extent() for p in ax.patches if p not in papers(figure)]
    for text in filter(lambda text: text.get_text(), ax.texts):
        box = text.get_window_extent()
        assert any(p.contains(box.x0, box.y0) and p.contains(box.x1, box.y1) for p in sheets), text.get_text()
        assert not any(box.overlaps(b) for b in backdrops)


def test_lines_are_broken_at_paragraphs_and_between_words():
    lines = Card(CUBE, CUBE.solved, "", LONG).lines
    assert " ".join(lines) == LONG.replace("\n", " ") and max(map(len, lines)) <= LETTERS
    assert "And a second paragraph." in lines


def test_a_key_explains_just_the_hatchings_that_occur():
    def keys(*hatched):
        figure = draw_cards([Card(CUBE, CUBE.solved, "", hatched=h) for h in hatched])
        return {text.get_text() for text in figure.axes[0].texts} - {""}

    turn, twin = {20: ("hidden turns",)}, {0: ("twins",)}
    assert keys({}, {}) == set()
    assert keys(turn, {}) == {"can be turned without a trace"}
    assert keys(turn, twin) == {"can be turned without a trace", "has a twin that looks the same"}


def test_each_card_has_its_own_point_of_view_and_outlines():
    front, back = cameras(CUBE)
    one, other = (Card(CUBE, CUBE.solved, "", highlight=frozenset({8}), camera=camera) for camera in (front, back))
    first, second = (c for c in draw_cards([one, other]).axes[0].collections if isinstance(c, PolyCollection))
    outlined = [any(to_hex(f).upper() == HIGHLIGHT for f in c.get_facecolor()) for c in (first, second)]
    assert outlined == [True, False], "UF is seen from the front above alone"
