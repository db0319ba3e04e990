"""The poster of alarms: few pictures below their verdict, words that read from three metres, nothing over the edge."""

import re

import numpy as np
import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.colors import to_hex

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.verdicts.alarms import alarms
from oddswap.showing.ink.camera import cameras
from oddswap.showing.ink.canvas import save, sheet
from oddswap.showing.ink.palette import HIGHLIGHT, LESSON
from oddswap.showing.ink.scene import scene
from oddswap.showing.pictures.alarm_poster import (
    HEIGHT,
    MARGIN,
    SIGNS,
    WIDTH,
    chosen,
    draw_alarms,
    lay_typical,
    poster_tiles,
    typical,
)
from oddswap.values.grammar import capital
from oddswap.words import say
from oddswap.words.verdicts import WORDINGS

NAMES = ["cube:3", "shape-mod:prism8", "shape-mod:prism8,paint=FR+FL+BR+BL", "corner-cube", "tiles:4x4", "cube:5"]


def texts(figure):
    """What is written, each text in one line."""
    return [" ".join(text.get_text().split()) for text in figure.axes[0].texts]


@pytest.mark.parametrize("name", NAMES)
def test_each_verdict_has_its_heading_its_sign_and_pictures_that_are_so(name):
    puzzle = load(name)
    said, shown = texts(draw_alarms(puzzle)), chosen(alarms(puzzle))
    for verdict in SIGNS:
        assert said.count(SIGNS[verdict]) == said.count(capital(WORDINGS[verdict].alarm)) == (verdict in shown)
        for words, members in shown.get(verdict, ()):
            assert words in said and all(alarm.verdict == verdict and alarm in alarms(puzzle) for alarm in members)
    assert 1 <= sum(map(len, shown.values())) <= 6
    words = [words for part in shown.values() for words, _ in part]
    assert len(words) == len(set(words)), "no sort stands below two verdicts without an example that tells which"


def test_the_plain_cube_has_the_six_that_everybody_meets():
    """One flip, one twist and one swap of either kind never; two flips, two opposite twists always (common practice)."""
    puzzle = load("cube:3")
    shown = {verdict: {say(members[0].sort) for _, members in part} for verdict, part in chosen(alarms(puzzle)).items()}
    assert shown["ordinary"] == {"two edges flipped", "two corners twisted, opposite ways"}
    never = {"one edge flipped", "one corner twisted", "two edges swapped", "two corners swapped"}
    assert shown == {"ordinary": shown["ordinary"], "not by turning": never}


@pytest.mark.parametrize("name", NAMES)
def test_words_are_large_and_within_the_page_and_none_lies_on_another(name):
    figure = draw_alarms(load(name))
    assert figure.get_size_inches() * 25.4 == pytest.approx((297, 420))
    ax = figure.axes[0]
    renderer = FigureCanvasAgg(figure).get_renderer()
    written = [text for text in ax.texts if len(text.get_text()) > 3]
    assert min(text.get_size() for text in written) >= 24
    boxes = np.array([ax.transData.inverted().transform(text.get_window_extent(renderer)) for text in written])
    assert (boxes[:, 0] > MARGIN - 0.1).all() and (boxes[:, 1] < np.array([WIDTH, HEIGHT]) - MARGIN + 0.1).all()
    for i, (low, high) in enumerate(boxes):
        meets = (boxes[i + 1 :, 0] < high - 0.03).all(axis=1) & (boxes[i + 1 :, 1] > low + 0.03).all(axis=1)
        assert not meets.any(), [written[i].get_text(), *(written[i + 1 + j].get_text() for j in meets.nonzero()[0])]


def test_four_tiles_make_up_the_poster():
    """Between the dashes of a page lies a quarter, each another one, and together they are all of it."""
    puzzle, corners = load("cube:2"), []
    for page in poster_tiles(puzzle, alarms(puzzle), "Letter"):
        (frame,) = page.artists
        inside = page.transFigure.transform([frame.get_xy(), np.add(frame.get_xy(), (frame.get_width(), frame.get_height()))])
        corners.append(page.axes[-1].transData.inverted().transform(inside))
        assert page.get_size_inches() == pytest.approx((8.5, 11)) and (np.array(frame.get_xy()) > 0.02).all()
    halves = np.array([WIDTH, HEIGHT]) / 2
    assert [tuple(np.rint(low / halves)) for low, _ in corners] == [(0, 1), (1, 1), (0, 0), (1, 0)]
    assert np.allclose([high - low for low, high in corners], halves, atol=1e-6)


def test_the_page_is_the_same_each_time(tmp_path):
    one, other = (save(draw_alarms(load("cube:2")), tmp_path / f"{i}.svg").read_bytes() for i in range(2))
    assert one == other


def test_a_puzzle_without_alarms_says_so():
    said = texts(draw_alarms(load("tiles:2x2,letters=aaa")))
    assert "Nothing of one or two pieces can look wrong on this puzzle." in said


SHOWN = ["cube:3", "cube:4", "shape-mod:prism8", "corner-cube", "tetrahedron"]


def sorts(puzzle):
    found = {}
    for alarm in alarms(puzzle):
        found.setdefault((alarm.verdict, say(alarm.sort)), []).append(alarm)
    return list(found.values())


@pytest.mark.parametrize("name", SHOWN)
def test_each_changed_slot_shows_a_sticker(name):
    puzzle = load(name)
    for members in sorts(puzzle):
        shown = typical(puzzle, members)
        seen = {panel.slot for panel in scene(puzzle, shown.arrangement, shown.camera).open().panels if panel.role == "sticker"}
        assert shown.arrangement.displaced() <= seen


def test_the_first_prints_point_of_view_is_kept_where_all_that_is_changed_shows_from_there():
    puzzle, views = load("cube:3"), cameras(load("cube:3"))
    kept = [typical(puzzle, members).camera is views[0] for members in sorts(puzzle)]
    plain = [
        any(all(set(slot) <= set("UFR") for slot in re.findall("[UDFBLR]{2,3}", " ".join(a.changes))) for a in members)
        for members in sorts(puzzle)
    ]
    assert any(plain) and all(same for same, shows in zip(kept, plain, strict=True) if shows) and not all(kept)


@pytest.mark.parametrize("name", ["cube:3", "shape-mod:prism8"])
def test_what_is_changed_stands_out_and_nothing_else_does(name):
    puzzle = load(name)
    for members in sorts(puzzle):
        ax, shown = sheet(1.0, 1.0, None), typical(puzzle, members)
        lay_typical(ax, puzzle, shown, 0.5, 0.5, 1.0, 8.0)
        (picture,) = ax.collections
        faces = [to_hex(face).upper() for face in picture.get_facecolor()]
        out = shown.arrangement.displaced()
        panels = scene(puzzle, shown.arrangement, shown.camera).open().panels
        marks = [to_hex(edge).upper() for edge in picture.get_edgecolor()].count(HIGHLIGHT)
        assert len({panel.slot for panel in panels if panel.slot in out}) <= marks
        strong = sum(face in LESSON.values() for face in faces)
        assert strong == sum(p.role == "sticker" and p.slot in out and p.paint in LESSON for p in panels)
        corners = np.concatenate([path.vertices for path in picture.get_paths()])
        assert (corners > 0).all() and (corners < 1).all()


def test_culprits_are_hatched():
    """A flipped edge of the octagonal prism: four edges in its corner columns can be turned unseen."""
    puzzle = load("shape-mod:prism8")
    (alarm,) = [alarm for alarm in alarms(puzzle) if say(alarm.sort) == "one edge flipped"]
    ax = sheet(1.0, 1.0, None)
    shown = typical(puzzle, [alarm])
    lay_typical(ax, puzzle, shown, 0.5, 0.5, 1.0, 8.0)
    black = (ax.collections[0].get_facecolor() == (0, 0, 0, 1)).all(axis=1).sum()
    assert black > 5 and {culprit.pieces for culprit in shown.alarm.culprits} == {("FL",), ("FR",), ("BL",), ("BR",)}


def test_flat_puzzles_have_small_pictures_too():
    puzzle = load("tiles:3x3,letters=aabcdefg")
    shown = typical(puzzle, [alarm for alarm in alarms(puzzle) if alarm.changes == ("swap r1c1 r1c3",)])
    ax = sheet(1.0, 1.0, None)
    lay_typical(ax, puzzle, shown, 0.5, 0.5, 1.0, 8.0)
    edges = [to_hex(c.get_edgecolor()[0]).upper() for c in ax.collections if c.get_zorder() == 3.0]
    assert [edges.index(HIGHLIGHT), edges.count(HIGHLIGHT)] == [0, 2]
    assert sum(len(c.get_paths()) for c in ax.collections if c.get_zorder() == 3.1) > 3
