"""Tickets with photographs: what they fill in, what stays typed, and what is refused."""

import json
import os
from importlib.resources import files

import pytest
from jsonschema import validate
from PIL import ImageDraw

from oddswap.__main__ import main
from oddswap.describing.tickets import parse_ticket, read_pictures, read_ticket, write_ticket
from oddswap.errors import BadPhotograph, BadTicket, ContradictoryTicket, OddswapError
from tests.common.pictured import COLOURS, CORNERS, draw_sides, lay_ticket

SCHEMA = json.loads((files("oddswap.showing.pages") / "schemas" / "read.json").read_text("utf-8"))


def rows(ticket, face):
    """What is known of the nine stickers of a face, read from the ticket as it is written."""
    written = parse_ticket(write_ticket(ticket))
    places = [i for i, (_, side) in enumerate(_places(written)) if side == face]
    return [written.appearance.stickers[i] for i in places]


def _places(ticket):
    from oddswap.describing.stickers import stickers

    return stickers(ticket.puzzle).places


def test_photographs_fill_what_they_show_and_nothing_else(tmp_path):
    ticket = read_ticket(lay_ticket(tmp_path))
    for face in "UFR":
        assert all(face in may for may in rows(ticket, face))
    assert all(not may for face in "DBL" for may in rows(ticket, face))
    assert ticket.elsewhere == "turned"


def test_what_is_typed_stays(tmp_path):
    seen = {"U": {"rows": ["? ? ?", "? ? F", "? ? ?"]}, "D": {"rows": ["D D D", "D D D", "D D D"]}}
    ticket = read_ticket(lay_ticket(tmp_path, seen=seen))
    told = dict(zip(_places(ticket), ticket.appearance.stickers, strict=True))
    assert told[ticket.puzzle.slot("UR"), "U"] == {"F"} and "U" in told[ticket.puzzle.slot("UF"), "U"]
    assert all(may == {"D"} for may in rows(ticket, "D"))


def test_the_command_says_each_facet_by_its_schema(tmp_path, capsys):
    path = lay_ticket(tmp_path)
    assert main(["read", path, "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    validate(found, SCHEMA)
    in_sight = [facet for facet in found["facets"] if facet["colour"]]
    assert len(found["facets"]) == 54 and len(in_sight) == 27
    assert all(facet["colour"] == COLOURS[facet["face"]] for facet in in_sight)
    assert main(["read", path]) == 0
    page = capsys.readouterr().out
    lines = page.partition("```toml\n")[2].partition("```")[0]
    assert parse_ticket(f'puzzle = "cube:3"\n{lines}').appearance == read_ticket(path).appearance
    assert main(["answer", path, "--json", "--seconds", "4"]) == 0


def test_colours_are_shown_for_a_yes_before_anything_is_answered(tmp_path, capsys):
    path = lay_ticket(tmp_path, colours={"U": "white"})
    with pytest.raises(BadPhotograph, match="one photograph does not show all colours"):
        read_pictures(path)
    with pytest.raises(BadPhotograph, match="nobody said which colour D, F, B, L, R has: type oddswap read"):
        read_ticket(path)


def test_a_word_for_a_colour_is_shown_as_text(tmp_path, capsys):
    path = lay_ticket(tmp_path, colours=COLOURS | {"U": "<b>[a](http://b.example)</b> white"})
    image = draw_sides()
    ImageDraw.Draw(image).polygon(
        ((249, 129), (327, 154), (391, 124), (314, 102)), fill="#c0d0c0"
    )  # the middle of U is pale green
    image.save(tmp_path / "one.jpg")
    assert main(["read", path]) == 0
    page = capsys.readouterr().out
    assert "<b>" not in page and "[a](" not in page and r"\[a\](http" in page


def table(**keys):
    return [{"file": "one.jpg", "corners": CORNERS} | keys]


BAD = {
    "another folder": (table(file="../one.jpg"), "leads out of the ticket's folder"),
    "a path from the root": (table(file="/etc/hostname"), "leads out of the ticket's folder"),
    "a link that leads out": (table(file="link.jpg"), "leads out of the ticket's folder"),
    "links in a circle": (table(file="round.jpg"), "leads out of the ticket's folder|cannot be read"),
    "a name that is too long": (table(file="a" * 5000), "cannot be read"),
    "a folder": (table(file="."), "cannot be read"),
    "no such file": (table(file="two.jpg"), "cannot be read"),
    "a text": (table(file="pictured.toml"), "is no picture"),
    "no file": ([{"corners": CORNERS}], "file is missing"),
    "no corners": ([{"file": "one.jpg"}], "corners is missing"),
    "another key": (table(note="mine"), "is no key"),
    "a text as corner": (table(corners=CORNERS | {"UFL": "here"}), "give two numbers"),
    "a corner that is none": (table(corners={"UF": [1, 2]}), "is no corner of cube:3: write the sides that meet there, such as"),
    "two corners": (table(corners=dict(list(CORNERS.items())[:2])), "at least 4"),
    "corners exchanged": (table(corners=CORNERS | {"UFL": CORNERS["UBR"], "UBR": CORNERS["UFL"]}), "no camera sees"),
    "no table": (["one.jpg"], "wrong type"),
    "none": ([], "0 photographs are given"),
    "too many": (7 * table(), "7 photographs are given: give 1 to 6"),
}


@pytest.mark.parametrize("case", BAD)
def test_what_cannot_be_read_is_refused_in_one_sentence(case, tmp_path, capsys):
    photographs, said = BAD[case]
    (tmp_path / "inside").mkdir()
    (tmp_path / "one.jpg").write_bytes(b"")
    if hasattr(os, "symlink"):
        (tmp_path / "inside" / "link.jpg").symlink_to(tmp_path / "one.jpg")
        (tmp_path / "inside" / "round.jpg").symlink_to("round.jpg")
    path = lay_ticket(tmp_path / "inside", photograph=photographs)
    with pytest.raises(OddswapError, match=said):
        read_ticket(path)
    assert main(["read", path]) == 2
    out, err = capsys.readouterr()
    assert out == "" and err.count("\n") == 1


def test_a_photograph_beside_turns_contradicts_them(tmp_path):
    with pytest.raises(ContradictoryTicket, match="after tells the whole puzzle"):
        read_ticket(lay_ticket(tmp_path, after="R"))
    with pytest.raises(BadPhotograph, match="no folder"):
        parse_ticket((tmp_path / "pictured.toml").read_text("utf-8").replace('after = "R"', ""))
    with pytest.raises(BadPhotograph, match="no solid"):
        read_ticket(lay_ticket(tmp_path, puzzle="tiles:3x3", colours=None))
    with pytest.raises(BadTicket, match="no photograph"):
        read_pictures(lay_ticket(tmp_path, photograph=None, after="R"))
