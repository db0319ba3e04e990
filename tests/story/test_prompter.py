"""The prompter's page: its data, its size, and that text stays text."""

from __future__ import annotations

import json
import re
from dataclasses import replace

import pytest

from oddswap.story.prompter import prompter_page
from oddswap.story.telling.beats import story_of
from oddswap.story.telling.timeline import timeline
from tests.story.stories import NOTE, TICKETS, told


def data_of(page: str) -> dict:
    return json.loads(re.search(r"const story = (.*);\n", page)[1])


@pytest.mark.parametrize("case", TICKETS)
def test_every_sentence_and_every_move_is_a_step(case):
    found = told(case)
    times = timeline(story_of(found), found)
    page = prompter_page(found, times)
    data = data_of(page)
    assert [step["say"] for step in data["steps"] if step["say"]] == [s for beat in times.story.beats for s in beat.says]
    moves = [step["move"] for step in data["steps"] if step["move"]]
    assert moves == [name for names in times.names for name in names]
    by_hand = "No turning sets this up: arrange it by hand, as the page says."
    assert data["setUp"].startswith(f"Put this on a copy. From solved: {found.set_up}." if found.set_up else by_hand)
    assert [step["hold"] for step in data["steps"] if step["move"]] == [name[0] in "xyz" for name in moves]
    sides = 1 if found.puzzle.geometry is None else 2
    assert all(len(step["views"]) == sides for step in data["steps"] if step["move"] and not step["hold"])
    assert NOTE not in page and len(page) < 1_000_000
    assert not re.search(r"https?://|src=\"(?!data:)|url\(", page), "nothing is loaded from elsewhere"


def test_markup_in_a_story_cannot_leave_the_data():
    story = story_of(told("ordinary"))
    nasty = "</script><script>alert(1)</script> & more."
    story = replace(story, beats=(replace(story.beats[0], says=(nasty,)), *story.beats[1:]))
    page = prompter_page(told("ordinary"), timeline(story, told("ordinary")))
    assert "<script>alert" not in page and page.count("</script>") == 1
    assert data_of(page)["steps"][0]["say"] == nasty
