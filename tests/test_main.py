"""The command line: answers by their schemas, one line for bad input, nothing of the note in what is written."""

import io
import json
import re
import subprocess
import sys
from contextlib import redirect_stderr, redirect_stdout
from importlib.resources import files
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from oddswap.__main__ import main
from oddswap.reasoning.ticket_answers import WAY_ON
from tests.common.folders import names_in

TICKETS = Path(__file__).parents[1] / "notebooks" / "tickets"
REFERENCE = Path(__file__).with_name("reference")


def run(capsys, *arguments):
    """The exit status, what was printed, and what was complained of."""
    try:
        status = main([str(argument) for argument in arguments])
    except SystemExit as stop:
        status = stop.code
    out = capsys.readouterr()
    return status, out.out, out.err


def by_schema(text, name):
    data = json.loads(text)
    jsonschema.validate(data, json.loads((files("oddswap.showing.pages") / "schemas" / f"{name}.json").read_text("utf-8")))
    return data


@pytest.mark.parametrize(
    "name",
    ["02_cube_two_edges_over", "03_painted_octagon_two_edges_over", "09_cube_one_photograph_turned", "11_small_cube_held_anyhow"],
)
def test_answers_are_data_by_their_schema_whatever_the_verdict(capsys, name):
    status, out, err = run(capsys, "answer", TICKETS / f"{name}.toml", "--json", "--seconds", "20")
    data = by_schema(out, "answer")
    assert (status, err) == (0, "")
    assert (data["way_out"]["moves"] is None) == (data["verdict"] == "not by turning")
    assert data["notes"] or data["way_out"]["moves"]


def test_the_answer_to_a_letter_that_goes_on_is_data_by_its_schema(capsys, tmp_path):
    (tmp_path / "ticket.toml").write_text('puzzle = "cube:3"\nafter = "R U F"\n[[then]]\ndid = "F\'"', "utf-8")
    status, out, err = run(capsys, "answer", tmp_path / "ticket.toml", "--json", "--seconds", "20")
    ways = by_schema(out, "answer")["way_out"]["alternatives"]
    assert (status, err) == (0, "") and ways[0]["chosen_for"] == [WAY_ON] and ways[0]["moves"] == "U' R'"


@pytest.mark.parametrize(
    "verdict, text",
    [
        ("ordinary", 'puzzle = "cube:2"\nafter = "R"'),
        ("lookalike", 'puzzle = "tiles:2x3,letters=aabcd"\nchanges = ["swap r1c3 r2c1"]'),
        ("other turns", 'puzzle = "cube:2"\nturns = "half"\nafter = ""\nchanges = ["twist UFR cw", "twist UFL ccw"]'),
        ("not by turning", 'puzzle = "cube:2"\nchanges = ["twist UFR cw"]'),
        ("cannot tell yet", 'puzzle = "cube:3"\n[seen.U]\nrows = ["U U U", "U U U", "U U U"]'),
    ],
)
def test_every_verdict_is_an_answer(capsys, tmp_path, verdict, text):
    (tmp_path / "ticket.toml").write_text(text, "utf-8")
    status, out, err = run(capsys, "answer", tmp_path / "ticket.toml", "--json", "--out", tmp_path / "page", "--seconds", "20")
    assert (status, err, by_schema(out, "answer")["verdict"]) == (0, "", verdict)
    page = (tmp_path / "page" / "answer.md").read_text("utf-8")
    status, out, err = run(capsys, "answer", tmp_path / "ticket.toml", "--seconds", "20")
    assert (status, err) == (0, "") and f"Verdict: **{verdict}**" in out and f"Verdict: **{verdict}**" in page


MARKUP = """puzzle = "cube:2"
after = "R U"
note = "<script>alert(1)</script> [a](b) **secret**"
[colours]
U = "<b>white</b>"
F = "*red* | `x`"
"""


def test_what_a_ticket_calls_its_colours_and_its_note_is_no_markup(capsys, tmp_path):
    """Such colours are words that stand for facets; they are drawn in stand-ins, and the page says so."""
    (tmp_path / "ticket.toml").write_text(MARKUP.replace(" | ", " "), "utf-8")
    status, out, err = run(capsys, "answer", tmp_path / "ticket.toml")
    assert (status, err) == (0, "") and not any(piece in out for piece in ("<", "script", "secret", "*red*", "white"))
    status, out, err = run(capsys, "answer", tmp_path / "ticket.toml", "--out", tmp_path / "page")
    page = (tmp_path / "page" / "answer.md").read_text("utf-8")
    assert (status, err) == (0, "") and "secret" not in page and "[a]" not in page
    assert r"\<b\>white\</b\> is drawn in white" in page and r"\*red\* \`x\` is drawn in red" in page
    (tmp_path / "ticket.toml").write_text(MARKUP, "utf-8")
    status, out, err = run(capsys, "answer", tmp_path / "ticket.toml")
    assert (status, out) == (2, "") and err.count("\n") == 1 and "is no colour" in err


@pytest.mark.parametrize(
    "name", ["cube:2", "cube:3", "shape-mod:prism8", "corner-cube", "cube:3,turns=half", "tiles:3x3", "rings:4+4,cross=1"]
)
def test_laws_are_data_by_their_schema_and_text(capsys, name):
    status, out, err = run(capsys, "laws", name, "--json")
    data = by_schema(out, "laws")
    assert (status, err) == (0, "") and data["puzzle"] == name
    assert int(data["order"]) * int(data["index"]) == int(data["assembly_order"])
    status, text, err = run(capsys, "laws", name)
    assert (status, err) == (0, "") and all(law["statement"] in text for law in data["laws"])


def test_order_of_the_unexpected_rings_is_told_with_the_law_that_says_why(capsys):
    """Two rings of four beads that share two: PGL(2,5) on six points, of order 120 (GAP; see test_rings)."""
    data = by_schema(run(capsys, "laws", "rings:4+4,cross=1", "--json")[1], "laws")
    assert (data["order"], data["complete"], data["unexplained"]) == ("120", True, "1")
    assert [(law["name"], law["type"]) for law in data["laws"]] == [("programme of beads", "other")]


@pytest.mark.parametrize("name", ["cube:2", "cube:3,centres=none"])
def test_alarms_are_data_by_their_schema_and_text(capsys, name):
    status, out, err = run(capsys, "alarms", name, "--json")
    data = by_schema(out, "alarms")
    assert (status, err) == (0, "") and {entry["verdict"] for entry in data["entries"]} == {"ordinary", "not by turning"}
    status, text, err = run(capsys, "alarms", name)
    assert (status, err) == (0, "") and all(entry["words"] in text for entry in data["entries"])


def test_tools_are_data_by_their_schema_and_text(capsys):
    status, out, err = run(capsys, "tools", "rings:4+4,cross=1", "--json")
    data = by_schema(out, "tools")
    assert (status, err) == (0, "") and data["tools"]
    status, text, err = run(capsys, "tools", "rings:4+4,cross=1")
    assert (status, err) == (0, "") and all(f"`{tool['moves']}`" in text for tool in data["tools"])


@pytest.mark.parametrize(
    "command, name, there",
    [
        ("laws", "cube:2", {"laws.md", "puzzle.png", "names.png"}),
        ("laws", "rings:4+4,cross=1", {"laws.md", "puzzle.png", "names.png"}),
        ("alarms", "cube:2", {"alarms.md", "wall.svg"}),
        ("alarms", "tetrahedron,tips=no", {"alarms.md", "wall.svg", "wall_names.png"}),
    ],
)
def test_laws_and_alarms_are_written_with_their_pictures(capsys, tmp_path, command, name, there):
    told = run(capsys, command, name, "--out", tmp_path / "page", "--json")
    assert told[0] == 0 and told[2] == "" and by_schema(told[1], command)["puzzle"] == name
    assert names_in(tmp_path / "page") == there
    page = (tmp_path / "page" / f"{command}.md").read_text("utf-8")
    assert all(f"]({picture})" in page for picture in there if not picture.endswith(".md"))
    assert "--out" not in page


def test_an_answer_is_written_with_its_pictures_and_without_the_note(capsys, tmp_path):
    ticket = TICKETS / "03_painted_octagon_two_edges_over.toml"
    status, out, err = run(capsys, "answer", ticket, "--out", tmp_path / "answer", "--seconds", "20")
    written = names_in(tmp_path / "answer")
    assert (status, err) == (0, "")
    assert written == {
        "answer.md",
        "answer.html",
        "reply.md",
        "proof.json",
        "ticket.toml",
        "seen.png",
        "came_about.png",
        "xray.png",
        "strip.png",
        "tally.png",
    }
    note = next(line for line in ticket.read_text("utf-8").splitlines() if line.startswith("note"))
    for name in ("answer.md", "answer.html", "reply.md", "proof.json"):
        text = (tmp_path / "answer" / name).read_text("utf-8")
        assert note.split('"')[1][:30] not in text
    assert (tmp_path / "answer" / "answer.md").read_text("utf-8").count("![") == 5


def test_the_page_to_send_bears_the_note_when_asked(capsys, tmp_path):
    ticket = tmp_path / "ticket.toml"
    ticket.write_text('puzzle = "cube:2"\nafter = "R U"\nnote = "Mine & <b>yours</b>"\n', "utf-8")
    run(capsys, "answer", ticket, "--out", tmp_path / "answer", "--note")
    assert "Mine &amp; &lt;b&gt;yours&lt;/b&gt;" in (tmp_path / "answer" / "answer.html").read_text("utf-8")


BAD = [
    ("laws", "pyramid:3"),
    ("laws", ""),
    ("laws", "cube:3\ncube:4"),
    ("laws", "custom:no_such_file.toml"),
    ("laws", "shape-mod:no_such_file.toml"),
    ("laws", "cuboid:1x1x1"),
    ("laws",),
    ("laws", "cube:2", "one\nmore"),
    ("no such\ncommand",),
    ("alarms", "graph:9"),
    ("laws", "cube:99"),
    ("laws", "cube:3,centres=gold"),
    ("laws", "cube:3", "--quux"),
    ("alarms", "shape-mod:cube,cut=0.99"),
    ("answer", "no_such_ticket.toml"),
    ("answer",),
    ("answer", REFERENCE),
    ("answer", "no\nsuch\0ticket.toml"),
    ("answer", TICKETS / "07_picture_cube_half_turn.toml", "--turns", "half,centres=none"),
    ("answer", TICKETS / "07_picture_cube_half_turn.toml", "--turns", ""),
    ("answer", TICKETS / "07_picture_cube_half_turn.toml", "--seconds", "soon\n"),
    ("answer", TICKETS / "07_picture_cube_half_turn.toml", "--seconds", "nan"),
    ("answer", TICKETS / "07_picture_cube_half_turn.toml", "--memory", "inf"),
    ("answer", TICKETS / "07_picture_cube_half_turn.toml", "--memory"),
    ("answer", TICKETS / "11_small_cube_held_anyhow.toml", "--out", "/dev/null/two\nlines"),
    ("figures", "--out", "/dev/null/figures"),
    ("figures", "more"),
    ("answer", TICKETS / "07_picture_cube_half_turn.toml", "--turns", "Q9"),
    ("answer", TICKETS / "07_picture_cube_half_turn.toml", "--seconds", "-1"),
    ("answer", TICKETS / "11_small_cube_held_anyhow.toml", "--out", "/dev/null/answer"),
    (),
]


@pytest.mark.parametrize("arguments", BAD, ids=lambda a: " ".join(map(str, a))[-40:] or "nothing")
def test_bad_input_gets_one_line_and_status_2(capsys, arguments):
    status, out, err = run(capsys, *arguments)
    assert (status, out) == (2, "")
    assert err.startswith("oddswap: ") and err.count("\n") == 1


@pytest.mark.parametrize(
    "text",
    [
        "not toml",
        'puzzle = "cube:3"',
        'puzzle = "cube:3"\nafter = "R U Q"',
        'puzzle = "cube:3"\nchanges = ["swap UF UFR"]',
        'puzzle = "cube:3"\n[seen.U]\nrows = ["U U", "U U U", "U U U"]',
        'puzzle = "cube:3"\n[seen.U]\nrows = ["pink U U", "U U U", "U U U"]',
        'puzzle = "cube:3"\nafter = "R"\n[slots]\nUF = "UR"',
        'puzzle = "cube:3"\nturns = ["R", "Q"]\nafter = "R"',
        'puzzle = "cube:3"\nafter = "R"\n"<b>" = 1',
        'puzzle = "no:3"\nafter = ""',
    ],
)
def test_a_ticket_that_cannot_be_read_gets_one_line_and_writes_nothing(capsys, tmp_path, text):
    """One ticket for each kind of mistake: keys, moves, slots, rows, colours, contradictions, turns, puzzles."""
    (tmp_path / "ticket.toml").write_text(text, "utf-8")
    status, out, err = run(capsys, "answer", tmp_path / "ticket.toml", "--out", tmp_path / "answer")
    assert (status, out) == (2, "") and err.startswith("oddswap: ") and err.count("\n") == 1 and err.strip().isprintable()
    assert [path.name for path in tmp_path.iterdir()] == ["ticket.toml"]


def quietly(arguments):
    """The exit status, what was printed, and what was complained of, for arguments that hypothesis drew."""
    out, err = io.StringIO(), io.StringIO()
    with redirect_stdout(out), redirect_stderr(err):
        try:
            status = main([str(argument) for argument in arguments])
        except SystemExit as stop:
            status = stop.code
    return status, out.getvalue(), err.getvalue()


def answered_or_one_line(arguments):
    status, out, err = quietly(arguments)
    assert status in (0, 2)
    lines, letters = err.splitlines(), len(arguments) - 1 if arguments[0] == "answer" else 1
    assert (status == 0) == (lines == [])
    if status:  # one line for each letter, and with --json beside it one object that has no answer
        assert len(lines) <= letters and "".join(lines).isprintable()
        assert all(json.loads(line)["answer"] is None for line in out.splitlines()) and (out == "" or letters > 1)
    return status


NAMES = st.sampled_from(["laws", "alarms", "answer"])
WORDS = st.sampled_from(["--json", "--out", "--turns", "--seconds", "--memory", "1", "-1", "half", "--", "-x", str(REFERENCE)])
PUZZLES = st.sampled_from(["cube:2", "loop:5,window=3", "tiles:2x2", "cube:2,turns=R", "cube:1", "rings:4+4,cross=1", "x:y"])


@settings(max_examples=200)
@given(NAMES | st.text(max_size=4), PUZZLES | st.text(max_size=8), st.lists(WORDS | st.text(max_size=8), max_size=3))
def test_any_arguments_are_answered_or_one_line(command, first, others):
    arguments = [command, first, *others]
    if not {"lab", "figures", "-h"} & set(arguments):
        answered_or_one_line(arguments)


@settings(max_examples=150)
@given(st.text(min_size=1, max_size=40))
def test_any_text_for_a_puzzle_is_an_answer_or_one_line(text):
    answered_or_one_line(["laws", "--", text])


SMALL = """puzzle = "tiles:2x3"
turns = "all"
after = "r1c3 r1c2"
changes = ["swap r1c1 r2c1"]
note = "for the explainer only"
"""
SEEN = """puzzle = "cube:2"
elsewhere = "in place"
[colours]
U = "ivory"
F = "#b04020"
[seen.U]
rows = ["ivory ivory", "ivory ?"]
[seen.F]
rows = ["F F", "F F|R"]
"""
PIECES = st.sampled_from(
    [*'"[]=\n?|#\\\0é', "\u2028", "\x1b[31m", "r1c1", "r2c3", "swap", "cycle", "U", "F", "half", "2x3", "cube:2", "<b>", "ivory"]
)


@settings(max_examples=200)
@given(st.data(), st.sampled_from([SMALL, SEEN]), st.booleans())
def test_any_spoilt_ticket_is_answered_or_one_line_and_leaves_no_half_page(tmp_path_factory, data, text, written):
    """One word of a ticket, or two, exchanged for something else; with a page now and then."""
    words = re.split(r"(\b)", text)
    for _ in range(data.draw(st.integers(1, 2))):
        words[data.draw(st.integers(0, len(words) - 1))] = data.draw(PIECES | st.text(max_size=3))
    text = "".join(words)
    folder = tmp_path_factory.mktemp("spoilt")
    (folder / "ticket.toml").write_bytes(text.encode("utf-8", "surrogatepass"))
    page = folder / "page"
    more = ["--out", page] if written else ["--json"]
    status = answered_or_one_line(["answer", folder / "ticket.toml", "--seconds", "1", *more])
    there = {path.name for path in page.iterdir()} if page.exists() else set()
    assert ({"answer.md", "reply.md", "seen.png"} <= there) == (status == 0 and written)
    assert there == set() or status == 0


@given(st.binary(max_size=200))
def test_any_bytes_for_a_ticket_are_one_line(tmp_path_factory, data):
    path = tmp_path_factory.mktemp("bytes") / "ticket.toml"
    path.write_bytes(data)
    assert answered_or_one_line(["answer", path]) == 2


def test_help_is_no_mistake(capsys):
    for arguments in (["--help"], ["laws", "--help"], ["answer", "--help"]):
        status, out, err = run(capsys, *arguments)
        assert (status, err) == (0, "") and "oddswap" in out


def test_it_runs_as_a_module_and_a_closed_pipe_is_no_traceback():
    command = [sys.executable, "-m", "oddswap", "laws", "cube:2"]
    whole = subprocess.run(command, capture_output=True, text=True, check=True)
    assert whole.stdout.startswith("# What never changes") and whole.stderr == ""
    closed = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    closed.stdout.close()
    closed.wait(timeout=60)
    assert "Traceback" not in closed.stderr.read()
    closed.stderr.close()


def test_turns_on_the_command_line_stand_for_those_of_the_ticket(capsys, tmp_path):
    (tmp_path / "ticket.toml").write_text('puzzle = "cube:2"\nafter = "R"\n', "utf-8")
    told = {}
    for turns in ("box", "half", "U+F", "U+L"):
        _, out, _ = run(capsys, "answer", tmp_path / "ticket.toml", "--json", "--turns", turns)
        told[turns] = json.loads(out)["verdict"]
    assert told["box"] == told["U+L"] == "ordinary", "L, and then the whole cube turned"
    assert told["half"] == told["U+F"] == "other turns", "U and F leave the corner where both are opposite"
