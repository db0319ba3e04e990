"""Law pages: figures against published ones and formulas, what is said about them, and nothing that could be markup."""

import json
import re
from dataclasses import replace
from importlib.resources import files
from math import factorial

import jsonschema
import pytest

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws import double_cosets
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.tally import quantities
from oddswap.reasoning.verdicts.alarms import VERDICTS, alarms, gathered
from oddswap.reasoning.verdicts.diagnosis import CANNOT_TELL, LOOKALIKE, NOT_BY_TURNING, ORDINARY, OTHER_TURNS
from oddswap.showing.pages.law_page import alarms_data, alarms_markdown, laws_data, laws_markdown, named_on_a_picture
from oddswap.values.grammar import read_number
from oddswap.words import say
from oddswap.words.verdicts import WORDINGS
from tests.common.clocks import PLENTY, ends_after
from tests.common.published import cases
from tests.showing.sample import SAMPLE

SCHEMA = json.loads((files("oddswap.showing.pages") / "schemas" / "laws.json").read_text("utf-8"))


def cube_figures(n):
    """Appearances up to rotation, labelled centres up to rotation, and labelled centres with those that turn in place.

    Counted by what the table of signs in `test_characters` leaves free: 8 corners with one law of twists; for odd n 12 edges
    with one law of flips and one of signs; 24 wings at each depth, free; 24 centres of each kind, each with one law of its
    sign, or, in six sets of four alike, free of it; six centres that turn in place with one law for all. For even n the
    24 holdings are divided out. The formula for appearances is also the one in the literature (from memory).
    """
    wings, centres = (n - 2) // 2, (n - 2) // 2 * (n - 2 - (n - 2) // 2)
    frame = factorial(7) * 3**6 if n % 2 == 0 else factorial(8) * 3**7 * factorial(12) * 2**10
    frame *= factorial(24) ** wings
    return (
        frame * (factorial(24) // 24**6) ** centres,
        frame * (factorial(24) // 2) ** centres,
        frame * (factorial(24) // 2) ** centres * (4**6 // 2 if n % 2 else 1),
    )


@pytest.mark.parametrize("sequence, n, figure", cases("cubes_by_size", "sequence", "n", "value"))
def test_the_formulas_give_the_published_figures(sequence, n, figure):
    which = {"A075152": 0, "A080656": 1, "A080661": 2}[sequence]
    assert str(cube_figures(n)[which]) == figure


@pytest.mark.parametrize("n", range(2, 8))
def test_cubes_have_as_many_appearances_as_published_up_to_rotation(n):
    """OEIS A075152; A054434 counts every holding for even n apart, 24 times as many (read)."""
    data = laws_data(load(f"cube:{n}"))
    assert int(data["appearances_up_to_rotation"]) == cube_figures(n)[0]
    assert int(data["appearances"]) == cube_figures(n)[0] * (1 if n % 2 else 24)
    assert data["complete"] and data["unexplained"] == "1"


@pytest.mark.parametrize("n", range(3, 8))
def test_cubes_with_marked_centres_have_as_many_as_published(n):
    """OEIS A080656 (n = 4) and A080661 (n = 3), read; the rest by the same formula, which nothing here computes."""
    data = laws_data(load(f"cube:{n},centres=marked"))
    assert int(data["appearances_up_to_rotation"]) == cube_figures(n)[2]
    assert data["order"] == data["appearances"] == str(cube_figures(n)[2] * (1 if n % 2 else 24))


def test_without_visible_centres_a_cube_has_half_as_many_up_to_rotation():
    """3604333606207488000 (computed; idea: Bergvall 2010): twice the 43252003274489856000 over the 24 holdings."""
    data = laws_data(load("cube:3,centres=none"))
    assert data["appearances_up_to_rotation"] == "3604333606207488000" == str(2 * 43252003274489856000 // 24)


def test_half_turns_reach_as_many_appearances_as_published():
    """663552, OEIS A080627 (read, computed); 24 on the cube of two, in each of 24 holdings (by walking, in `test_image`)."""
    assert laws_data(load("cube:3,turns=half"))["appearances"] == "663552"
    assert laws_data(load("cube:2,turns=half"))["appearances_up_to_rotation"] == "24"


@pytest.mark.parametrize(
    "name, holdings",
    [
        *[("cube:2", 24), ("cube:3", 1), ("cube:2,turns=half", 24), ("cube:2,turns=R+L", 4)],
        *[("cube:2,turns=R+U", 1), ("cuboid:2x2x3", 8)],
        *[("cuboid:2x3x4", 4), ("cube:4", 24), ("octahedron", 12), ("corner-cube", 1), ("loop:5,window=3", 1)],
    ],
)
def test_up_to_rotation_means_by_the_rotations_that_the_moves_lead_to(name, holdings):
    """The rotations of a cube, of a square and of a plain box; thirds of an octahedron make 12. R and L make four rotations,
    and R and U none, as one corner stays."""
    data = laws_data(load(name))
    assert int(data["appearances"]) == holdings * int(data["appearances_up_to_rotation"])
    assert any("the holding is fixed" in note for note in data["notes"]) != bool(load(name).rotations)


@pytest.mark.parametrize("name", SAMPLE)
def test_figures_hang_together(name):
    puzzle, data = load(name), laws_data(load(name))
    jsonschema.validate(data, SCHEMA)
    assert int(data["order"]) * int(data["index"]) == int(data["assembly_order"])
    assert int(data["index_wide"]) % int(data["index"]) == 0
    assert data["complete"] and data["unexplained"] == "1"
    assert [law["statement"] for law in data["laws"]] == [law.statement for law in law_book(puzzle).laws]
    assert len({json.dumps([law["type"], law["modulus"], law["terms"]]) for law in data["laws"]}) == len(data["laws"])
    assert {slot for law in data["laws"] for term in law["terms"] for slot in term["slots"]} <= set(puzzle.slots)
    assert sum(kind["slots"] for kind in data["kinds"]) == len(puzzle.slots)
    assert set(data["turns"]) == set(puzzle.turns) and data["puzzle"] == name
    if data["appearances"] is not None:
        assert int(data["order"]) % int(data["appearances"]) == 0


def test_twins_and_hidden_turns_are_listed_by_kind():
    kinds = {kind["name"]: kind for kind in laws_data(load("shape-mod:prism8,paint=FR+FL+BR+BL"))["kinds"]}
    assert kinds["edges"]["twins"] == [["FL", "FR", "BL", "BR"]] and kinds["edges"]["hidden_turns"] == ["FL", "FR", "BL", "BR"]
    assert sorted(map(len, kinds["corners"]["twins"])) == [4, 4] and kinds["corners"]["hidden_turns"] == []
    assert kinds["centre U"] == {"name": "centre U", "slots": 1, "twist": 4, "twins": [], "hidden_turns": ["U"]}


def test_figures_that_take_too_long_are_null_with_a_reason(monkeypatch):
    """A box whose classes are more than may be followed."""
    monkeypatch.setattr(double_cosets, "MOST_STEPS", 0)
    puzzle = replace(load("cuboid:2x3x4"))
    data, text = laws_data(puzzle), laws_markdown(puzzle)
    jsonschema.validate(data, SCHEMA)
    assert data["seen_index"] is None and any("null" in note for note in data["notes"])
    assert "None" not in text and "classes apart" not in text


@pytest.mark.parametrize("name", ["cuboid:2x3x4", "tiles:3x3,letters=aabcdefg"])
def test_figures_that_the_time_ended_before_are_null_and_made_anew(name):
    puzzle = replace(load(name))
    data, text = laws_data(puzzle, ends_after(0)), laws_markdown(puzzle, ends_after(0))
    jsonschema.validate(data, SCHEMA)
    whole = laws_data(puzzle, PLENTY)
    assert whole["seen_index"] == laws_data(load(name))["seen_index"] is not None
    if data != whole:
        assert data["seen_index"] is None and any("time ended" in note for note in data["notes"]) and "time ended" in text
    assert (data == whole) == law_book(puzzle).additive


@pytest.mark.parametrize("name", SAMPLE)
def test_the_page_has_each_law_and_a_proof(name):
    puzzle = load(name)
    text, book = laws_markdown(puzzle), law_book(puzzle)
    assert text.startswith("# What never changes: ") and "None" not in text.replace("None: every", "").replace("None that", "")
    for number, law in enumerate(book.laws, 1):
        assert f"{number}. {law.statement}" in text.replace("\\", "")
    assert text.count("can seem broken when it is not") == sum(not law.seen for law in book.laws)
    split = any(law.type == "orbit" for law in book.laws)
    assert text.count("ithin their sets, hands could put") == split
    assert f"ands could put the pieces together in {read_number(book.assembly_order)} ways; " in text
    assert ("; no law forbids any of them" in text) == (book.order == book.assembly_order)


@pytest.mark.parametrize("name", ["cube:3", "cube:4", "corner-cube", "tiles:3x3", "octahedron"])
def test_the_table_of_turns_has_a_column_for_each_quantity_and_every_turn_once(name):
    puzzle = load(name)
    rows = [line for line in laws_markdown(puzzle).split("\n") if line.startswith("| ")]
    assert len({row.count("|") for row in rows}) == 1
    told = " ".join(row.split("|")[1] for row in rows[1:]).replace("the whole puzzle", "").replace("round trip", "").split()
    slabs = {turn.step.name for turn in puzzle.turns.values()}
    trips = [str(number) for number in range(1, len(puzzle.generators) + 1)]
    assert sorted(told) == sorted([*slabs, *puzzle.rotations] if puzzle.blank is None else trips)


@pytest.mark.parametrize("name", ["graph:2+1+2", "loop:7,window=6", "cube:2,turns=half"])
def test_there_is_a_table_only_where_something_is_counted(name):
    """A programme and a ring have no number that a turn could change."""
    text, counted = laws_markdown(load(name)), quantities(load(name))
    assert ("|---" in text) == bool(counted) == ("Nothing is counted here" not in text)


def test_what_comes_from_a_file_is_no_markup(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "odd.toml").write_text(
        'title = "<b>odd</b> *one* | two"\n[moves]\na = "(p_1 p_2 p_3)"\nb = "(p_4 p_5)"\n'
        '[[kind]]\nname = "<i>x</i> _y_"\nslots = "p_1 p_2 p_3 p_4 p_5"\n',
        "utf-8",
    )
    text = laws_markdown(load("custom:odd.toml"))
    plain = text.replace("\\<", "").replace("\\>", "").replace("\\_", "").replace("\\*", "").replace("\\|", "")
    assert "<" not in plain and ">" not in plain and "_" not in plain
    assert "\\<b\\>odd\\</b\\> \\*one\\* \\| two" in text


@pytest.mark.parametrize(
    "name, needed",
    [
        ("cube:4", False),
        ("cuboid:2x3x4", False),
        ("corner-cube", False),
        ("tiles:3x3", False),
        ("dodecahedron", True),
        ("tetrahedron", True),
        ("shape-mod:prism8", True),
        ("shape-mod:cube,axis=U,degrees=45", True),
        ("rings:7+7,cross=2", True),
    ],
)
def test_a_picture_of_names_is_asked_for_where_names_are_not_plain(name, needed):
    puzzle = load(name)
    assert named_on_a_picture(puzzle) == needed
    assert ("shows what its slots are called" in laws_markdown(puzzle)) == needed
    assert "![What the slots are called](n.png)" in laws_markdown(puzzle, pictures={"names": "n.png"})


ALARMS = json.loads((files("oddswap.showing.pages") / "schemas" / "alarms.json").read_text("utf-8"))
NAMES = [
    *["cube:2", "cube:3", "cube:3,centres=none", "cube:3,turns=half", "cube:3,turns=R+U", "shape-mod:cube,axis=U,degrees=45"],
    *["corner-cube", "tetrahedron", "cuboid:2x3x4", "loop:5,window=3", "rings:4+4,cross=1", "tiles:2x3,letters=aabcd"],
    *["cube:2,turns=R+U", "graph:2+1+2", "loop:4,window=2,beads=4"],
]


@pytest.mark.parametrize("name", NAMES)
def test_data_follow_the_schema_and_the_table(name):
    data, table = alarms_data(load(name), alarms(load(name))), alarms(load(name))
    jsonschema.validate(data, ALARMS)
    assert data["puzzle"] == name and len(data["entries"]) == len(table)
    for entry, alarm in zip(data["entries"], table, strict=True):
        assert (entry["words"], tuple(entry["changes"]), entry["verdict"]) == (say(alarm.sort), alarm.changes, alarm.verdict)
        assert (entry["reason"], entry["alike"]) == (say(alarm.reason), alarm.alike)
        assert [law["statement"] for law in entry["broken"]] == [law.statement for law in alarm.broken]
        assert [tuple(c["pieces"]) for c in entry["culprits"]] == [c.pieces for c in alarm.culprits]


@pytest.mark.parametrize("name", NAMES)
def test_every_alarm_is_gathered_once_under_its_verdict_and_reason(name):
    found = gathered(alarms(load(name)))
    members = [alarm for each in found.values() for alarm in each]
    assert sorted(map(id, members)) == sorted(map(id, alarms(load(name))))
    assert all((alarm.verdict, alarm.reason) == key for key, each in found.items() for alarm in each)
    order = [verdict for verdict, _ in found]
    assert order == sorted(order, key=VERDICTS.index)


@pytest.mark.parametrize("name", NAMES)
def test_the_page_counts_every_anomaly(name):
    text = alarms_markdown(load(name), alarms(load(name))).replace("\\", "")
    assert sum(map(int, re.findall(r"\((\d+) of this sort", text))) == sum(alarm.alike for alarm in alarms(load(name)))
    for alarm in alarms(load(name)):
        assert f"- {say(alarm.sort)} (" in text and f"**Why:** {say(alarm.reason)}" in text
    assert text.startswith("# What looks wrong, and is it? ")
    assert ("Nothing of one or two pieces can look wrong" in text) == (not alarms(load(name)))


def test_each_verdict_that_an_alarm_can_have_has_words():
    """*Cannot tell yet* is for what only measuring tells, for an alarm is seen."""
    said = {verdict: words.alarm for verdict, words in WORDINGS.items() if words.alarm}
    assert set(said) == set(VERDICTS) == {ORDINARY, LOOKALIKE, OTHER_TURNS, NOT_BY_TURNING, CANNOT_TELL}
    assert len(set(said.values())) == len(said)


def test_headings_stand_once_and_in_order():
    text = alarms_markdown(load("cube:3,turns=half"), alarms(load("cube:3,turns=half")))
    headings = re.findall(r"^## (.*)$", text, re.MULTILINE)
    assert headings == ["Can happen, but only with turns that this copy does not make", "Cannot come by turning"]


def test_what_comes_from_a_file_is_no_markup_in_a_table(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "alarming.toml").write_text(
        'title = "<b>odd</b>"\n[moves]\na = "(p_1 p_2 p_3)"\n[[kind]]\nname = "<i>x</i> *y*"\nslots = "p_1 p_2 p_3"\n', "utf-8"
    )
    text = alarms_markdown(load("custom:alarming.toml"), alarms(load("custom:alarming.toml")))
    assert "\\<b\\>odd\\</b\\>" in text and not re.search(r"(?<!\\)[<>]", text)
    assert "two \\<i\\>x\\</i\\> \\*y\\* swapped" in text and "`swap p_1 p_2`" in text
