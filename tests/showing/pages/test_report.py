"""Answers in words and as data: each verdict says what it must, nothing of the note, and no text that could be markup."""

import json
import re
from dataclasses import replace
from importlib.resources import files

import jsonschema
import pytest

from oddswap.describing.changes import changed
from oddswap.describing.tickets import parse_ticket
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.answers import answer
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.search.levels import Counted, TimeUsedUp
from oddswap.reasoning.ways.findings import BringKindHome, MakeEven, Phase
from oddswap.reasoning.ways.way_out import Route
from oddswap.showing.pages.report import answer_data, answer_markdown, reply_text, way_parts
from oddswap.values.grammar import read_number
from oddswap.words.answers import proof_lines
from oddswap.words.verdicts import WORDINGS

SCHEMA = json.loads((files("oddswap.showing.pages") / "schemas" / "answer.json").read_text("utf-8"))
CASES = {
    "turned": ("cube:3", "R U F", ()),
    "solved": ("cube:2", "", ()),
    "slid": ("tiles:3x3", "r3c2 r2c2", ()),
    "flipped": ("shape-mod:prism8", "", ("flip UF",)),
    "one culprit": ("shape-mod:cube,axis=U,degrees=45,turns=U+F", "", ("turn F cw",)),
    "twins": ("shape-mod:prism8,paint=FR+FL+BR+BL", "", ("swap UF UR",)),
    "swapped": ("cube:3", "", ("swap UF UR",)),
    "twisted": ("corner-cube", "", ("turn UFR cw",)),
    "programme": ("rings:4+4,cross=1", "", ("swap 1 2",)),
    "other turns": ("cube:3,turns=R+U", "", ("flip UF", "flip UR")),
}
FOREIGN = "\n".join(
    ["puzzle = 'cube:3'", *(f"[seen.{f}]\nrows = ['{f} {f} {f}', '{f} {f} {f}', '{f} {f} {f}']" for f in "DFBLR")]
    + ["[seen.U]\nrows = ['U U U', 'U U U', 'U F U']"]
)


@pytest.fixture(scope="module")
def answers():
    found = {}
    for case, (name, moves, changes) in CASES.items():
        puzzle = load(name)
        found[case] = answer(puzzle, puzzle.appearance(changed(puzzle, changes, puzzle.follow(moves))), Budget(20))
    for case, text in {"unseen": 'puzzle = "cube:3"\n[seen.U]\nrows = ["U U U", "U U U", "U U U"]', "foreign": FOREIGN}.items():
        ticket = parse_ticket(text)
        found[case] = answer(ticket.puzzle, ticket.appearance)
    return found


EVERY = [*CASES, "unseen", "foreign"]


def test_the_cases_have_every_verdict(answers):
    assert {found.verdict for found in answers.values()} == set(WORDINGS)


@pytest.mark.parametrize("case", EVERY)
def test_data_follow_the_schema(answers, case):
    found, data = answers[case], answer_data(answers[case])
    jsonschema.validate(json.loads(json.dumps(data)), SCHEMA)
    assert data["verdict"] == found.verdict and list(data) == SCHEMA["required"]
    assert (data["set_up"]["moves"], data["way_out"]["moves"]) == (found.set_up, found.way_out and found.way_out.moves)
    assert [law["name"] for law in data["broken"]] == [law.name for law in found.diagnosis.broken]
    assert [tuple(c["pieces"]) for c in data["culprits"]] == [c.pieces for c in found.diagnosis.culprits]
    assert (data["repair"] is None) == (found.diagnosis.repair is None)


@pytest.mark.parametrize("case", EVERY)
def test_every_sentence_has_its_finding(answers, case):
    """A sentence is what `words` make of a finding; the data of each hold what it speaks of, and no sentence."""
    data, found = answer_data(answers[case]), answers[case].diagnosis
    said = [*data["assumptions"], *data["notes"], *(c["words"] for c in data["culprits"]), *(s["words"] for s in data["slips"])]
    said += [*data["ask_next"], *([data["repair"]["words"]] if data["repair"] else [])]
    assert len(data["findings"]) == len(said)
    assert [f["code"].replace("-", " ") for f in data["findings"]][len(data["assumptions"]) + len(data["notes"]) :] == [
        *("culprit" for _ in found.culprits),
        *(slip["sort"] for slip in data["slips"]),
        *(asked.code.replace("-", " ") for asked in found.asked),
        *(["repair"] if found.repair else []),
    ]
    for sentence, finding in zip(said, data["findings"], strict=True):
        assert sentence not in json.dumps(finding)


@pytest.mark.parametrize("case", EVERY)
def test_a_figure_that_is_null_has_its_reason_in_the_notes(answers, case):
    data = answer_data(answers[case])
    notes = " ".join(data["notes"])
    assert (data["way_out"]["moves"] is None) == ("no way out" in notes)
    assert data["way_out"]["phases"] is not None or data["way_out"]["moves"] is None or "phases are null" in notes
    assert (data["repair"] is None) == ("no repair by hand" in notes)


@pytest.mark.parametrize("case", EVERY)
def test_the_page_says_what_the_verdict_needs(answers, case):
    found = answers[case]
    text, diagnosis = answer_markdown(found), found.diagnosis
    assert text.startswith(
        f"# {WORDINGS[found.verdict].headline.format(turns='the turns on the ticket')}\n\nVerdict: **{found.verdict}** · "
    )
    headings = re.findall(r"^## (.*)$", text, re.MULTILINE)
    assert headings[0] == "Why" and headings[-1] == "What this assumes" and len(set(headings)) == len(headings)
    assert ("Which piece is not what it seems" in headings) == bool(diagnosis.culprits)
    assert ("Likely slips of the description" in headings) == bool(diagnosis.slips)
    assert ("The smallest repair by hand" in headings) == (diagnosis.repair is not None)
    assert ("A way out" in headings) == (found.way_out is not None)
    assert ("To set it up on your own copy" in headings) == bool(found.set_up)
    plain = text.replace("\\", "")
    for said in (*proof_lines(found), *diagnosis.assumptions, *diagnosis.notes):
        assert said[1:] in plain
    assert "None" not in text


@pytest.mark.parametrize("case", EVERY)
def test_the_proof_ends_with_the_certificate(answers, case):
    found = answers[case]
    book, lines = law_book(found.puzzle), list(proof_lines(found))
    if found.verdict == "cannot tell yet":
        assert len(lines) == 1
    else:
        share = f"one in {read_number(book.wide_order // book.order)}" if book.wide_order > book.order else "all"
        assert lines[-1].startswith(f"No law is missing: the laws allow {share} of what hands can put together, ")
        assert lines[-1].endswith(f"and turns reach as many: {read_number(book.order)} arrangements.")
    for law in found.diagnosis.broken:
        assert f"What you see breaks this law: {law.statement}" in lines
    assert any("No hidden turn or swap" in line for line in lines) == (
        found.verdict == "not by turning" and bool(found.diagnosis.broken) and bool(book.hidden.generators())
    )
    assert any("Let the six beads be players" in line for line in lines) == (case == "programme")


def test_shortest_never_comes_without_what_was_counted(answers):
    for found in answers.values():
        if found.way_out is not None and found.way_out.moves:
            words = "\n\n".join(way_parts(found.way_out))
            assert "proved shortest" in words and f"({found.way_out.counting})" in words
            assert found.way_out.moves in words and words.count(str(found.way_out.length)) >= 1


@pytest.mark.parametrize(
    "change, says",
    [
        ({}, "`R U`\n\n2 turns, proved shortest (a turn of one slab by any amount counts as one; turns allowed: R U)."),
        ({"shortest": False, "lower_bound": 1}, "at least 1 are needed, so a shorter one may exist (a turn of one slab"),
        ({"moves": None, "length": None}, "No way out was found within the budget. The time of 2 s ended"),
        ({"moves": "", "length": 0}, "It looks solved already: there is nothing to turn."),
        (
            {"phases": (Phase(MakeEven(), "R"), Phase(BringKindHome("edges"), "U"))},
            "place: `R`\n1. Bring the edges home, by three-cycles: `U`\n\n2 turns",
        ),
    ],
)
def test_ways_in_words(change, says):
    way = replace(Route("R U", 2, 2, True, Counted("slab", ("R", "U"), None), ("R", "U"), (TimeUsedUp(2.0),)), **change)
    assert says in "\n\n".join(way_parts(way))


@pytest.mark.parametrize("case", EVERY)
def test_a_reply_is_short_and_kind(answers, case):
    """Never an accusation (common practice): what was put in by hand happens by accident, and nothing is to be forced."""
    found = answers[case]
    text = reply_text(found)
    opening = WORDINGS[found.verdict].reply.partition("}")[2].partition("{")[0]
    assert text.startswith("Thank you for your ticket.") and opening in text and len(text) < 2500
    gives_moves = bool(found.way_out and found.way_out.moves)
    helpless = found.way_out is None and not found.diagnosis.asked
    assert helpless == ("Do not force it" in text)
    assert gives_moves == bool(re.search(r"^`[^`]+`$", text, re.M)) == ("stop and send a photograph" in text)
    assert ("Please send" in text) == bool(found.diagnosis.asked)
    assert ("Please look again" in text) == (helpless and bool(found.diagnosis.slips))


def test_exchanges_among_the_same_twins_are_said_once(answers):
    """Painted alike, the prism's four middle edges and its corners in two sets of four are twins: three sorts of exchange."""
    text = answer_markdown(answers["twins"])
    culprits = text.partition("## Which piece")[2].partition("\n## ")[0]
    assert culprits.count("\n- ") == 3 and culprits.count("FL, FR, BL and BR") == 1
    assert len(answers["twins"].diagnosis.culprits) == 18


def test_a_hidden_change_is_described_before_the_ways_and_named_there(answers):
    """Four edges of the prism can hide the same flip; that it does not show is known where each way says which it mends."""
    page = answer_markdown(answers["flipped"])
    before, ways = re.split("## A way out", re.split("## To set it up", page)[0])
    assert before.count("which does not show") == 4 and "which does not show" not in ways
    assert "Of the culprits it mends the FR edge. It leaves more of the kind: the BL edge and the BR edge." in ways


def test_a_culprit_that_is_alone_is_named(answers):
    culprits = answers["one culprit"].diagnosis.culprits
    assert [culprit.pieces for culprit in culprits] == [("U",)]
    assert "No other hidden change as small explains it." in answer_markdown(answers["one culprit"])


def test_pictures_are_shown_where_they_are(answers):
    names = {key: f"{key}.png" for key in ("seen", "xray", "strip", "tally")}
    shown = re.findall(r"!\[[^]]+\]\((\w+)\.png\)", answer_markdown(answers["flipped"], names))
    assert sorted(shown) == ["seen", "strip", "tally", "xray"]
    assert "![" not in answer_markdown(answers["flipped"])


def test_titles_and_pieces_from_a_file_are_no_markup(tmp_path):
    path = tmp_path / "markup.toml"
    path.write_text(
        'title = "<b>odd</b> [a](b)"\n[moves]\na = "(p_1 p_2 p_3)"\n[[kind]]\nname = "<i>x</i> *y*"\nslots = "p_1 p_2 p_3"\n',
        "utf-8",
    )
    puzzle = load(f"custom:{path}")
    found = answer(puzzle, puzzle.appearance(changed(puzzle, ["swap p_1 p_2"])))
    for text in (answer_markdown(found), reply_text(found)):
        outside_code = re.sub(r"`[^`\n]*`", "", text)
        assert not re.search(r"(?<!\\)[<>\[\]]", outside_code)
    assert "\\<b\\>odd\\</b\\> \\[a\\](b)" in answer_markdown(found)


@pytest.mark.parametrize(("name", "moves"), [("octahedron", "A B'"), ("rings:4+4,cross=1", "a b"), ("cube:2", "R U")])
def test_a_reply_that_leaves_the_names_of_turns_to_a_picture_has_that_picture(name, moves):
    puzzle = load(name)
    found = answer(puzzle, puzzle.appearance(puzzle.follow(moves)), Budget(5))
    text = reply_text(found, pictures={"seen": "seen.png", "strip": "strip.png"})
    assert ("The picture shows" in text) == ("](strip.png)" in text) == (name != "cube:2"), text
