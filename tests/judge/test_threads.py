"""Letters that go on: a visitor does what each reply says, slips now and then, writes again, and comes home in the end."""

import random

import pytest

from oddswap.describing.tickets import parse_ticket
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.ticket_answers import answer_to
from oddswap.showing.pages.report import reply_text
from oddswap.words.table import reader_of
from tests.judge.cells import Held, mixed
from tests.judge.reading import moves_of, promises, taken_up
from tests.judge.test_replies import PUZZLES
from tests.judge.visitor import holdings_of, painted_by, rows, told_by_rows

LETTERS = 14
FREE = {"cube:2": 6, "cuboid:2x3x4": 5, "cube:3": 6, "cube:4": 4}
"""Puzzles with a number of turns by which they are mixed."""


def reply_to(ticket: str) -> str:
    read = parse_ticket(ticket)
    return reply_text(answer_to(read, Budget(6)), reader_of(read))


def slipped(moves: list[str], dice: random.Random) -> list[str]:
    """The moves with one of them left out, reversed, or made twice."""
    at = dice.randrange(len(moves))
    other = {"left out": [], "reversed": [backwards(moves[at])], "twice": [moves[at]] * 2}[
        dice.choice(("left out", "reversed", "twice"))
    ]
    return [*moves[:at], *other, *moves[at + 1 :]]


def backwards(move: str) -> str:
    return move if move.endswith("2") else move.removesuffix("'") if move.endswith("'") else f"{move}'"


def written(held: Held, paint: dict[str, str], did: list[str], dice: random.Random) -> str:
    """A message: what they see now, or only the turns that they are sure to have made."""
    if did and dice.random() < 0.3:
        return f'[[then]]\ndid = "{" ".join(did)}"\n'
    faces = [f"[then.seen.{face}]\nrows = {rows(held, paint, face)}".replace("'", '"') for face in "UDFBLR"]
    return "\n".join(["[[then]]", *faces, ""])


@pytest.mark.parametrize("name", FREE)
def test_a_visitor_who_slips_now_and_then_comes_home_letter_by_letter(name, cases):
    painted, turns = PUZZLES[name]
    for number in cases[: max(2, len(cases) // 6)]:
        dice = random.Random(f"{name} {number}")
        paint = painted_by(painted, dice)
        held = mixed(painted.solved, turns, FREE[name], dice).moved(dice.choice(holdings_of(painted)))
        ticket, slips, did = told_by_rows(name, held, paint), 0, []
        for _ in range(LETTERS):
            text = reply_to(ticket)
            if held.is_done(paint):
                break
            assert promises(text), f"{name} {number}\n{ticket}\n{text}"
            if did and not slips:
                count = ("one turn", "two turns", "three turns")[len(did) - 1]
                assert f"You have made {count}, and all is well." in text, f"{name} {number}\n{ticket}\n{text}"
            now, moves = taken_up(text, held, paint), moves_of(text).split()
            did = moves[: dice.randint(1, min(3, len(moves)))]
            wrong = slips < 2 and dice.random() < 0.4
            if wrong:
                slips, did = slips + 1, slipped(did, dice)
            held = now.turned(" ".join(did))
            if dice.random() < 0.3:
                turned = dice.choice(holdings_of(painted))
                held, told_turns = held.moved(turned), []
            else:
                told_turns = [] if wrong else did
            ticket += written(held, paint, told_turns, dice)
        assert held.is_done(paint), f"{name} {number}\n{ticket}"
