"""No behaviour hangs on the wording of a sentence: with a random token for each, answers stay the same outside their prose."""

import json
import os
import subprocess
import sys
from collections import Counter

import pytest

from tests.commands.terminal_runs import LONG, ROOT
from tests.words.token_runs import COUNT, without_prose


@pytest.fixture(scope="module")
def runs(request, tmp_path_factory):
    """The answers with their sentences, and with tokens: two fresh processes, each with a cache of its own."""
    step = 1 if request.config.getoption("--every-case") else 10
    processes = []
    for how in ("sentences", "tokens"):
        line = [sys.executable, "-m", "tests.words.token_runs", how, str(step)]
        env = os.environ | {"ODDSWAP_CACHE": str(tmp_path_factory.mktemp(how))}
        processes.append(subprocess.Popen(line, cwd=ROOT, env=env, stdout=subprocess.PIPE, text=True))
    outputs = [process.communicate(timeout=LONG)[0] for process in processes]
    assert [process.returncode for process in processes] == [0, 0]
    sentences, tokens = ([json.loads(row) for row in output.splitlines()] for output in outputs)
    assert len(sentences) == len(tokens) == COUNT // step
    return sentences, tokens


def test_answers_are_the_same_whatever_is_said(runs):
    sentences, tokens = runs
    different = [a["number"] for a, b in zip(sentences, tokens, strict=True) if a["data"] != b["data"]]
    assert different == []


def test_every_sentence_on_findings_is_made_by_the_table(runs):
    sentences, tokens = runs
    assert [row["said"] for row in sentences] == [row["said"] for row in tokens] == [row["tokens"] for row in tokens]
    assert sum(row["said"] for row in tokens) > 5 * len(tokens) and not any(row["tokens"] for row in sentences)


def test_the_answers_are_of_all_kinds(runs):
    rows = [row["data"] for row in runs[0]]
    assert len(Counter(row["verdict"] for row in rows)) == 5
    assert any(row["way_out"]["moves"] for row in rows) and any(row["repair"] for row in rows)
    assert len({finding["code"] for row in rows for finding in row["findings"]}) > 15


def test_only_prose_is_left_out():
    law = {"name": "flips of edges", "type": "twist", "terms": [{"what": "twist", "slots": ["UF"]}], "statement": "It is even."}
    phase = {
        "name": "stage",
        "words": "leave the box",
        "moves": "U",
        "tally": [{"name": "sign", "before": "odd", "after": "even"}],
    }
    kept = without_prose({"verdict": "ordinary", "notes": ["one", "two"], "broken": [law], "phases": [phase]})
    assert kept == {
        "verdict": "ordinary",
        "notes": ["", ""],
        "broken": [law | {"name": "", "statement": ""}],
        "phases": [phase | {"words": "", "tally": [{"name": "", "before": "", "after": ""}]}],
    }
