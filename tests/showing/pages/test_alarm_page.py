"""The table of alarms as a page and as data: every alarm told once, under its verdict and its reason."""

import json
import re
from importlib.resources import files

import jsonschema
import pytest

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.verdicts.alarms import VERDICTS, alarms, gathered
from oddswap.reasoning.verdicts.diagnosis import CANNOT_TELL, LOOKALIKE, NOT_BY_TURNING, ORDINARY, OTHER_TURNS
from oddswap.showing.pages.alarm_page import alarms_data, alarms_markdown
from oddswap.words import say
from oddswap.words.verdicts import WORDINGS

SCHEMA = json.loads((files("oddswap.showing.pages") / "schemas" / "alarms.json").read_text("utf-8"))
NAMES = [
    *["cube:2", "cube:3", "cube:3,centres=none", "cube:3,turns=half", "cube:3,turns=R+U", "shape-mod:cube,axis=U,degrees=45"],
    *["corner-cube", "tetrahedron", "cuboid:2x3x4", "loop:5,window=3", "rings:4+4,cross=1", "tiles:2x3,letters=aabcd"],
    *["cube:2,turns=R+U", "graph:2+1+2", "loop:4,window=2,beads=4"],
]


@pytest.mark.parametrize("name", NAMES)
def test_data_follow_the_schema_and_the_table(name):
    data, table = alarms_data(load(name), alarms(load(name))), alarms(load(name))
    jsonschema.validate(data, SCHEMA)
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


def test_what_comes_from_a_file_is_no_markup(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "alarming.toml").write_text(
        'title = "<b>odd</b>"\n[moves]\na = "(p_1 p_2 p_3)"\n[[kind]]\nname = "<i>x</i> *y*"\nslots = "p_1 p_2 p_3"\n', "utf-8"
    )
    text = alarms_markdown(load("custom:alarming.toml"), alarms(load("custom:alarming.toml")))
    assert "\\<b\\>odd\\</b\\>" in text and not re.search(r"(?<!\\)[<>]", text)
    assert "two \\<i\\>x\\</i\\> \\*y\\* exchanged" in text and "`swap p_1 p_2`" in text
