"""One move, large: what turns stands out, with one arrow in each of the two pictures."""

import numpy as np
import pytest
from matplotlib.colors import to_hex

from oddswap.puzzles.catalogue import load
from oddswap.showing.ink.camera import cameras
from oddswap.showing.ink.palette import ARROW, colours_for, mix
from oddswap.showing.pictures.strip import draw_move

CUBE = load("cube:3")


def inks(figure) -> list[set[str]]:
    """The colours of each collection."""
    return [{to_hex(face).upper() for face in c.get_facecolor()} for c in figure.axes[0].collections]


def test_both_points_of_view_of_the_prints_are_named():
    words = [text.get_text() for text in draw_move(CUBE, CUBE.solved).axes[0].texts]
    assert words == [camera.words for camera in cameras(CUBE)]


def test_at_rest_nothing_is_faded_and_nothing_turns():
    first, second = inks(draw_move(CUBE, CUBE.solved))
    stickers = set(colours_for(CUBE).values())
    assert stickers <= first | second


@pytest.mark.parametrize("name", ["R", "U'", "D2", "B"])
def test_a_turn_has_an_arrow_in_each_picture_and_the_rest_is_faded(name):
    figure = draw_move(CUBE, CUBE.solved, [CUBE.turns[name]])
    pictures, arrows = inks(figure)[::2], inks(figure)[1::2]
    assert len(pictures) == len(arrows) == 2
    assert all(ARROW in colours for colours in arrows)
    faded = {mix(colour, "#FFFFFF", 0.62) for colour in colours_for(CUBE).values()}
    assert all(faded & colours for colours in pictures)


def test_the_visitors_colours_are_used():
    first, second = inks(draw_move(CUBE, CUBE.solved, colours={"U": "#123456"}))
    assert "#123456" in first | second


def test_another_move_is_another_picture():
    one, other = (
        np.concatenate([p.vertices for p in draw_move(CUBE, CUBE.solved, [CUBE.turns[t]]).axes[0].collections[0].get_paths()])
        for t in ("R", "R'")
    )
    assert one.shape != other.shape or not np.allclose(one, other)
