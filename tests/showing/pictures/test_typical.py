"""What small pictures of anomalies show: the changed pieces, outlined, from where they are seen."""

import re

import numpy as np
import pytest
from matplotlib.colors import to_hex

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.verdicts.alarms import alarms
from oddswap.showing.ink.camera import cameras
from oddswap.showing.ink.canvas import sheet
from oddswap.showing.ink.palette import HIGHLIGHT, LESSON
from oddswap.showing.ink.scene import scene
from oddswap.showing.pictures.typical import lay_typical, typical
from oddswap.words import say

NAMES = ["cube:3", "cube:4", "shape-mod:prism8", "corner-cube", "tetrahedron"]


def sorts(puzzle):
    found = {}
    for alarm in alarms(puzzle):
        found.setdefault((alarm.verdict, say(alarm.sort)), []).append(alarm)
    return list(found.values())


@pytest.mark.parametrize("name", NAMES)
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
