"""Visitors who write what they turned, in words or with marks of their own: the reply leads home."""

import random

import pytest

from tests.judge.reading import play, promises
from tests.judge.test_replies import PUZZLES, answered
from tests.judge.visitor import painted_by, told_by_turns, told_in_words


@pytest.mark.parametrize("write", [told_by_turns, told_in_words])
def test_turns_as_a_visitor_writes_them_are_read_as_they_made_them(write, cases):
    played = 0
    for number in cases[: len(cases) // 10]:
        dice = random.Random(number)
        name = "cube:3" if write is told_in_words else dice.choice(("cube:3", "cube:5"))
        painted, _ = PUZZLES[name]
        paint, deep = painted_by(painted, dice), (1, 1, 2) if name == "cube:5" else (1,)
        turns = [(dice.choice(deep), dice.choice("UDFBLR"), dice.choice((1, 2, 3))) for _ in range(4)]
        ours = " ".join(
            f"{layer if layer > 1 else ''}{face}{('', '2', chr(39))[quarters - 1]}" for layer, face, quarters in turns
        )
        held = painted.solved.turned(ours)
        text = answered(write(name, turns, dice, paint))
        if promises(text):
            played += 1
            assert play(text, held, paint).is_done(paint), f"case {number}: {ours}\n{text}"
        else:
            assert held.is_done(paint), text
    assert played
