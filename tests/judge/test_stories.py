"""Handouts, captions, scripts and prompters, read and played by somebody who has the puzzle in their hands, as replies are."""

import json
import random
import re
from html import unescape

import pytest
from pypdf import PdfReader

from oddswap.showing.ink.canvas import write_pdf
from oddswap.story.handout import handout_pages
from oddswap.story.prompter import prompter_page
from oddswap.story.script import script_markdown
from oddswap.story.telling.beats import story_of
from oddswap.story.telling.captions import as_webvtt
from oddswap.story.telling.timeline import timeline
from tests.judge.altering import altered
from tests.judge.cells import mixed
from tests.judge.reading import HOLD, colours_at, spelled_out, taken_up
from tests.judge.test_pages import ALL, PUZZLES, answered, few
from tests.judge.test_replies import PUZZLES as EVERY
from tests.judge.test_replies import case
from tests.judge.visitor import holdings_of, painted_by, told_by_rows

THREE = {"corners": "R' F R' B2 R F' R' B2 R2", "edges": "F2 U L R' F2 L' R U F2"}
"""Turns that make three pieces change places and nothing else, as is common practice."""
COUNTS = re.compile(r"([Tt]wo|[Tt]hree|[Ff]our) (corners|edges) do not look right")
SLOT = re.compile(r"\b[UDFBLR]{2,3}\b")
"""Names that nobody knows who was never told of slots."""


@pytest.mark.parametrize("paper", ["script", "prompter", "handout", "captions"])
def test_what_a_story_says_and_shows_leads_home(paper, cases, tmp_path):
    played = 0
    for number in few(cases, 1):
        held, paint, ticket = case(number)
        found, reader = answered(ticket)
        if found.way_out is None or not found.way_out.moves:
            continue
        story = story_of(found, reader=reader)
        words, moves = READ[paper](found, timeline(story, found), reader, tmp_path)
        assert taken_up(words, held, paint).turned(moves).is_done(paint), f"case {number}\n{ticket}\n{words}\n{moves}"
        played += 1
    assert played > PUZZLES / 2


@pytest.mark.parametrize("paper", ["handout", "captions"])
def test_one_altered_holding_colour_sign_or_amount_does_not_lead_home(paper, cases, tmp_path):
    """Of cubes of three layers with a way of five turns and more, so that no symmetry makes up for it."""
    tried, number, wanted = 0, 0, ALL if len(cases) >= ALL else ALL // 10
    while tried < wanted:
        dice = random.Random(f"{paper} {number}")
        number += 1
        painted, turns = EVERY["cube:3"]
        paint = painted_by(painted, dice)
        held = mixed(painted.solved, turns, 7, dice).moved(dice.choice(holdings_of(painted)))
        found, reader = answered(told_by_rows("cube:3", held, paint))
        if not found.way_out or not found.way_out.moves or len(set(re.sub("['2]", "", found.way_out.moves).split())) < 3:
            continue
        words, moves = READ[paper](found, timeline(story_of(found, reader=reader), found), reader, tmp_path)
        for _ in range(10):
            hold, other = altered(HOLD.search(words)[0], moves, dice)
            try:
                done = taken_up(hold, held, paint).turned(other).is_done(paint)
            except ValueError:
                done = False
            assert not done, f"{number}: {hold} {other}, where {words} {moves}"
            tried += 1


@pytest.mark.parametrize("paper", ["handout", "captions"])
@pytest.mark.parametrize("kind", THREE)
def test_what_is_seen_is_told_as_it_is(paper, kind, tmp_path):
    """As many pieces as are seen to be out of place, of their kind, and by no name of a slot."""
    for number in range(3):
        dice = random.Random(number)
        painted, _ = EVERY["cube:3"]
        paint, holding = painted_by(painted, dice), dice.choice(holdings_of(painted))
        held, home = painted.solved.turned(THREE[kind]).moved(holding), painted.solved.moved(holding)
        wrong = [at for at in map(home.place, painted.cells) if colours_at(held, at, paint) != colours_at(home, at, paint)]
        assert {sum(map(bool, at)) for at in wrong} == {3 if kind == "corners" else 2}
        found, reader = answered(told_by_rows("cube:3", held, paint))
        words, _ = READ[paper](found, timeline(story_of(found, reader=reader), found), reader, tmp_path)
        ((count, family),) = COUNTS.findall(words)
        assert (["two", "three", "four"].index(count.lower()) + 2, family) == (len(wrong), kind), words
        assert paper == "handout" or not SLOT.search(words), words  # what is drawn on a handout bears letters


def read_captions(found, times, reader, folder):
    """What stands below the film, and the moves that are named on it one after another."""
    cues = as_webvtt(times.cues, times.frames_a_second).split("\n\n")[1:]
    words = " ".join(unescape(" ".join(cue.splitlines()[2:])) for cue in cues)
    return words, " ".join(name for names in times.names for name in names)


def read_script(found, times, reader, folder):
    text = script_markdown(times)
    return text.split("## Words")[1], " ".join(unescape(name) for name in re.findall(r"\*\*([^*]+)\*\*", text))


def read_prompter(found, times, reader, folder):
    steps = json.loads(re.search(r"const story = (\{.*\});", prompter_page(found, times, reader))[1])["steps"]
    return " ".join(step["say"] for step in steps), " ".join(step["move"] for step in steps if step["move"])


def read_handout(found, times, reader, folder):
    """What stands on the paper: the moves are in the headings of the parts, and below the pictures where these are few."""
    pages = PdfReader(write_pdf(handout_pages(found, times, dict(reader.colours)), folder / "handout.pdf")).pages
    text = "\n".join(page.extract_text() for page in pages)
    ways = re.findall(r"^The way out(?:, part \d+)?(?:: [a-z][a-z ]*)?: ([^a-z]*?)$(?=\n(?:[A-Z][a-z]|A ))", text, re.MULTILINE)
    words, moves = " ".join(text.split()), spelled_out(" ".join(" ".join(ways).split()))
    if strip := re.search(r"((?:\d+ \S+ )+)result$", words):
        assert strip[1].split()[1::2] == moves.split()
    return words, moves


READ = {"script": read_script, "prompter": read_prompter, "handout": read_handout, "captions": read_captions}
