"""Clips: pictures of 1080 lines drawn on one core, beside matplotlib's own 3D axes, and rendering beside playing.

Run with ``-n 0 --benchmark-enable``.
"""

from __future__ import annotations

import time
from dataclasses import replace

import numpy as np
import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from mpl_toolkits.mplot3d.art3d import Poly3DCollection

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.answers import answer
from oddswap.reasoning.budget import Budget
from oddswap.showing.ink.camera import cameras
from oddswap.showing.ink.palette import CUT, colours_for
from oddswap.showing.ink.scene import scene
from oddswap.story.clip import Film, write_clip
from oddswap.story.folder import write_story_files
from oddswap.story.large_words import WIDE
from oddswap.story.stage import Stage
from oddswap.story.telling.beats import story_of
from oddswap.story.telling.story_file import write_story
from oddswap.story.telling.timeline import timeline
from oddswap.words.table import VISITOR
from tests.story.stories import told

FRAMES = 24


def ours() -> None:
    found = told("lookalike")
    times = timeline(story_of(found), found)
    stage = Stage(found, times, WIDE, None, 1080)
    turns = [shot for shot in times.shots if shot.moving]
    for shot in turns[:1]:
        for frame in range(shot.first, shot.first + FRAMES):
            stage.picture(shot, frame)


def axes_of_matplotlib() -> None:
    """The same polygons from both sides in 3D axes, turned as far, on a sheet of the same size."""
    puzzle = load("shape-mod:prism8")
    turn, colours = puzzle.turns["U"], colours_for(puzzle)
    figure = Figure(figsize=(16, 9), dpi=120)
    canvas = FigureCanvasAgg(figure)
    both = [figure.add_subplot(1, 2, i, projection="3d") for i in (1, 2)]
    for frame in range(FRAMES):
        for axes, camera in zip(both, cameras(puzzle), strict=True):
            axes.clear()
            axes.set_axis_off()
            panels = scene(puzzle, puzzle.solved, camera, [(turn, frame / FRAMES)]).panels
            faces = [colours.get(panel.paint, CUT) for panel in panels]
            axes.add_collection3d(Poly3DCollection([panel.vertices for panel in panels], facecolors=faces))
            axes.set(xlim=(-2, 2), ylim=(-2, 2), zlim=(-2, 2))
        canvas.draw()
        np.asarray(canvas.buffer_rgba())


@pytest.mark.parametrize("draw", [ours, axes_of_matplotlib])
def test_frames_in_mid_turn(benchmark, draw):
    """Divide by ``FRAMES`` for one frame; 33 ms each keep up with 30 frames a second."""
    draw()
    benchmark.pedantic(draw, rounds=3, iterations=1)


def test_rendering_beside_playing(benchmark, tmp_path, capsys):
    found = told("ordinary")
    story = story_of(found)
    story = replace(story, beats=tuple(replace(beat, says=beat.says[:1]) for beat in story.beats))
    film = Film(found, timeline(story, found), "wide", 1080)
    began = time.perf_counter()
    benchmark.pedantic(write_clip, args=(film, tmp_path / "clip.mp4"), rounds=1, iterations=1)
    with capsys.disabled():
        took = time.perf_counter() - began
        print(f"\n{film.times.seconds:.1f} s of clip in {took:.1f} s: {film.times.seconds / took:.2f} times as fast as it plays")


def test_a_preview_of_a_box_of_24_turns(benchmark, tmp_path, capsys):
    """All that ``--preview`` does once the answer is known, in a third of the playing time at most."""
    box = load("cuboid:2x3x4,turns=box")
    moves = " ".join(["R2 U2 F2 2B2", "D2 L2 2F2 R2", "B2 U2 R2 2F2"] * 2)
    found = answer(box, box.appearance(box.follow(box.read(moves), box.solved)), Budget(20.0, 500_000_000))
    story = story_of(found)
    turns = box.undone(box.read(moves))
    way = next(number for number, beat in enumerate(story.beats) if beat.moves)
    beats = [replace(beat, moves=str(turns) if number == way else "") for number, beat in enumerate(story.beats)]
    (tmp_path / "story.toml").write_text(write_story(replace(story, beats=tuple(beats))))
    began = time.perf_counter()
    benchmark.pedantic(write_story_files, args=(found, tmp_path, VISITOR, ["preview"]), rounds=1, iterations=1)
    took, plays = time.perf_counter() - began, timeline(replace(story, beats=tuple(beats)), found).seconds
    with capsys.disabled():
        print(f"\n{plays:.1f} s of preview in {took:.1f} s: {plays / took:.2f} times as fast as it plays")
