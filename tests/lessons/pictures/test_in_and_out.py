"""In and out: one picture for each position, and just the pieces that ended elsewhere are inked."""

import numpy as np
import pytest
from matplotlib.colors import to_rgb

from oddswap.describing.changes import changed
from oddswap.errors import BadOption, OddswapError
from oddswap.lessons.pictures.in_and_out import MOST, draw_in_and_out, ended_elsewhere, states_of
from oddswap.puzzles.catalogue import load
from oddswap.showing.ink.palette import HIGHLIGHT

BOX = load("cuboid:2x3x4,turns=all")
WAY = "U 2F2 RR2 2F2 U'"


def words(figure) -> list[str]:
    return [text.get_text() for text in figure.axes[0].texts]


def inked(collection) -> bool:
    """Whether something on a picture is outlined in the colour of what the text speaks of."""
    return bool((np.abs(collection.get_facecolor()[:, :3] - to_rgb(HIGHLIGHT)).max(axis=1) < 0.01).any())


@pytest.mark.parametrize("moves", [WAY, "D 2F2 LL2 2F2 D'", "U U", "U U'", "U2 L2 F2"])
def test_what_ended_elsewhere_is_what_changed_by_hand_would_show(moves):
    end = BOX.follow(moves)
    found = ended_elsewhere(BOX, BOX.solved, end)
    solved, seen = BOX.appearance(BOX.solved).sights, BOX.appearance(end).sights
    assert {BOX.slots[slot] for slot in range(len(solved)) if solved[slot] != seen[slot]} <= {BOX.slots[p] for p in found}
    assert (not found) == (end.pieces == BOX.solved.pieces)


def test_the_way_of_the_lesson_exchanges_two_corners_and_nothing_else():
    end = BOX.follow(WAY)
    assert {BOX.slots[piece] for piece in ended_elsewhere(BOX, BOX.solved, end)} == {"UFR", "UBL"}
    assert BOX.appearance(end).sights == BOX.appearance(changed(BOX, ["swap UFR UBL"])).sights
    states = states_of(BOX, BOX.solved, BOX.settled(WAY)[0])
    assert [BOX.closed(state) for state in states] == [True, False, False, False, False, True] and states[-1] == end


def test_a_picture_for_each_position_with_the_next_turn_and_what_has_become_of_the_box():
    figure = draw_in_and_out(BOX, WAY)
    told = words(figure)
    assert [word for word in told if word.startswith("next: ")] == [f"next: {turn}" for turn in WAY.split()]
    assert "after U: out" in told and "after U': a box again" in told and "elsewhere now: UFR and UBL" in told
    pictures = [c for c in figure.axes[0].collections if len(c.get_paths()) > 50]
    assert len(pictures) == 6 and all(inked(picture) for picture in pictures)
    letters = [word for word in told if word in set("UDFBLR")]
    assert set(letters) <= set("UFRBL") and len(letters) >= 4, "the stickers of the two corners that can be seen"


def test_what_came_home_is_not_inked_and_what_stays_open_says_so():
    figure = draw_in_and_out(BOX, "U U'")
    assert "every piece is where it was" in words(figure)
    assert not any(inked(c) for c in figure.axes[0].collections if len(c.get_paths()) > 50)
    assert "4 pieces stand out" in words(draw_in_and_out(BOX, "U"))
    assert "the box" in words(draw_in_and_out(BOX, ""))


def test_a_box_that_starts_elsewhere_is_compared_with_its_start():
    """After U2 the pieces of UFR and UBL are in each other's slots, so the same way brings just these two home."""
    start = BOX.follow("U2")
    assert "elsewhere now: UFR and UBL" in words(draw_in_and_out(BOX, WAY, start))
    assert len(ended_elsewhere(BOX, BOX.solved, start)) == 8 and not ended_elsewhere(BOX, start, start)


@pytest.mark.parametrize("moves", ["R", "RR2", " ".join(["U"] * (MOST + 1))])
def test_what_cannot_be_drawn_is_told_in_one_sentence(moves):
    with pytest.raises(OddswapError) as caught:
        draw_in_and_out(BOX, moves)
    assert "\n" not in str(caught.value)
    assert isinstance(caught.value, BadOption) == (len(moves) > 3)
