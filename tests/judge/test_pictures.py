"""Pictures along the way, read back: after each turn they show what somebody sees who has made that turn."""

import random
import re
from collections import Counter

import numpy as np
import pytest
from matplotlib.colors import to_rgb

from oddswap.errors import OddswapError
from oddswap.showing.pages.folders import answer_html, answer_pictures
from oddswap.showing.pages.report import reply_text
from tests.judge.cells import Held, box, direction
from tests.judge.reading import moves_of, taken_up
from tests.judge.test_pages import PUZZLES, answered, data_of, drawn, few, middles, visible
from tests.judge.test_replies import PUZZLES as EVERY
from tests.judge.test_replies import case
from tests.judge.visitor import holdings_of, painted_by, told_by_rows

LIKE = 0.12
"""So far, of 1, is what is printed of a colour from what others print under its name."""
OPEN = {"cuboid:2x2x4": "U U' U2 R2 F2 2F2 RR2 LL2 D", "cuboid:2x3x4": "U U' 2F2 RR2 LL2 F2 R2 D2"}
"""Boxes that leave their outline, and turns to mix them by."""


def test_each_picture_of_a_page_shows_what_it_should_after_that_turn(cases):
    shown = 0
    for number in few(cases, 2):
        held, paint, ticket = case(number)
        if len(set(held.painted.layers)) > 1 or "shape-mod" in ticket:
            continue
        page = answer_html(*answered(ticket))
        data = data_of(page)
        if not data.get("strip"):
            continue
        shown += 1
        now, labels = taken_up(visible(page), held, paint), data["strip"]["start"]
        for frame in data["strip"]["frames"]:
            now = now.turned(frame["name"])
            for turn in frame["group"]:
                made = data["pack"]["turns"][turn - 1]
                to = dict(zip(made["moved"], made["to"], strict=True))
                labels = [to.get(label, label) for label in labels]
            after = {**data, "labels": labels}
            assert set(drawn(after, held.painted.layers[0], paint)) == middles(now, paint), f"case {number}\n{ticket}\n{frame}"
    assert shown > PUZZLES / 2


def facing(held: Held, paint: dict[str, str]) -> Counter:
    """The colours of the stickers that look to the front, to the right or up, however many of each."""
    found = Counter()
    for home, polygons in held.painted.cells.items():
        found.update(paint[facet] for facet, _ in polygons if (held.rotated[home] @ direction(facet)).sum() > 0)
    return found


def inked(collection, paint: dict[str, str]) -> Counter:
    """The visitor's colours on one small picture, each as often as it is there; what is like none of them is no sticker."""
    found = Counter()
    for face in collection.get_facecolor():
        away, word = min((float(np.abs(face[:3] - to_rgb(word)).max()), word) for word in paint.values())
        found[word] += away < LIKE
    return +found


def coloured(painted, dice: random.Random) -> dict[str, str]:
    """Colours without black, of which the bodies of pieces are drawn, and orange, which is printed much like peru."""
    paint = painted_by(painted, dice)
    return coloured(painted, dice) if {"black", "orange"} & {*paint.values()} else paint


@pytest.mark.parametrize("name", ["cube:3", "cube:2", "cube:4"])
def test_a_strip_that_tells_how_it_came_about_ends_with_what_the_visitor_sees(name, cases):
    for number in range(max(2, len(cases) // 50)):
        dice = random.Random(f"{name} {number}")
        painted, turns = EVERY[name]
        paint = coloured(painted, dice)
        held = painted.solved.turned(" ".join(dice.choice(turns) for _ in range(3))).moved(dice.choice(holdings_of(painted)))
        ticket = told_by_rows(name, held, paint)
        figures = answer_pictures(*answered(ticket))
        if not held.is_done(paint):
            assert inked(figures["came_about.png"].axes[0].collections[-1], paint) == facing(held, paint), ticket


@pytest.mark.parametrize("name", OPEN)
def test_a_box_that_changes_its_shape_looks_after_each_turn_as_its_picture_says(name, cases):
    painted, shown = box(tuple(map(int, name.split(":")[1].split("x")))), 0
    for number in range(max(6, len(cases) // 20)):
        dice = random.Random(f"{name} {number}")
        paint, word = coloured(painted, dice), " ".join(dice.choice(OPEN[name].split()) for _ in range(4))
        colours = "\n".join(f'{facet} = "{colour}"' for facet, colour in paint.items())
        ticket = f'puzzle = "{name},turns=all"\nafter = "{word}"\n[colours]\n{colours}\n'
        try:
            found, reader = answered(ticket)
        except OddswapError:
            continue  # a layer would catch
        figures, text = answer_pictures(found, reader), reply_text(found, reader)
        if "shapes.png" in figures:
            start, moves = painted.solved.turned(word), moves_of(text).split()
            axes = figures["shapes.png"].axes[0]
            told = [re.fullmatch(r"after turn (\d+): (\S+)", words.get_text()) for words in axes.texts]
            for said, collection in zip(filter(None, told), axes.collections, strict=True):
                made = moves[: int(said[1])]
                assert made[-1] == said[2]
                after = taken_up(text, start, paint).turned(" ".join(made))
                assert inked(collection, paint) == facing(after, paint), f"{ticket}\n{text}\n{said[0]}"
                shown += 1
    assert shown
