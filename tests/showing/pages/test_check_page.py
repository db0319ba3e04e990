"""A sequence that was tried, on the page: its words and data, and the command that says them."""

import json
from importlib.resources import files

import jsonschema
import pytest

from oddswap.__main__ import main
from oddswap.describing.changes import changed
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.checking.check import check, place_lost
from oddswap.showing.pages.check_page import check_data, check_markdown

SCHEMA = json.loads((files("oddswap.showing.pages") / "schemas" / "check.json").read_text("utf-8"))


@pytest.mark.parametrize(
    ("name", "after", "moves"),
    [("cube:3", "R U", "U R'"), ("cube:3", "R U", "U' R'"), ("cube:2", "R", ""), ("cube:3", "R U F", "L " * 61)],
)
def test_the_data_keep_to_the_schema_and_what_is_null_has_its_reason(name, after, moves):
    puzzle = load(name)
    start = puzzle.appearance(puzzle.follow(after))
    tried = check(puzzle, start, moves)
    for lost in (None, place_lost(puzzle, start, moves, start) if len(tried.turns) < 60 else None):
        data = check_data(puzzle, tried, lost)
        jsonschema.validate(data, SCHEMA)
        for field in ("best", "left_after", "place"):
            assert (data[field] is None) == any(note.startswith(f"{field} is null") for note in data["notes"])
    assert data["length"] == len(data["turns"]) == len(moves.split())
    assert (len(data["turns"]) > 60) == any("near sequences" in note for note in data["notes"])


def test_the_page_tells_what_to_mend_and_the_length_beside_the_best():
    cube = load("cube:3")
    start = cube.appearance(cube.follow("R U F L"))
    page = check_markdown(cube, check(cube, start, "L' F' U R'"))
    assert page.startswith("# Not yet:")
    assert "`L' F' U' R'` – turn 3, U, reversed" in page
    assert "The first 2 turns begin a shortest way; turn 3 leaves it." in page
    assert "The first 2 turns can stay as they are." in page
    page = check_markdown(cube, check(cube, start, "L' F' U' R' D D'"))
    assert page.startswith("# Yes:") and "yours is 2 turns longer" in page
    assert "this is proved" in check_markdown(cube, check(cube, start, "L' F' U' R'"))
    as_written = check_markdown(cube, check(cube, start, "Rw U"), written="Rw U")
    assert "`Rw U`\n\nTurn by turn, with the puzzle held as at the start: `L F`" in as_written
    assert "Turn by turn" not in check_markdown(cube, check(cube, start, "L F"), written="L F")


def test_what_no_turns_solve_is_no_fault_of_the_sequence():
    puzzle = load("cube:2,turns=half")
    start = puzzle.appearance(changed(puzzle, ["twist UFR cw"]))
    tried = check(puzzle, start, "R2", Budget(5.0))
    jsonschema.validate(check_data(puzzle, tried), SCHEMA)
    assert "the mistake is not in your sequence" in check_markdown(puzzle, tried)


def test_the_place_is_told_with_how_to_go_on():
    cube = load("cube:3")
    start, way = cube.appearance(cube.follow("R U F L")), "L' F' U' R'"
    tried = check(cube, start, way)
    page = check_markdown(cube, tried, place_lost(cube, start, way, cube.appearance(cube.follow("R U"))))
    assert "After 2 turns, all of them right: go on with `U' R'`." in page
    assert page.endswith("\n\nThe puzzle is taken to be held now as it was at the start.\n")
    now = cube.appearance(cube.follow("R U F L L' F U'"))
    page = check_markdown(cube, tried, place_lost(cube, start, way, now))
    assert "turn 2, F', reversed; you are after turn 3: take back with `U F'`, then go on with `F' U' R'`." in page


def test_the_command_checks_a_ticket_and_finds_a_lost_place(capsys, tmp_path):
    ticket, now = tmp_path / "one.toml", tmp_path / "now.toml"
    ticket.write_text('puzzle = "cube:3"\nafter = "R U F L"\n', "utf-8")
    now.write_text('puzzle = "cube:3"\n[seen.R]\nrows = ["R R U", "R R U", "R R U"]\n', "utf-8")
    for more in ([], ["--now", str(now)]):
        assert main(["check", str(ticket), "L' F' U' R'", *more, "--json"]) == 0
        data = json.loads(capsys.readouterr().out)
        jsonschema.validate(data, SCHEMA)
        assert data["solves"] and (data["place"] is None) == (not more)
    assert data["place"]["candidates"]
    assert main(["check", str(ticket), "L' F' U R'"]) == 0
    assert "turn 3, U, reversed" in capsys.readouterr().out
    now.write_text('puzzle = "cube:2"\nafter = "R"\n', "utf-8")
    part = tmp_path / "part.toml"
    part.write_text('puzzle = "cube:3"\n[seen.U]\nrows = ["U U U", "U U U", "U U U"]\n', "utf-8")
    for arguments, said in (
        ([str(ticket), "R", "--now", str(now)], "the same puzzle in both"),
        ([str(ticket), "R Q"], "Q"),
        ([str(part), "R"], "possible looks"),
    ):
        assert main(["check", *arguments]) == 2
        assert said in capsys.readouterr().err
