"""The data of the look-up say the same as the table of alarms, and as facts of the trade."""

from __future__ import annotations

import json

import numpy as np
import pytest

from oddswap.describing.changes import changed
from oddswap.edition.look_up import LOOKED_UP, look_up_data, look_up_script
from oddswap.puzzles.catalogue import load
from oddswap.showing.pages.law_page import alarms_data


@pytest.fixture(scope="module")
def data():
    script = look_up_script(map(load, ("cube:2", "cube:3", "cube:3,centres=none", "shape-mod:prism8")))
    return json.loads(script.removeprefix("const ALARMS = ").removesuffix(";\n"))


def verdicts(data, puzzle, words):
    found = next(entry for entry in data["puzzles"] if entry["name"] == puzzle)
    return {case["verdict"] for alarm in found["alarms"] if alarm["words"] == words for case in alarm["cases"]}


def test_it_says_what_is_known_of_the_cube(data):
    """Common practice: no turning twists one corner, flips one edge or swaps two; with hidden holdings a swap can come."""
    assert verdicts(data, "cube:3", "one corner twisted") == {"not by turning"}
    assert verdicts(data, "cube:3", "one edge flipped") == {"not by turning"}
    assert verdicts(data, "cube:3", "two edges flipped") == {"ordinary"}
    assert verdicts(data, "shape-mod:prism8", "one edge flipped") == {"lookalike"}


def test_nothing_of_the_tables_is_lost(data):
    for entry in data["puzzles"]:
        cases = [(alarm["words"], case) for alarm in entry["alarms"] for case in alarm["cases"]]
        told = sorted(
            (words, case["such"], case["alike"], case["verdict"], case["reason"], *case["laws"], *case["culprits"])
            for words, case in cases
        )
        assert told == sorted(
            (alarm["words"], ", ".join(alarm["changes"]), alarm["alike"], alarm["verdict"], alarm["reason"])
            + (*(law["statement"] for law in alarm["broken"]), *dict.fromkeys(culprit["words"] for culprit in alarm["culprits"]))
            for alarm in alarms_data(load(entry["name"]), load(entry["name"]).alarms)["entries"]
        )
        assert len(told) == len(cases) > 0


def test_each_case_says_where_it_is_and_what_is_behind_it(data):
    for entry in data["puzzles"]:
        puzzle = load(entry["name"])
        for words, case in ((alarm["words"], case) for alarm in entry["alarms"] for case in alarm["cases"]):
            seen = puzzle.appearance(changed(puzzle, case["such"].split(", "))).sights
            off = [b for b, sight in enumerate(puzzle.appearance(puzzle.solved).sights) if seen[b] != sight]
            assert set(off) <= set(case["slots"]) and 1 <= len(case["slots"]) <= 2, words
            assert (case["verdict"] == "lookalike") == bool(case["behind"]) == bool(case["culprits"])
        slots = {frozenset(case["slots"]) for alarm in entry["alarms"] for case in alarm["cases"]}
        touched = {frozenset(move[slot] for slot in one) for move in entry["moves"] for one in slots}
        pairs = {frozenset((a, b)) for kind in puzzle.kinds for a in kind.places for b in kind.places if a != b}
        assert pairs <= touched | {frozenset(pair) for pair in pairs if not told_apart(puzzle, *pair)}


def told_apart(puzzle, one, other) -> bool:
    """Whether anything shows when two pieces change places, however they are turned."""
    ways = [set(puzzle.looks[puzzle.base_label[p] + np.arange(puzzle.kind_of[p].twist)].tolist()) for p in (one, other)]
    return ways[0] != ways[1]


def test_equal_words_never_stand_for_two_puzzles():
    titles = [f"{load(name).title} ({name})" for name in LOOKED_UP]
    assert len(set(titles)) == len(titles)


def test_every_puzzle_of_the_edition_is_in_the_catalogue_under_its_own_name():
    assert [load(name).name for name in LOOKED_UP] == list(LOOKED_UP)


def test_no_puzzles_give_no_entries():
    assert look_up_data([])["puzzles"] == []
