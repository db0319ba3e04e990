"""Descriptions that slipped: the reply names the slip in the visitor's colours, and what stands below it mends it."""

import random
import re

import pytest

from tests.judge.cells import mixed
from tests.judge.reading import HOLD, middle_of, play, promises
from tests.judge.test_replies import PUZZLES, answered
from tests.judge.visitor import (
    bottom_up,
    by_a_mirroring_camera,
    by_one_mirroring_camera,
    every_face_bottom_up,
    exchanged,
    from_behind,
    holdings_of,
    in_a_mirror,
    painted_by,
    rows,
    told_by_rows,
)

ASKED = re.compile(r"(?:Please look again: perhaps|Or perhaps) ")
SAME = "hold it the same way"
LATER = "Then write, and we send the turns."
"""What stands below a third slip that fits as well: a reply is short."""
MIDDLES = {"cube:3", "cube:5"}
"""Puzzles whose sides are called by the colour in their middle, in whatever way they are held."""
SLIPS = {
    "a mirroring camera": (by_a_mirroring_camera, "every face was read from right to left", ""),
    "a mirror": (in_a_mirror, "every photograph is mirrored", ""),
    "a face from behind": (from_behind("F"), "was read from right to left", "F"),
    "another face from behind": (from_behind("L"), "was read from right to left", "L"),
    "three faces of a corner": (by_one_mirroring_camera("UFR"), "were each read from right to left", "UFR"),
    "three other faces": (by_one_mirroring_camera("DBL"), "were each read from right to left", "DBL"),
    "bottom up": (bottom_up("R"), "was read from the bottom row up", "R"),
    "the top bottom up": (bottom_up("U"), "was read from the bottom row up", "U"),
    "every face bottom up": (every_face_bottom_up, "every face was read from the bottom row up", ""),
    "left for right": (exchanged("L", "R"), "were told for each other", "LR"),
    "front for back": (exchanged("F", "B"), "were told for each other", "FB"),
    "two faces": (exchanged("U", "R"), "were told for each other", "UR"),
}
SIDES = {
    "D": "the bottom side",
    "U": "the top side",
    "F": "the front side",
    "B": "the back side",
    "L": "the left side",
    "R": "the right side",
}


def side(held, paint, name: str, face: str) -> str:
    """A side as the visitor calls it."""
    return f"the {next(iter(middle_of(held, paint, face)))} side" if name in MIDDLES else SIDES[face]


@pytest.mark.one_in(3)
@pytest.mark.parametrize("name", ["cube:3", "cube:2", "cube:5", "cube:4"])
@pytest.mark.parametrize("slip", SLIPS)
def test_what_stands_below_a_slip_leads_home_and_names_it_by_colours(name, slip, cases):
    painted, turns = PUZZLES[name]
    read, words, faces = SLIPS[slip]
    found = tried = 0
    wanted = max(2, len(cases) // 40)
    for number in cases:
        dice = random.Random(f"{name} {slip} {number}")
        paint = painted_by(painted, dice)
        held = mixed(painted.solved, turns[:9], 8 if name == "cube:2" else dice.choice((4, 5)), dice).moved(
            dice.choice(holdings_of(painted))
        )
        table = {face: rows(held, paint, face) for face in "UDFBLR"}
        if any(read(table)[face] == table[face] for face in faces):
            continue  # a face that looks the same in a mirror
        text = answered(told_by_rows(name, held, paint, read=read))
        if held.is_done(paint) or not ASKED.search(text):
            continue  # there is nothing to turn, or it can be as described
        tried += 1
        hold = ""
        for part in ASKED.split(text)[1:]:
            asked, _, below = part.partition("?")
            below = below.replace(SAME, hold)
            hold = (HOLD.search(below) or [hold])[0]
            if words in asked and all(side(held, paint, name, face) in asked for face in faces):
                found += LATER in below or promises(below) and play(below, held, paint).is_done(paint)
        if tried == wanted:
            break
    assert found == tried == wanted


def test_three_faces_that_were_all_that_was_told_are_seen_through_when_each_is_mirrored(cases):
    """The reply names the slip and asks for more, from where the visitor has the faces that were not told."""
    asked = 0
    for number in cases[: max(3, len(cases) // 60)]:
        dice = random.Random(f"three {number}")
        painted, turns = PUZZLES["cube:3"]
        paint = painted_by(painted, dice)
        held = mixed(painted.solved, turns[:9], 4, dice).moved(dice.choice(holdings_of(painted)))
        text = answered(told_by_rows("cube:3", held, paint, faces="UFR", read=by_a_mirroring_camera))
        if ASKED.search(text):
            assert "every face was read from right to left" in text and "If so, please send one photograph" in text, text
            asked += 1
    assert asked
