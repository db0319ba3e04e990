"""Names of turns that are no single letter are explained on whatever page they are printed."""

import re

from oddswap.describing.tickets import parse_ticket
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.checking.check import check
from oddswap.reasoning.opening.ways_map import ways_map
from oddswap.reasoning.teaching.carried_out import carry_out
from oddswap.reasoning.teaching.plans import read_plan
from oddswap.reasoning.teaching.toolbox import toolbox
from oddswap.reasoning.ticket_answers import answer_to
from oddswap.showing.pages.check_page import check_markdown
from oddswap.showing.pages.folders import answer_html
from oddswap.showing.pages.report import answer_markdown, reply_text
from oddswap.showing.pages.ways_page import plan_markdown, tools_markdown, ways_markdown
from oddswap.story.script import script_markdown
from oddswap.story.telling.beats import story_of
from oddswap.story.telling.timeline import timeline
from oddswap.words.table import reader_of

BOX = 'puzzle = "cuboid:2x3x4"\nchanges = ["swap UFL UBR"]'
LARGE = 'puzzle = "cube:4"\nafter = "2R U 3Fw\'"\n[notation]\nleading_number = "slab"'
NAMES = re.compile(r"(?<![\w.])(\d+[UDFBLR]|\d*[UDFBLR]w|([UDFBLR])\2+|[MES])(?=[2' \])]|$)")
"""An inner layer, several at once, what sticks out of a box, a middle layer."""


def pages():
    for text in (BOX, LARGE):
        ticket = parse_ticket(text)
        found, reader = answer_to(ticket, Budget(8)), reader_of(ticket)
        yield answer_markdown(found, reader=reader)
        yield answer_html(found, reader).split("<script")[0]
        yield reply_text(found, reader)
        yield script_markdown(timeline(story_of(found, reader=reader), found))
    large, box = load("cube:4"), load("cuboid:2x3x4")
    yield check_markdown(large, check(large, large.appearance(large.follow("2R U")), "U' 2R'"))
    yield tools_markdown(large, toolbox(large, Budget(4)))
    yield ways_markdown(ways_map(box, 5, Budget(20)))
    cube = load("cube:3")
    yield plan_markdown(cube, carry_out(cube, read_plan(), cube.follow("R"), Budget(4)), "M R")


def test_every_such_name_on_a_page_is_explained_there():
    found = 0
    for page in pages():
        printed = re.findall(r"`([^`\n]+)`|<code>([^<]+)</code>|\*\*([^*a-z]+)\*\*", page)
        for name in {match[1] for parts in printed for match in NAMES.finditer("".join(parts))}:
            said = [rf"\b{name} is ", rf"a {name[0]} before a letter is", "letter with w is"]
            assert any(re.search(words, page, re.IGNORECASE) for words in said), f"{name}\n{page}"
            found += 1
    assert found > 8
