"""Pages of an answer, read and played by somebody who has the puzzle in their hands."""

import json
import re
from base64 import b64decode
from html import unescape

import numpy as np

from oddswap.describing.tickets import parse_ticket
from oddswap.reasoning.answers import answer
from oddswap.reasoning.budget import Budget
from oddswap.showing.pages.folders import answer_html
from oddswap.showing.pages.report import answer_markdown
from oddswap.words.table import reader_of
from tests.judge.cells import Held
from tests.judge.reading import promises, taken_up
from tests.judge.test_replies import case

PUZZLES = 10
"""So many cases one after the other are of as many puzzles."""
ALL = 300


def answered(ticket: str):
    read = parse_ticket(ticket)
    return answer(read.puzzle, read.appearance, Budget(2)), reader_of(read)


def few(cases, each: int):
    """So many cases of each puzzle; 300 in all where every case is asked for."""
    return range(PUZZLES * each if len(cases) < ALL else ALL)


def data_of(page: str) -> dict:
    return json.loads(re.search(r'id="answer">(.*?)</script>', page, re.DOTALL)[1])


def test_the_strip_of_a_page_leads_home_in_the_hands_that_the_page_asks_for(cases):
    played = 0
    for number in few(cases, 2):
        held, paint, ticket = case(number)
        page = answer_html(*answered(ticket))
        strip = data_of(page).get("strip")
        if strip:
            moves = " ".join(frame["name"] for frame in strip["frames"])
            assert taken_up(visible(page), held, paint).turned(moves).is_done(paint), f"case {number}\n{ticket}\n{moves}"
            played += 1
    assert played > PUZZLES


def visible(page: str) -> str:
    return unescape(re.sub(r"<script.*?</script>|<style.*?</style>|<[^>]+>", "\n", page, flags=re.DOTALL))


def test_the_viewer_shows_the_puzzle_as_it_lies_in_the_visitor_s_hands(cases):
    """Each sticker where it is drawn, of cubes, has the colour that the visitor sees there; the eye is in front, right, above."""
    shown = 0
    for number in few(cases, 3):
        held, paint, ticket = case(number)
        if len(set(held.painted.layers)) > 1 or "shape-mod" in ticket:
            continue
        data = data_of(answer_html(*answered(ticket)))
        if "pack" not in data:
            continue
        shown += 1
        layers = held.painted.layers[0]
        assert set(drawn(data, layers, paint)) == middles(held, paint), f"case {number}\n{ticket}"
        assert len(set(data["colours"].values())) == len(paint)
        assert min(data["pack"]["eye"]) > 0.2
    assert shown > PUZZLES / 2


def middles(held: Held, paint: dict[str, str]) -> set:
    """The middle of each sticker, in steps of half a layer, and its colour."""
    return {(tuple(np.round(np.mean([*corners], axis=0)).astype(int).tolist()), word) for corners, word in held.look(paint)}


def drawn(data: dict, layers: int, paint: dict[str, str]):
    """The middle of each sticker that the viewer draws, in steps of half a layer, and the word for its colour."""
    pack, labels = data["pack"], data["labels"]
    vertices = np.frombuffer(b64decode(pack["vertices"]), dtype="<i2").reshape(-1, 3) / 32000 * pack["reach"] * layers
    slot_of = {base + twist: (slot, twist) for slot, base in enumerate(pack["base"]) for twist in range(pack["twists"][slot])}
    ends = np.cumsum(pack["panels"]["corners"])
    for i, end in enumerate(ends):
        piece = pack["panels"]["piece"][i]
        if pack["roles"][pack["panels"]["role"][i]] == "sticker" and piece < len(pack["base"]):
            slot, twist = slot_of[labels[pack["base"][piece]]]
            there = matrix(pack["rotations"][pack["placements"][pack["base"][slot] + twist]])
            home = matrix(pack["rotations"][pack["placements"][pack["base"][piece]]])
            middle = there @ home.T @ vertices[end - pack["panels"]["corners"][i] : end].mean(axis=0)
            facet = pack["paints"][pack["panels"]["facet"][i]]
            yield tuple(np.round(middle).astype(int).tolist()), paint[facet]


def matrix(quaternion: list[float]) -> np.ndarray:
    """The rotation of a unit quaternion (x, y, z, w)."""
    *v, w = quaternion
    x, y, z = v
    cross = np.array([[0, -z, y], [z, 0, -x], [-y, x, 0]])
    return np.eye(3) + 2 * w * cross + 2 * cross @ cross


SET_UP = re.compile(r"From solved: (hold it .*?), and make `([^`]*)`")


def test_a_set_up_makes_what_the_visitor_sees(cases):
    made = 0
    for number in few(cases, 3):
        held, paint, ticket = case(number)
        found, reader = answered(ticket)
        text = answer_markdown(found, reader=reader)
        if found.set_up:
            hold, moves = SET_UP.search(text).groups()
            after = taken_up(hold, held.painted.solved, paint).turned(moves)
            assert after.look(paint) == held.look(paint), f"case {number}\n{ticket}\n{text}"
            made += 1
    assert made > PUZZLES


def test_the_ways_of_the_explainer_s_page_lead_home_in_the_holding_that_it_names(cases):
    for number in few(cases, 2):
        held, paint, ticket = case(number)
        found, reader = answered(ticket)
        way = re.search(r"## A way out\n(.*?)\n## ", answer_markdown(found, reader=reader), re.DOTALL)
        if way and promises(way[1]):
            taken = taken_up(way[1], held, paint)
            moves = next(line.strip("`") for line in way[1].splitlines() if re.fullmatch(r"`[^`]+`", line))
            assert taken.turned(moves).is_done(paint), f"case {number}\n{ticket}\n{way[1]}"
