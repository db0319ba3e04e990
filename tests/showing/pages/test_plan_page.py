"""A plan on the page: its words and data, and the command that says them."""

import json
from importlib.resources import files

import jsonschema
import pytest

from oddswap.__main__ import main
from oddswap.describing.changes import changed
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.teaching.carried_out import carry_out
from oddswap.reasoning.teaching.plans import read_plan
from oddswap.showing.pages.plan_page import plan_data, plan_markdown

SCHEMA = json.loads((files("oddswap.showing.pages") / "schemas" / "plan.json").read_text("utf-8"))


@pytest.mark.parametrize(
    ("name", "changes"),
    [("shape-mod:prism8", ["flip UF"]), ("cube:3", ["flip UF"]), ("cube:3,centres=none", ["swap UF UB"]), ("cube:3", [])],
)
def test_the_data_keep_to_the_schema_and_their_moves_are_those_of_the_parts(name, changes):
    puzzle = load(name)
    data = plan_data(puzzle, carry_out(puzzle, read_plan(), changed(puzzle, changes)))
    jsonschema.validate(data, SCHEMA)
    moves = [part["moves"] for e in data["events"] for part in e.get("parts", [e])]
    assert " ".join(filter(None, moves)) == data["moves"]
    assert data["finished"] == (data["stuck"] is None)


def test_the_page_says_where_the_trouble_is_and_what_is_done_about_it():
    puzzle = load("shape-mod:prism8")
    page = plan_markdown(puzzle, carry_out(puzzle, read_plan(), changed(puzzle, ["flip UF"])), "U")
    assert "**Scramble:** `U`" in page and "## Trouble at the stage top cross" in page
    assert "the FL edge is flipped, which does not show. It could as well be FR or BL or BR." in page
    assert page.index("## Trouble") < page.rindex("## Middle edges")


def test_names_of_stages_and_sequences_are_no_markup(tmp_path):
    file, cube = tmp_path / "mine.toml", load("cube:3")
    text = '[[stage]]\nname = "<b>*a*"\nslots = ["DF"]\n[stage.sequences]\n"[x](y)" = "D"\n'
    file.write_text(text, "utf-8")
    page = plan_markdown(cube, carry_out(cube, read_plan(file), cube.follow("D'")))
    assert "<b>" not in page and "[x](y)" not in page


def test_the_command_takes_a_puzzle_a_ticket_or_a_scramble_with_trouble(capsys, tmp_path):
    ticket = tmp_path / "one.toml"
    ticket.write_text('puzzle = "shape-mod:prism8"\nchanges = ["flip UF"]\n', "utf-8")
    for arguments in (["cube:3", "--after", "R U"], [str(ticket)], ["shape-mod:prism8", "--trouble", "3", "--length", "9"]):
        assert main(["plan", *arguments, "--json"]) == 0
        data = json.loads(capsys.readouterr().out)
        jsonschema.validate(data, SCHEMA)
        assert (data["scramble"] is not None) == ("--trouble" in arguments)
    assert main(["plan", str(ticket)]) == 0
    assert "Trouble" in capsys.readouterr().out
    for arguments, said in (
        (["cube:3", "--trouble", "1"], "no lookalikes"),
        ([str(ticket), "--after", "R"], "leave out --after"),
        (["cube:2"], "no slot called"),
    ):
        assert main(["plan", *arguments]) == 2
        assert said in capsys.readouterr().err
