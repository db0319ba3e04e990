"""The frames of a clip's MP4, looked at by somebody who has the puzzle in their hands and turns along."""

import random
import subprocess

import numpy as np

from oddswap.showing.ink.palette import PAPER
from oddswap.showing.ink.stand_ins import stand_ins
from oddswap.story import ffmpeg
from oddswap.story.clip import Film, write_clip
from oddswap.story.telling.beats import story_of
from oddswap.story.telling.timeline import timeline
from tests.judge.cells import AXES, Held, mixed
from tests.judge.reading import taken_up
from tests.judge.test_pages import answered
from tests.judge.test_replies import PUZZLES
from tests.judge.visitor import holdings_of, painted_by, told_by_rows

HIGH, RATE = 270, 6
EYE = 7 * 3**0.5
"""How far the eye is from the middle of a cube, in half-edges: seven times the distance of its corners."""


def seen_colours(frame: np.ndarray, held: Held, paint: dict[str, str], towards: np.ndarray, spot) -> list[tuple[str, np.ndarray]]:
    """For each sticker that an eye in the direction ``towards`` (3,) sees squarely, its paint and the colour in the frame."""
    right = np.cross([0.0, 1.0, 0.0], towards)
    right /= np.linalg.norm(right)
    up, dots, found = np.cross(towards, right), HIGH / 9.0, []
    for home in held.rotated:
        place = held.place(home)
        for face, (axis, end) in AXES.items():
            if place[axis] * end == 2 and towards[axis] * end > 0.35:
                at = np.array(place, dtype=float) / 3
                at[axis] = end
                across, high = np.array([at @ right, at @ up]) / (1 - at @ towards / EYE)
                x, y = spot.x + spot.scale * across, spot.y + spot.scale * high
                patch = frame[round(HIGH - dots * y) - 1 : round(HIGH - dots * y) + 2, round(dots * x) - 1 : round(dots * x) + 2]
                found.append((held.shown(place, face, paint), np.median(patch.reshape(-1, 3), axis=0)))
    return found


def test_after_every_turn_the_mp4_shows_the_colours_that_hands_see(tmp_path):
    """Moves are read off the strip on the picture, the hands take the puzzle up as the captions say; the end looks solved."""
    dice = random.Random(8)
    painted, turns = PUZZLES["cube:3"]
    paint = painted_by(painted, dice)
    held = mixed(painted.solved, turns, 6, dice).moved(dice.choice(holdings_of(painted)))
    found, reader = answered(told_by_rows("cube:3", held, paint))
    times = timeline(story_of(found, reader=reader), found, RATE)
    hands = taken_up(" ".join(cue.text for cue in times.cues), held, paint)
    film = Film(found, times, "wide", HIGH, stand_ins(reader.colours))
    path, raw = write_clip(film, tmp_path / "clip.mp4"), tmp_path / "clip.raw"
    decode = ["-i", path, "-f", "rawvideo", "-pix_fmt", "rgb24", raw]
    subprocess.run([ffmpeg.program(), "-loglevel", "error", *map(str, decode)], stdin=subprocess.DEVNULL, check=True)
    frames = np.fromfile(raw, dtype=np.uint8).reshape(-1, HIGH, HIGH * 16 // 9, 3)
    assert len(frames) == times.frames
    stage, known, made, moving = film.stage(), {}, 0, False
    for shot in times.shots:
        if shot.moving and not shot.again:
            texts = stage.figure(shot, shot.first).axes[0].texts
            (name,) = [text.get_text() for text in texts if text.get_weight() == "bold" and text.get_color() == PAPER]
            hands, made = hands.turned(name), made + 1
        elif moving and not shot.towards:
            camera = shot.camera
            spot = stage._spot(stage.puzzle, stage.layout.puzzle)
            for colour, seen in seen_colours(frames[shot.first], hands, paint, camera.direction @ camera.frame, spot):
                assert np.abs(known.setdefault(colour, seen) - seen).max() < 40, (name, colour)
        moving = shot.moving
    assert made >= 3 and len(known) >= 4 and hands.is_done(paint)
    pairs = [(one, other) for one in known for other in known if one < other]
    assert all(np.abs(known[one] - known[other]).max() > 20 for one, other in pairs), "else colours could not be told apart"
