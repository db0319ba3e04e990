"""Many letters at once: each in its folder, equal ones found, a bad one refused in a sentence while the rest goes on."""

import io
import json
from importlib.resources import files
from pathlib import Path

import jsonschema
import pytest

from oddswap.__main__ import main
from oddswap.describing.postcards import write_postcard
from oddswap.describing.tickets import letters_from, parse_ticket
from oddswap.errors import BadTicket

FLIP = 'puzzle = "cube:2"\nchanges = ["twist UFR cw"]\nnote = "Mrs. Green"\n'
OTHER = 'puzzle = "cube:2"\nchanges = ["twist DBL cw"]\n[colours]\nU = "gold"\n'
TURNED = 'puzzle = "cube:2"\nafter = "R U"\n'


def schema(name):
    return json.loads((files("oddswap.showing.pages") / "schemas" / f"{name}.json").read_text("utf-8"))


@pytest.fixture
def pile(tmp_path):
    """A folder of letters, with what else lies in such folders."""
    folder = tmp_path / "letters"
    (folder / "sub").mkdir(parents=True)
    (folder / "anna.toml").write_text(FLIP)
    (folder / "bert.toml").write_text(OTHER)
    (folder / "Bert.txt").write_text(write_postcard(parse_ticket(TURNED)))
    (folder / "torn.toml").write_text('puzzle = "cube:2"\nchanges = ["spin"]')
    (folder / "notes.txt").write_bytes(b"\xff\xfe")
    (folder / "photo.jpg").write_bytes(b"no letter")
    (folder / "sub" / "deep.toml").write_text(FLIP)
    return folder


def test_a_folder_is_answered_letter_by_letter(pile, tmp_path, capsys):
    assert main(["answer", str(pile), "--out", str(tmp_path / "out"), "--seconds", "12"]) == 2
    said = capsys.readouterr()
    rows = [[cell.strip() for cell in line.split("|")[1:-1]] for line in said.out.splitlines() if line.startswith("| ")]
    table = {row[0]: row[1:] for row in rows[1:]}
    assert rows[0] == ["letter", "puzzle", "verdict", "what else"]
    assert {name: row[1] for name, row in table.items()} == {
        "Bert": "ordinary",
        "anna": "not by turning",
        "bert-2": "not by turning",
        "notes": "",
        "torn": "",
    }
    assert table["bert-2"][2].startswith("the same position as anna")
    assert "spin" in table["torn"][2] and "UTF" in table["notes"][2]
    assert "Passed over: photo.jpg and sub/. A letter ends in .toml or .txt, and folders" in said.out
    assert len(said.err.splitlines()) == 2
    for name in ("Bert", "anna", "bert-2"):
        assert (tmp_path / "out" / name / "reply.md").exists() and (tmp_path / "out" / name / "answer.html").exists()
    assert not (tmp_path / "out" / "torn").exists()
    assert (tmp_path / "out" / "letters.md").read_text("utf-8") in said.out
    assert not any("Green" in path.read_text("utf-8") for path in (tmp_path / "out").rglob("*.*m*") if path.is_file())


def test_postcards_come_by_standard_input_and_go_as_lines_of_data(monkeypatch, capsys, tmp_path):
    (tmp_path / "before.toml").write_text(TURNED)
    lines = [write_postcard(parse_ticket(text)) for text in (TURNED, FLIP)]
    monkeypatch.setattr("sys.stdin", io.StringIO("\n".join([*lines, "", lines[0][:-3]])))
    assert main(["answer", "-", "--json", "--seconds", "9", "--before", str(tmp_path)]) == 2
    found = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    for one in found:
        jsonschema.validate(one, schema("letter"))
        if one["answer"] is not None:
            jsonschema.validate(one["answer"], schema("answer"))
    assert [one["answer"] and one["answer"]["verdict"] for one in found] == ["ordinary", "not by turning", None]
    assert [one["before"] for one in found] == [[{"ticket": "before", "page": None}], [], []]
    assert "copy it again" in found[2]["error"]


def test_one_letter_on_standard_input_is_answered_as_one(monkeypatch, capsys):
    monkeypatch.setattr("sys.stdin", io.StringIO(TURNED))
    assert main(["answer", "-", "--json", "--seconds", "5"]) == 0
    jsonschema.validate(json.loads(capsys.readouterr().out), schema("answer"))


def test_names_are_told_apart_and_an_empty_folder_is_refused(tmp_path):
    assert [letter.name for letter in letters_from(["a/x.toml", "b/X.toml", "c/x.txt"])[0]] == ["x", "X-2", "x-3"]
    for none in (str(tmp_path), ""):
        with pytest.raises(BadTicket, match="there are no letters: name tickets.* standard input"):
            letters_from([none])


def test_turns_are_allowed_for_one_ticket_at_a_time(pile, capsys):
    assert main(["answer", str(pile), "--turns", "half"]) == 2
    assert "one ticket at a time" in capsys.readouterr().err


def test_a_missing_ticket_is_named_beside_the_others(tmp_path, capsys):
    (tmp_path / "here.toml").write_text(TURNED)
    assert main(["answer", str(tmp_path / "here.toml"), str(Path("nowhere.toml")), "--seconds", "5"]) == 2
    said = capsys.readouterr()
    assert "ordinary" in said.out and said.err.startswith("oddswap: nowhere: the ticket `nowhere.toml` cannot be read")
