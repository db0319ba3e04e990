"""The table of alarms as a page: everything that the table says is on it, within it, and not in colour alone."""

import numpy as np
import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.patches import Rectangle

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.verdicts.alarms import gathered
from oddswap.showing.ink.canvas import save
from oddswap.showing.pictures.alarm_poster import ACROSS, GAP, HEIGHT, SELDOM, SIGNS, WIDTH, draw_alarms, fitted
from oddswap.values.grammar import capital
from oddswap.words import say
from oddswap.words.verdicts import WORDINGS

NAMES = ["cube:3", "cube:4", "shape-mod:prism8", "shape-mod:prism8,paint=FR+FL+BR+BL", "corner-cube", "tiles:4x4", "cube:5"]


def texts(figure):
    """What is written, each text in one line."""
    return [" ".join(text.get_text().split()) for text in figure.axes[0].texts]


def pictures(figure):
    """The backdrops: squares of one size."""
    squares = [p for p in figure.axes[0].patches if isinstance(p, Rectangle) and p.get_width() == p.get_height()]
    return sorted((square.get_x(), square.get_y(), square.get_width()) for square in squares)


@pytest.mark.parametrize("name", NAMES[:-1])
def test_every_sort_has_its_picture_its_words_its_number_and_its_reason(name):
    puzzle = load(name)
    figure = draw_alarms(puzzle)
    said, sorts = texts(figure), 0
    for (_, reason), members in gathered(puzzle.alarms).items():
        assert any(say(reason).lower().rstrip(".") in text.lower() for text in said)
        for words in {say(alarm.sort) for alarm in members}:
            assert f"{words} ({sum(alarm.alike for alarm in members if say(alarm.sort) == words)})" in said
            sorts += 1
    assert len(pictures(figure)) == sorts > 0


def test_where_all_does_not_fit_laws_are_numbered_and_every_sort_is_still_named():
    puzzle = load("cube:5")
    said = texts(draw_alarms(puzzle))
    found = gathered(puzzle.alarms)
    laws = {law.statement for members in found.values() for alarm in members for law in alarm.broken}
    assert all(any(law in text for text in said) for law in laws)
    assert any(text.startswith("It breaks law") for text in said)
    assert all(any(say(alarm.sort) in text for text in said) for members in found.values() for alarm in members)


@pytest.mark.parametrize("name", ["cube:3", "cube:4", "tiles:4x4"])
def test_the_three_verdicts_have_headings_with_signs_of_their_own(name):
    said = texts(draw_alarms(load(name)))
    for verdict in SIGNS:
        if verdict not in SELDOM:
            assert said.count(SIGNS[verdict]) == 1
            assert said.count(capital(WORDINGS[verdict].alarm)) == 1
    assert len(set(SIGNS.values())) == len(SIGNS)


@pytest.mark.parametrize("name", NAMES[1:])
def test_nothing_leaves_the_page_and_no_text_lies_on_another(name):
    figure = draw_alarms(load(name))
    assert figure.get_size_inches() * 25.4 == pytest.approx((210, 297))
    ax = figure.axes[0]
    renderer = FigureCanvasAgg(figure).get_renderer()
    inverse = ax.transData.inverted()
    written = [text for text in ax.texts if len(text.get_text()) > 3]
    boxes = np.array([inverse.transform(text.get_window_extent(renderer)) for text in written])
    assert (boxes[:, 0] > 0.3).all() and (boxes[:, 1] < np.array([WIDTH, HEIGHT]) - 0.3).all()
    for i, (low, high) in enumerate(boxes):
        meets = (boxes[i + 1 :, 0] < high).all(axis=1) & (boxes[i + 1 :, 1] > low).all(axis=1)
        assert not meets.any(), [written[i].get_text(), *(written[i + 1 + j].get_text() for j in meets.nonzero()[0])]
    for x, y, side in pictures(figure):
        apart = (boxes[:, 0] >= (x + side, y + side)).any(axis=1) | (boxes[:, 1] <= (x, y)).any(axis=1)
        assert apart.all()


@pytest.mark.parametrize("name", NAMES)
def test_pictures_share_one_size_and_lines_one_breadth(name):
    sections = fitted(load(name), load(name).alarms)
    blocks = [block for section in sections.values() for line in section for block in line if block.sorts]
    assert len({block.side for block in blocks}) == 1
    for section in sections.values():
        for line in section:
            assert sum(block.breadth for block in line) + 2 * GAP * (len(line) - 1) <= ACROSS + 1e-9


def test_the_page_is_the_same_each_time(tmp_path):
    one, other = (save(draw_alarms(load("cube:2")), tmp_path / f"{i}.svg").read_bytes() for i in range(2))
    assert one == other


def test_a_puzzle_without_alarms_says_so():
    said = texts(draw_alarms(load("tiles:2x2,letters=aaa")))
    assert sum(text == "Nothing of one or two pieces on this puzzle." for text in said) == 3
