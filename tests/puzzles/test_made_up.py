"""Puzzles told in Python are those that files of the same tables describe."""

import pickle
import subprocess
import sys

import numpy as np
import pytest

from oddswap import puzzle
from oddswap.errors import OddswapError
from oddswap.puzzles.base.mechanism import DIRECTIONS
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.law_book import law_book

MOVES = {"a": "(1 2 3 4)", "b": "(3 4 5 6)"}
FACETS = {name: {"normal": normal, "offset": 1} for name, normal in DIRECTIONS.items()}
CUTS = {name: {"normal": facet["normal"], "offset": 0.3, "turns": 4} for name, facet in FACETS.items()}
FILE = """
[moves]
a = "(A B+1 C)"
[[kind]]
name = "wheels"
slots = "A B C"
twist = 3
[kind.looks]
A = ["A", "A+1", "A+2"]
B = ["A", "A+1", "A+2"]
"""


def test_moves_told_in_python_are_those_of_a_file(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "three.toml").write_text(FILE, "utf-8")
    told = puzzle("three", moves={"a": "(A B+1 C)"}, kinds={"wheels": {"slots": "A B C", "twist": 3}}, twins="A B")
    read = load("custom:three.toml")
    assert told.kinds == read.kinds and np.array_equal(told.looks, read.looks) and list(told.turns) == list(read.turns)
    assert all(np.array_equal(told.turns[name].permutation, read.turns[name].permutation) for name in read.turns)


def test_a_solid_told_in_python_moves_as_the_cube_does():
    assert law_book(puzzle("my cube", facets=FACETS, cuts=CUTS)).order == law_book(load("cube:3")).order


def test_left_out_kinds_are_one_of_all_slots_that_moves_name():
    assert puzzle("wheels", moves=MOVES).kinds[0].slots == tuple("123456")


def test_it_is_found_by_its_name_and_can_be_sent_to_another_process():
    wheels = puzzle("two wheels", moves=MOVES, twins=["1 2"])
    assert load(wheels.name) is wheels and pickle.loads(pickle.dumps(wheels)) is wheels
    assert puzzle("two wheels", moves=MOVES, twins="1 2") is wheels
    code = "import pickle, sys; print(repr(pickle.load(sys.stdin.buffer)))"
    sent = subprocess.run([sys.executable, "-c", code], input=pickle.dumps(wheels), capture_output=True, check=True)
    assert sent.stdout.decode().strip() == repr(wheels) == "load('made-up:two wheels')"
    assert puzzle("two wheels", moves=MOVES) is not wheels
    with pytest.raises(TypeError, match="pickle what it was made from"):
        pickle.dumps(wheels)


@pytest.mark.parametrize(
    "name, told, reason",
    [
        ("x", {}, r"by its moves \(and kinds and twins\), or by facets and cuts"),
        ("x", {"moves": MOVES, "cuts": CUTS}, r"by its moves \(and kinds and twins\), or by facets and cuts"),
        ("a:b", {"moves": MOVES}, "`a:b` cannot be what a puzzle is called"),
        ("", {"moves": MOVES}, "cannot be what a puzzle is called"),
        ("x", {"moves": {"a": "(1 2"}}, "^made-up:x: move a, column 1: this cycle is never closed"),
        ("x", {"moves": {"a b": "(1 2)"}}, "cannot name a move"),
        ("x", {"moves": {"a": 5}}, "`a` in moves is `5`: give a text"),
        ("a\nb", {"moves": MOVES}, "`a b` cannot be what a puzzle is called"),
        ("x", {"moves": {}}, "no move names a slot"),
        ("x", {"moves": MOVES, "twins": ["1 2", "2 3"]}, "`2` stands in two groups"),
        ("x", {"moves": MOVES, "kinds": {"beads": 5}}, "`beads` in kinds is `5`: give a table"),
        ("x", {"moves": MOVES, "kinds": {"beads": {"slots": "1 2", "twist": "2"}}, "twins": "1 2"}, "twist is `2`"),
        ("x", {"moves": MOVES, "kinds": {"beads": {"slots": "1 2 3 4 5 6", "looks": 3}}, "twins": "1 2"}, "looks is `3`"),
        ("x", {"moves": MOVES, "facets": FACETS}, "by its moves"),
        ("x", {"facets": FACETS, "cuts": CUTS, "twins": "UF UR"}, "by its moves"),
        ("x", {"moves": MOVES, "twins": ["1 9"]}, "`1 9` are no two slots of one kind"),
        ("x", {"moves": MOVES, "twins": "1"}, "`1` are no two slots of one kind"),
        ("x", {"cuts": CUTS}, "facet"),
        ("x", {"facets": FACETS, "cuts": {"U": {**CUTS["U"], "turns": None}}}, "^made-up:x, cut U: turns to"),
        ("x", {"facets": FACETS, "cuts": {"U": {**CUTS["U"], "normal": "up"}}}, "^made-up:x, cut U: a plane needs normal"),
        ("x", {"facets": FACETS, "cuts": {"U": {**CUTS["U"], "offset": 3}}}, "the cut U does not part the solid"),
    ],
)
def test_what_is_no_puzzle_is_refused_in_one_line(name, told, reason):
    with pytest.raises(OddswapError, match=reason) as caught:
        puzzle(name, **told)
    assert "\n" not in str(caught.value)
