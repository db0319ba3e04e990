"""What is shown of a value in a line is short and can be pasted where that is possible; its text is a few plain lines."""

import pytest

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.laws.law_book import law_book
from oddswap.words.table import visitor
from oddswap.words.to_visitors.replies import reply

NAMES = ["cube:2", "cube:5", "shape-mod:prism8", "tiles:3x3", "rings:7+7", "corner-cube", "tetrahedron"]


@pytest.mark.parametrize("name", NAMES)
def test_a_law_book_can_be_pasted_and_read(name):
    book = load(name).laws
    assert eval(repr(book), {"load": load}) is law_book(load(name)) is book and len(repr(book)) < 60
    lines = str(book).splitlines()
    assert lines[0].endswith(f"laws: {len(book.laws)}") and len(lines) <= 9
    assert [line.strip() for line in lines[1:-1]][:6] == [law.statement for law in book.laws][:6]
    assert all(len(repr(law)) < 100 and "\n" not in repr(law) and str(law) == law.statement for law in book.laws)


def test_a_diagnosis_says_what_is_broken_and_who_can_be_the_culprit():
    found = load("shape-mod:prism8").diagnose("flip UF")
    assert repr(found) == "<diagnosis: lookalike, laws broken: 1, culprits: 4>"
    first, broken, *culprits = str(found).splitlines()
    assert first == found.verdict and found.broken[0].statement in broken
    assert [line.partition(": ")[2] for line in culprits] == [culprit.words for culprit in found.culprits]


def test_many_lines_of_a_sort_are_counted():
    found = load("tiles:4x4,letters=AAAAAAAABBBBBBB").diagnose("swap r1c1 r4c1")
    slips = load("cube:5").diagnose("swap UFL UFR")
    assert len(str(found).splitlines()) < 12 and len(str(slips).splitlines()) < 20


def test_an_answer_says_its_way_and_set_up():
    found = load("cube:2").answer("R U")
    assert repr(found) == f"<answer for cube:2: ordinary, way out {found.way_out.moves!r}>"
    assert str(found).splitlines()[-2:] == [f"way out: {found.way_out}", f"set-up: {found.set_up}"]
    assert str(found.way_out).startswith(f"{found.way_out.moves} (2 turns, proved shortest; ")


def test_a_way_that_was_not_found_says_why():
    way = load("cube:3").find_way("R U F L D B R U F L D B R U", budget=Budget(0.0))
    assert way.moves is None and str(way) == f"none found: {way.reason}"
    assert str(load("cube:3").find_way("R")).startswith("R' (1 turn, proved shortest; ")


def test_nothing_found_stays_short_whatever_it_is():
    for name in NAMES:
        puzzle = load(name)
        kind = max(puzzle.kinds, key=lambda kind: len(kind.slots))
        found = puzzle.diagnose(f"swap {kind.slots[0]} {kind.slots[1]}")
        assert len(repr(found)) < 90 and "\n" not in repr(found) and str(found).startswith(found.verdict)


@pytest.mark.parametrize(
    ("name", "changes", "turns"),
    [("cuboid:1x3x3", "flip ULR", "that keep its shape"), ("cube:3,turns=half", "cycle UFR UFL UBL", "that you named")],
)
def test_turns_are_said_to_be_named_only_where_somebody_named_them(name, changes, turns):
    found = load(name).answer(changes)
    assert found.verdict == "other turns" and turns in reply(found, visitor(found.puzzle)).why
