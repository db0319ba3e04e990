"""The explainer's own copy, in other colours and held otherwise: its set-up makes what is seen, and the reply is the same."""

import json
import random
import re

import pytest

from oddswap.describing.tickets import parse_ticket
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.ticket_answers import answer_to
from oddswap.showing.pages.report import answer_data, answer_markdown, reply_text
from oddswap.story.prompter import prompter_page
from oddswap.story.telling.beats import story_of
from oddswap.story.telling.timeline import timeline
from oddswap.words.table import at_work, reader_of
from tests.judge.cells import HOLDINGS, Held, mixed
from tests.judge.reading import middle_of, taken_up
from tests.judge.test_replies import HALVES, PUZZLES
from tests.judge.visitor import holdings_of, painted_by, told_by_pieces, told_by_rows

OWN = ["cube:3", "shape-mod:prism8", "cube:2", "cube:5", "cuboid:3x3x2"]
MADE = re.compile(r"## To set it up on your own copy\n\nFrom solved: (hold it .*?), and make `([^`]*)`")


def case(number: int):
    """A puzzle in a visitor's hands, a solved copy in an explainer's, and the ticket without and with what that copy is like."""
    dice = random.Random(number)
    name = OWN[number % len(OWN)]
    painted, turns = PUZZLES[name]
    paint, own_paint = painted_by(painted, dice), painted_by(painted, dice)
    half = dice.random() < 0.4
    held = mixed(painted.solved, HALVES if half else turns, dice.choice((1, 2, 3, 4)), dice)
    if name.startswith("shape-mod"):
        ticket = told_by_pieces(name, held, paint, dice)
    else:
        held = held.moved(dice.choice(holdings_of(painted)))
        ticket = told_by_rows(name, held, paint)
    copy = painted.solved.moved(dice.choice(holdings_of(painted)))
    lines = ["[mine]", *(['turns = "half"'] if half else []), f'held = "{as_held(copy, own_paint)}"', "[mine.colours]"]
    lines += [f'{facet} = "{word}"' for facet, word in own_paint.items()]
    return (held, paint), (copy, own_paint, half), ticket, ticket + "\n".join(lines) + "\n"


def as_held(copy: Held, paint: dict[str, str]) -> str:
    """How somebody says it who looks at the middle of the top and of the front, or at a corner where no piece is there."""
    x, y, z = (n - 1 for n in copy.painted.layers)
    words = [middle_of(copy, paint, face) or {copy.shown((x, y, z), face, paint)} for face in "UF"]
    return "{} up, {} in front".format(*(" and ".join(sorted(one)) for one in words))


def same_but_for_holding(one: Held, other: Held, paint: dict[str, str]) -> bool:
    seen = other.look(paint)
    return any(one.moved(rotation).look(paint) == seen for rotation in HOLDINGS)


def answered(ticket: str):
    read = parse_ticket(ticket)
    return answer_to(read, Budget(3)), reader_of(read)


def test_the_set_up_makes_what_is_seen_on_the_explainer_s_own_copy_and_the_reply_knows_nothing_of_it(cases):
    made = refused = 0
    for number in cases[: max(20, len(cases) // 2)]:
        (held, _), (copy, paint, half), ticket, with_mine = case(number)
        found, reader = answered(with_mine)
        assert reply_text(found, reader) == reply_text(*answered(ticket)), f"case {number}"
        page, data = answer_markdown(found, reader=reader), answer_data(found)
        if not MADE.search(page):
            refused += 1
            assert half and data["set_up"]["moves"] is None or held.is_done(paint), f"case {number}\n{with_mine}\n{page}"
            assert held.is_done(paint) or "Your own copy makes other turns" in page
            continue
        hold, moves = MADE.search(page).groups()
        taken = taken_up(hold, copy.painted.solved, paint)
        assert taken.look(paint) == copy.look(paint), f"case {number}: {hold}\n{with_mine}"
        assert same_but_for_holding(taken.turned(moves), held, paint), f"case {number}\n{with_mine}\n{page}"
        assert not half or all(move.endswith("2") for move in moves.split()), f"case {number}: {moves}"
        made += 1
    assert made > 3 * refused


@pytest.mark.parametrize("first", range(len(OWN)))
def test_what_the_prompter_says_sets_up_and_leads_home_on_the_own_copy(first):
    for number in range(first, first + 3 * len(OWN), len(OWN)):
        (held, _), (copy, paint, _), _, with_mine = case(number)
        own, hands = at_work(*answered(with_mine))
        story = story_of(own, reader=hands)
        page = prompter_page(own, timeline(story, own), hands)
        data = json.loads(re.search(r"const story = (\{.*\});", page)[1])
        if not own.set_up or held.is_done(paint):
            continue
        hold, moves = re.search(r"(hold it .*?), and make ([^.]*)\.", data["setUp"]).groups()
        there = taken_up(hold, copy.painted.solved, paint).turned(moves)
        assert same_but_for_holding(there, held, paint)
        words, back = (" ".join(step[key] for step in data["steps"] if step[key]) for key in ("say", "move"))
        assert taken_up(words, there, paint).turned(back).is_done(paint), f"case {number}\n{with_mine}\n{words}\n{back}"
        assert taken_up(words, there, paint).look(paint) == there.look(paint), "the hands need not take it up in another way"
