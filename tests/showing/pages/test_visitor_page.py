"""The visitor's page as a file: what it weighs, what it asks of others, what it refuses, and whose files it leaves alone."""

import json
import re
from base64 import b64decode
from zlib import decompress

import pytest
import segno

from oddswap.errors import BadOption
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.verdicts.alarms import alarms
from oddswap.showing.pages.visitor_page import PUZZLES, visitor_html, write_visitor_page
from oddswap.words.products.visitor_page import usual_words

CODE = "https://repair.example.org/visitor.html"


@pytest.fixture(scope="module")
def pages():
    return {
        "one": visitor_html([load("cube:3")]),
        "any": visitor_html(map(load, PUZZLES)),
        "hosted": visitor_html([load("cube:2")], CODE),
    }


def test_a_page_weighs_at_most_250_kb_and_asks_for_nothing(pages):
    for page in pages.values():
        assert len(page.encode()) <= 250_000
        assert not any(
            word in page for word in ("fetch(", "XMLHttpRequest", "localStorage", "indexedDB", "innerHTML", " src=", "@import")
        )
        assert "default-src 'none'" in page and page.count("<script") == 2


@pytest.mark.parametrize("name", [*PUZZLES, "cube:5", "octahedron", "shape-mod:prism8,slabs=4", "rings:7+7", "wedges:12"])
def test_the_usual_sights_are_said_in_plain_words(name):
    """No slot, no letter of a face, no number and no word of ours: what a picture of it is called at a table."""
    puzzle, ours = load(name), ("T-centre", "wing", "oblique", "diagonal", "slab", "like ", ".")
    for alarm in alarms(puzzle):
        words = usual_words(puzzle, alarm.sort)
        assert words[1:] == words[1:].lower() and not any(map(str.isdigit, words)), words
        assert not any(word in words for word in ours), words


def test_sights_of_pieces_with_writing_say_which_and_those_beside_the_gap_come_first():
    """A tray, row by row: what is put right last is shown first, and every caption names the two tiles of its own picture."""
    packed = re.search(r'<script type="application/json"[^>]*>(.*?)</script>', visitor_html([load("tiles:4x4")]), re.DOTALL)[1]
    (tray,) = json.loads(decompress(b64decode(json.loads(packed))))["puzzles"]
    usual = tray["usual"]
    assert usual[0]["words"] == "Tiles 14 and 15 swapped" and len({sight["words"] for sight in usual}) == len(usual) == 12
    for sight in usual:
        moved = [i for i, label in enumerate(sight["labels"]) if i != label]
        assert re.findall(r"\d+", sight["words"]) == [str(i + 1) for i in moved] and moved == sight["marked"]


def test_only_a_hosted_page_has_a_code_and_says_that_a_host_may_log(pages):
    assert "http" not in pages["one"].replace("http-equiv", "") and "<svg" not in pages["one"] and "may log" not in pages["one"]
    assert CODE in pages["hosted"] and "<svg" in pages["hosted"] and "may log" in pages["hosted"]


def test_the_code_is_drawn_whole_with_its_quiet_zone(pages):
    """The makers of the code answer for what it says; four squares of margin as in ISO/IEC 18004."""
    drawing = pages["hosted"].partition("<svg")[2].partition("</svg>")[0]
    squares = int(drawing.partition('width="')[2].partition('"')[0]) // 4 - 8
    assert squares == len(segno.make(CODE, micro=False).matrix) and squares % 4 == 1 and "M4 4.5h7" in drawing


def test_what_somebody_changed_stays(tmp_path, capsys):
    path = tmp_path / "visitor.html"
    assert write_visitor_page([load("cube:2")], path) == path
    assert write_visitor_page([load("tiles:2x2")], path) == path
    path.write_text("mine", "utf-8")
    beside = write_visitor_page([load("cube:2")], path)
    assert beside.name == "visitor.new.html" and path.read_text("utf-8") == "mine" and "stays" in capsys.readouterr().err
    assert write_visitor_page([load("cube:2")], tmp_path / "other.html").name == "other.html" and beside.exists()


@pytest.mark.parametrize(
    "address", ["example.org", "ftp://a/b", "https://", "https://[::1", "https://a\nb", "https://" + "a" * 400]
)
def test_what_is_no_address_is_refused(address):
    with pytest.raises(BadOption, match="no address of a page"):
        visitor_html([load("cube:2")], address)


def test_a_puzzle_that_nobody_can_touch_is_refused():
    visitor_html([load("tiles:6x6")])
    with pytest.raises(BadOption, match="nobody can touch"):
        visitor_html([load("cube:9")])
