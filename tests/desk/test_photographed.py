"""Photographs at the desk without a browser. The darkroom says which sticker is where, and where a camera saw the corners."""

import tomllib
from base64 import b64encode
from io import BytesIO

import numpy as np
import pytest
from PIL import Image

from oddswap.describing.ticket import Ticket
from oddswap.desk.photographed import wireframe
from oddswap.desk.repair_table import PUZZLES, workbench
from oddswap.desk.sheet import about
from oddswap.puzzles.catalogue import load
from tests.describing.photographs.albums import ORDER, album
from tests.desk.test_workbench import did


@pytest.fixture(scope="module")
def shelf():
    return album(4, harsh=False, off=0)


@pytest.fixture
def bench(tmp_path, monkeypatch):
    """A desk, and what it sends to its page."""
    table, sent = workbench(puzzles=["cube:3"], folder=tmp_path), []
    monkeypatch.setattr(table, "send", sent.append)
    return table, sent


def address(data: bytes) -> str:
    return f"data:image/jpeg;base64,{b64encode(data).decode()}"


def shots_of(own):
    return [[address(shot.data), {name: list(at) for name, at in shot.corners.items()}] for shot in own.shots]


def named(table, own):
    did(table, "name", colours=dict(zip(ORDER, own.palette, strict=True)), note="")


def rows_at(table):
    """The rows of the ticket as it would be saved."""
    words = {word: face for face, word in table.ticket.colours.items()}
    told = tomllib.loads(table.ticket_text)["seen"]
    return {face: [[words.get(word, word) for word in row.split()] for row in own["rows"]] for face, own in told.items()}


def test_four_corners_lay_all_lines_where_the_camera_saw_them(bench, shelf):
    table, sent = bench
    shot = shelf.shots[0]
    for names in (["UFL", "UBR", "DFR", "UFR"], list(shot.corners)):
        did(table, "stand", shot=1, shape=[620, 620], view=0, corners={name: shot.corners[name] for name in names})
        number, laid, wrong = sent[-1]["stood"]
        found = {name: at for name, _, at in laid["corners"]}
        off = max(np.abs(np.subtract(found[name], at)).max() for name, at in shot.corners.items())
        assert number == 1 and not wrong and found.keys() == shot.corners.keys() and off < (12 if len(names) == 4 else 2)
        assert len(laid["facets"]) == 27


def test_every_solid_that_is_offered_asks_for_four_corners_or_more_from_everywhere():
    names = ("cube:2", "cube:3", "cuboid:2x3x4", "shape-mod:prism8", "shape-mod:prism5")
    assert all(name in PUZZLES for name in names) and not about(load("tiles:3x3"))["photographed"]
    for puzzle in map(load, names):
        assert about(puzzle)["photographed"]
        ticket = Ticket("", puzzle, puzzle.appearance(puzzle.solved))
        for view in range(8):
            laid = wireframe(ticket, (300, 400), view, {})
            spots = np.array([at for _, _, at in laid["corners"]])
            assert len(spots) >= 4 and (spots > 0).all() and (spots < (300, 400)).all()


def test_two_photographs_become_the_ticket_once_its_colours_are_agreed_to(bench, shelf, tmp_path):
    table, sent = bench
    before = table.ticket
    did(table, "read", shots=shots_of(shelf))
    assert table.ticket is before and set(sent[-1]["read"]["palette"]) == set(ORDER)
    did(table, "correct", facets={}, agreed=True)
    assert "ordinary" in table.sheet["verdict"] and rows_at(table) == shelf.rows
    named(table, shelf)
    did(table, "read", shots=shots_of(shelf))
    assert rows_at(table) == shelf.rows and sent[-1]["read"]["palette"] == {} and not list(tmp_path.iterdir())
    paints, sure, words = sent[-1]["read"]["facets"][0]
    did(table, "correct", facets={"0": paints[1]})
    assert sure and words.startswith("the ") and paints[-1] == "" and "not by turning" in table.sheet["verdict"]
    did(table, "correct", facets={"0": paints[0]})
    assert rows_at(table) == shelf.rows


def test_pictures_are_kept_only_when_asked_for_and_hold_nothing_but_pixels(bench, shelf, tmp_path):
    table, _ = bench
    named(table, shelf)
    held, exif = BytesIO(), Image.Exif()
    exif[0x010E] = "a lane behind the bakery"
    Image.open(BytesIO(shelf.shots[0].data)).save(held, "JPEG", quality=95, exif=exif)
    (_, corners), other = shots_of(shelf)
    did(table, "read", shots=[[address(held.getvalue()), corners], other])
    did(table, "save", file="plain.toml")
    assert [path.name for path in tmp_path.iterdir()] == ["plain.toml"]
    did(table, "save", file="../mine.toml", photographs=True)
    assert {path.name for path in tmp_path.iterdir()} == {"plain.toml", "mine.toml", "mine_1.jpg", "mine_2.jpg"}
    kept = (tmp_path / "mine_1.jpg").read_bytes()
    assert b"bakery" not in kept and not Image.open(BytesIO(kept)).getexif()
    again = workbench(puzzles=["cube:3"], folder=tmp_path)
    (tmp_path / "mine_2.jpg").write_bytes(b"somebody else's")
    did(again, "take", text=(tmp_path / "plain.toml").read_text())
    did(table, "save", file="mine.toml", photographs=True)
    assert "mine_2.jpg` is there already" in table.said and (tmp_path / "mine_2.jpg").read_bytes() == b"somebody else's"
    assert again.ticket.appearance == table.ticket.appearance


@pytest.mark.parametrize(
    ("shots", "words"),
    [
        ([[address(b"no picture"), {}]], "is no picture"),
        ([["nonsense", {}]], "is no picture"),
        ([[7, {}]], "load the page anew"),
        ([["data:,%%", {}]], "load the page anew"),
        ([[None]], "load the page anew"),
        ([["", {"UFR": [1]}]], "load the page anew"),
        ([], "give 1 to"),
    ],
)
def test_what_is_no_photograph_is_said_to_be_so_and_all_stays(bench, shelf, shots, words):
    table, sent = bench
    named(table, shelf)
    before = table.ticket, table.sheet
    did(table, "read", shots=shots)
    assert words in table.said and "\n" not in table.said and (table.ticket, table.sheet) == before and not sent


def test_one_photograph_needs_the_colours_words_and_corners_that_no_camera_sees_are_said(bench, shelf):
    table, sent = bench
    did(table, "read", shots=shots_of(shelf)[:1])
    assert "one photograph does not show all colours" in table.said
    did(table, "correct", facets={"0": "U"})
    assert "read it first" in table.said
    did(table, "stand", shot=1, shape=[620, 620], view=0, corners=dict.fromkeys(("UFR", "UFL", "UBR", "DFR"), [100, 100]))
    assert sent[-1]["stood"][1] is None and "40 pixels" in sent[-1]["stood"][2] and "read it first" in table.said
    did(table, "take", text='puzzle = "cube:2"')
    did(table, "correct", facets={"0": "U"})
    assert "read it first" in table.said


def test_on_a_hub_the_page_says_that_the_server_will_see_it(monkeypatch):
    monkeypatch.delenv("JUPYTERHUB_API_URL", raising=False)
    assert "hub" not in workbench(puzzles=["cube:2"]).asks
    monkeypatch.setenv("JUPYTERHUB_API_URL", "http://10.0.0.1/hub/api")
    assert "runs on a hub: the server will see it" in workbench(puzzles=["cube:2"]).asks
