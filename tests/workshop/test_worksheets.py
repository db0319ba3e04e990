"""A thousand sheets whose keys are verified by the formulas of the books, by turning, and by trying every culprit."""

from __future__ import annotations

import pytest

from oddswap.describing.changes import changed
from oddswap.errors import BadOption
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.law_book import law_book
from oddswap.workshop.worksheets import ASKED, difficulty, worksheet
from tests.reasoning.judge import Judge

MANY = {"cube:2": 760, "cube:3": 216, "shape-mod:prism8": 12, "cube:3,centres=marked": 12}
"""A thousand sheets in all."""
LAWS = {"corners and the edges": 0, "twists of the corners": 2, "flipped edges": 3, "quarter turns": 4}
"""What tells the statement of each law, and its place among the quantities of the books (see `judge`)."""


@pytest.mark.parametrize(("name", "count"), MANY.items())
def test_every_key_is_right_by_a_second_method(name, count):
    """Verdicts and laws by the books' formulas (Bandelow 1982; Joyner 2008), ways by turning them, none by the law book."""
    puzzle, judge = load(name), Judge.of(load(name)) if name != "cube:2" else Judge(load(name), {}, ())
    said, solved = list(ASKED), _held_anyhow(puzzle)
    for number in range(count):
        sheet = worksheet(puzzle, 1 + number % 3, 11, number, count=4)
        for question in sheet.questions:
            position = question.position
            assert changed(puzzle, question.changes, puzzle.follow(question.moves)) == position
            if question.sort == "possible":
                assert judge.verdict(position) == said[question.right]
            if question.sort == "law":
                assert judge.verdict(position) == "not by turning"
                kept = [_kept(judge, position, statement) for statement in question.choices]
                assert [not one for one in kept] == [i == question.right for i in range(len(kept))]
            if question.sort == "culprit":
                assert judge.verdict(position) == "lookalike"
                q = judge.quantities(judge.first_sight(position).first)
                mends = [any(_mended(judge, q, slot)) for slot in question.choices]
                assert mends == [i == question.right for i in range(len(mends))]
            if question.sort == "ways":
                home = [puzzle.appearance(puzzle.follow(way, position)) for way in question.choices]
                assert [seen.sights in solved for seen in home] == [i == question.right for i in range(len(home))]


def _held_anyhow(puzzle) -> set:
    names = [f"{a} {b}".strip() for a in ("", "x", "x'", "x2", "z", "z'") for b in ("", "y", "y2", "y'")]
    return {puzzle.appearance(puzzle.follow(name)).sights for name in (names if puzzle.rotations else [""])}


def _kept(judge: Judge, position, statement: str) -> bool:
    q = judge.quantities(judge.first_sight(position).first)
    (place,) = (place for words, place in LAWS.items() if words in statement)
    return {0: q[0] == q[1], 2: q[2] == 0, 3: q[3] == 0, 4: q[4] == q[0]}[place]


def _mended(judge: Judge, q, slot: str):
    """Whether each hidden turn of the piece at home in a slot makes the quantities kept, the turned centres apart."""
    piece = judge.puzzle.slot(slot)
    for step in judge.unseen(frozenset({piece})) - {(0, 0, 0, 0, 0)}:
        after = tuple((a + b) % m for a, b, m in zip(q, step, (2, 2, 3, 2, 2), strict=True))
        yield after[0] == after[1] and after[2:4] == (0, 0)


def test_the_same_seed_gives_the_same_sheet_and_another_another():
    prism = load("shape-mod:prism8")
    assert worksheet(prism, 2, 5, 3) == worksheet(prism, 2, 5, 3) != worksheet(prism, 2, 6, 3)
    assert worksheet(prism, 2, 5, 3) != worksheet(prism, 2, 5, 4)


@pytest.mark.parametrize("name", ["cube:3", "shape-mod:prism8", "tetrahedron", "cuboid:2x3x4"])
def test_levels_get_harder_as_measured(name):
    puzzle = load(name)
    measured = [difficulty([worksheet(puzzle, level, 3, number) for number in range(4)], puzzle) for level in (1, 2, 3)]
    assert measured == sorted(measured) and measured[0][0] < measured[2][0] and measured[0][1] < measured[2][1]


def test_no_position_comes_twice_on_a_sheet_and_answers_are_not_always_the_same():
    sheets = [worksheet(load("cube:3"), 1, 2, number) for number in range(12)]
    for sheet in sheets:
        assert len({question.position for question in sheet.questions}) == len(sheet.questions)
    rights = [question.right for sheet in sheets for question in sheet.questions if question.sort == "ways"]
    assert len(set(rights)) == 4


@pytest.mark.parametrize(
    ("name", "level", "says"),
    [
        ("cube:3", 4, "there is no level 4"),
        ("cube:3", 0, "there is no level 0"),
        ("tiles:4x4", 1, "is no solid that turns"),
        ("cube:2,turns=R", 1, "turns one slab only"),
        ("cuboid:1x2x3", 1, "has no laws"),
    ],
)
def test_what_makes_no_fair_sheet_is_one_sentence(name, level, says):
    with pytest.raises(BadOption, match=says):
        worksheet(load(name), level, 1)


def test_a_proof_names_the_law():
    sheets = [worksheet(load("cube:3"), 1, 4, number) for number in range(6)]
    proofs = [question.proof for sheet in sheets for question in sheet.questions if question.sort == "law"]
    names = [law.name for law in law_book(load("cube:3")).laws]
    assert proofs and all(any(name in proof for name in names) for proof in proofs)
