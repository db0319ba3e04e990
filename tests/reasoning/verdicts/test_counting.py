"""Counts of explanations against going through every assembly, judged by the law book or by a walk over the turns."""

from __future__ import annotations

import json
from importlib.resources import files
from itertools import count as count_from
from itertools import product
from random import Random

import numpy as np
import pytest
from jsonschema import validate

from oddswap.__main__ import main
from oddswap.describing.changes import changed
from oddswap.describing.sights import covered, every_look, own_look, sight_words
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.lookalikes import lookalikes
from oddswap.reasoning.verdicts import counting
from oddswap.reasoning.verdicts.counting import count_explanations
from oddswap.values.position import Appearance, Arrangement
from oddswap.words import say

WALKED = (
    "tiles:2x2",
    "tiles:2x3",
    "tiles:2x3,letters=AABCD",
    "rings:4+4,cross=2",
    "graph:2+1+2",
    "loop:6,window=4",
    "cube:2,turns=half",
    "cuboid:1x2x3",
    "cuboid:2x2x3,turns=half",
    "rings:5+5,cross=2",
    "cuboid:1x3x3,turns=half",
    "cube:2,turns=R2+U2",
    "cube:2,turns=R+L",
    "cube:2,turns=R+U2",
    "cuboid:1x2x3,turns=F2",
    "cuboid:2x2x3,turns=R2+F",
    "cuboid:2x2x3,turns=R2+U2",
    "cuboid:1x4x4,turns=U2+F2",
    "cuboid:1x4x4,turns=2U2+2F2",
)
"""Additive laws, pairing laws, programmes, split kinds, a blank, twins, holdings that are free."""


def reached(puzzle: Puzzle) -> set[Arrangement]:
    """Every arrangement that the turns reach, by walking: first with the turns, and then with the puzzle as a whole."""
    found, queue = {puzzle.solved}, [puzzle.solved]
    for moves in (puzzle.turns.values(), puzzle.rotations.values()):
        for arrangement in queue:
            for turn in puzzle.legal(arrangement) if puzzle.blank is not None else moves:
                following = puzzle.arrangement(turn.permutation[puzzle.permutation(arrangement)])
                if following not in found:
                    found.add(following)
                    queue.append(following)
    return found


def assemblies(puzzle: Puzzle, sights) -> list[Arrangement]:
    """Every arrangement of the pieces, kind by kind, that looks as is seen."""
    by_kind = []
    for kind in puzzle.kinds:
        found: list[tuple] = [((), ())]
        for b in kind.places:
            fitting = [
                (p, t) for p in kind.places for t in range(kind.twist) if int(puzzle.looks[puzzle.base_label[p] + t]) in sights[b]
            ]
            found = [((*ps, p), (*ts, t)) for ps, ts in found for p, t in fitting if p not in ps]
        by_kind.append(found)
    return [
        Arrangement(puzzle.name, tuple(p for part in chosen for p in part[0]), tuple(t for part in chosen for t in part[1]))
        for chosen in product(*by_kind)
    ]


def half_seen(puzzle: Puzzle, arrangement: Arrangement, unseen: int, rng: Random) -> Appearance:
    """What it looks like with so many slots unseen, and one of which only *this or that* is known."""
    sights = list(puzzle.appearance(arrangement).sights)
    slots = rng.sample(range(len(sights)), min(unseen + 1, len(sights)))
    for slot in slots[1:]:
        sights[slot] = every_look(puzzle, slot)
    sights[slots[0]] |= {rng.choice(sorted(every_look(puzzle, slots[0])))}
    return Appearance(puzzle.name, tuple(sights))


@pytest.mark.parametrize(
    ("name", "hidden", "twisted", "total", "share"),
    [
        ("cube:2", ["UFR", "DBL"], [], 2 * 9, 3),
        ("cube:2", ["UFR", "DBL"], ["twist UFL cw"], 2 * 9, 3),
        ("cube:3,centres=marked", ["UFR", "DBL"], ["twist UFL ccw"], 2 * 9, 6),
        ("cube:3,centres=marked", ["UFR", "DBL", "UF", "DB"], ["twist UFL cw"], 2 * 9 * 2 * 4, 24),
        ("cube:3,centres=marked", ["UF", "DB", "DF"], ["swap UL UR"], 6 * 8, 4),
    ],
)
def test_of_what_hands_could_put_there_a_share_is_reached(name, hidden, twisted, total, share):
    """By hand: twists add up to nothing (3), flips too (2), and corners and edges are exchanged an even number of times (2 each),
    as no centre is turned."""
    puzzle = load(name)
    sights = list(puzzle.appearance(changed(puzzle, twisted)).sights)
    for slot in hidden:
        sights[puzzle.slot(slot)] = every_look(puzzle, puzzle.slot(slot))
    count = count_explanations(puzzle, Appearance(name, tuple(sights)))
    assert (count.total, count.reachable, count.appearances_reached) == (total, total // share, total // share)
    assert set(count.classes.values()) == {total // share} and len(count.classes) == share


@pytest.mark.parametrize("name", WALKED)
def test_counts_are_those_of_going_through_all(name):
    puzzle, rng = load(name), Random(name)
    walked = reached(puzzle)
    relabelled = {puzzle.appearance(arrangement) for arrangement in walked}
    some = sorted(walked, key=lambda a: (a.pieces, a.twists))
    for unseen in (1, 2, 3, 4) if name.startswith("cube") else (1, 2, 3, 4, 6):
        start = rng.choice(some)
        if unseen % 2:
            kind = max(puzzle.kinds, key=lambda kind: len(kind.slots))
            one, other = rng.sample([p for p in kind.places if p != puzzle.blank], 2)
            exchange = lookalikes(puzzle).relabelling({one: (other, 0), other: (one, 0)})
            start = puzzle.arrangement(puzzle.permutation(start)[exchange])
        seen = half_seen(puzzle, start, unseen, rng)
        found = assemblies(puzzle, seen.sights)
        count = count_explanations(puzzle, seen)
        assert count.total == len(found)
        assert count.reachable == sum(arrangement in walked for arrangement in found)
        assert count.appearances_reached == len({puzzle.appearance(arrangement) for arrangement in found} & relabelled)
        assert count.appearances == len({puzzle.appearance(arrangement) for arrangement in found})
        if count.classes is not None:
            assert sum(count.classes.values()) == count.total


@pytest.mark.parametrize(("name", "index"), [("cube:3", 12), ("cube:2", 3), ("dodecahedron", 24), ("cube:4", 3)])
def test_what_nobody_sees_counts_as_published(name, index):
    """One in 12, 24 …: the seen indices of CHECKVALUES (OEIS A075152, A309113), all classes equally often."""
    puzzle = load(name)
    nothing = Appearance(name, tuple(every_look(puzzle, b) for b in range(len(puzzle.slots))))
    count = count_explanations(puzzle, nothing)
    assert count.total == law_book(puzzle).wide_order and count.equal
    assert count.appearances == index * count.appearances_reached
    assert count.reachable == law_book(puzzle).order


@pytest.mark.parametrize("name", ["corner-cube", "cube:3", "shape-mod:prism8", "cube:3,centres=marked", "tetrahedron"])
def test_a_whole_view_leaves_one_appearance_and_its_own_class(name):
    puzzle, rng = load(name), Random(name)
    for _ in range(4):
        arrangement = puzzle.follow(" ".join(rng.choices(list(puzzle.turns), k=9)))
        count = count_explanations(puzzle, puzzle.appearance(arrangement))
        assert count.appearances == count.appearances_reached == 1 and count.total == lookalikes(puzzle).order
        assert not count.broken


def test_laws_that_every_explanation_breaks_are_named():
    cube = load("cube:3")
    flipped = Arrangement(cube.name, cube.solved.pieces, tuple(int(slot == "UF") for slot in cube.slots))
    sights = list(cube.appearance(flipped).sights)
    for slot in ("UFR", "UFL", "UBR"):
        sights[cube.slot(slot)] = every_look(cube, cube.slot(slot))
    count = count_explanations(cube, Appearance(cube.name, tuple(sights)))
    assert count.appearances_reached == 0 and [law.name for law in count.broken] == ["flips of edges"]


@pytest.mark.parametrize(
    ("one", "other", "sizes"), [(3, 3, [3, 3, 3]), (3, 2, [2, 2, 2]), (2, 2, [1, 1, 2]), (2, 1, [1, 1]), (1, 1, [1])]
)
def test_what_is_seen_says_nothing_where_all_three_classes_come_out_equally_often(one, other, sizes):
    """By hand: of two corners so many ways round each are open, and a class is a sum of twists (mod 3)."""
    puzzle = load("cube:2")
    sights = list(puzzle.appearance(puzzle.solved).sights)
    for slot, ways in ((puzzle.slot("UFR"), one), (puzzle.slot("DBL"), other)):
        sights[slot] = frozenset(puzzle.looks[puzzle.base_label[slot] + np.arange(ways)].tolist())
    count = count_explanations(puzzle, Appearance(puzzle.name, tuple(sights)))
    assert sorted(count.classes.values()) == sizes and count.equal == (len(sizes) == 3 and len(set(sizes)) == 1)


def test_of_pieces_outside_their_orbits_that_alone_is_named():
    """Of R, U and F none moves DB, whatever else is wrong; with both edges unseen they may be at home."""
    puzzle = load("cube:3,centres=marked,turns=R+U+F")
    sights = list(puzzle.appearance(changed(puzzle, ["swap UR DB"])).sights)
    assert [law.type for law in count_explanations(puzzle, Appearance(puzzle.name, tuple(sights))).broken] == ["orbit"]
    for slot in ("UR", "DB"):
        sights[puzzle.slot(slot)] = every_look(puzzle, puzzle.slot(slot))
    open_count = count_explanations(puzzle, Appearance(puzzle.name, tuple(sights)))
    assert open_count.broken == () and open_count.reachable == 1 and len(law_book(puzzle).laws) > 1


def test_more_than_can_be_told_apart_is_said(monkeypatch):
    puzzle = load("rings:4+4,cross=2")
    nothing = Appearance(puzzle.name, tuple(every_look(puzzle, b) for b in range(len(puzzle.slots))))
    monkeypatch.setattr(counting, "MOST_ONE_BY_ONE", 100)
    count = count_explanations(puzzle, nothing)
    assert count.total == 720 and count.reachable is None and "too many to try one by one" in say(count.reason)
    assert not count.equal and count.broken == ()


TOO_MANY = ("dodecahedron", "cube:7,centres=marked", "graph:9+8+7+6", "loop:90")


def this_or_that(puzzle: Puzzle, rng: Random) -> list[frozenset[int]]:
    """Every slot shows what it shows when solved, or one of three other looks of its kind."""
    every = [sorted(every_look(puzzle, b)) for b in range(len(puzzle.slots))]
    return [own_look(puzzle, b) | frozenset(rng.sample(looks, min(3, len(looks)))) for b, looks in enumerate(every)]


@pytest.mark.parametrize("name", TOO_MANY)
def test_where_even_the_total_cannot_be_had_it_is_null_and_the_reason_is_said(name, tmp_path, capsys):
    """Solved is among the explanations, and so is much that nobody turned: nobody can tell yet."""
    puzzle = load(name)
    seen = Appearance(name, tuple(this_or_that(puzzle, Random(name))))
    count = count_explanations(puzzle, seen)
    assert count.total is count.appearances is count.reachable is count.appearances_reached is None
    assert "sets of used pieces" in say(count.reason) and not count.equal and count.broken == ()
    slots = {slot: sight_words(puzzle, b, seen.sights[b]) for b, slot in enumerate(puzzle.slots) if len(seen.sights[b]) > 1}
    rows = "\n".join(f'"{slot}" = "{words}"' for slot, words in slots.items())
    (tmp_path / "t.toml").write_text(f'puzzle = "{name}"\nelsewhere = "in place"\n[slots]\n{rows}\n', "utf-8")
    assert main(["answer", str(tmp_path / "t.toml"), "--json", "--seconds", "1"]) == 0
    told = json.loads(capsys.readouterr().out)
    validate(told, json.loads((files("oddswap.showing.pages") / "schemas" / "answer.json").read_text("utf-8")))
    (only_turned,) = (finding["data"] for finding in told["findings"] if finding["code"] == "if-only-turned")
    assert told["verdict"] == "cannot tell yet" and only_turned["share"] == {"ways": None, "reached": None}
    assert any("was not counted" in note for note in told["notes"])


def test_that_no_assembly_agrees_is_known_without_a_count():
    puzzle = load("dodecahedron")
    sights = this_or_that(puzzle, Random(1))
    first, second, *_ = puzzle.kind_of[0].places
    sights[first] = sights[second] = own_look(puzzle, first)
    for b in puzzle.kind_of[0].places[2:]:
        sights[b] -= sights[first]
    assert count_explanations(puzzle, Appearance(puzzle.name, tuple(sights))).total == 0


@pytest.mark.parametrize("name", ["rings:4+4,cross=2", "cube:2,turns=half"])
def test_counts_that_go_through_much_end_with_the_budget(name):
    """On a clock that runs a second ahead at each look, nothing is left after the first."""
    puzzle, ticks = load(name), count_from(0)
    law_book(puzzle)
    nothing = Appearance(name, tuple(every_look(puzzle, b) for b in range(len(puzzle.slots))))
    count = count_explanations(puzzle, nothing, Budget(1.0).start(lambda: float(next(ticks))))
    assert count.total and count.reachable is None and say(count.reason) == "the time ended before they were counted"


@pytest.mark.parametrize(("unseen", "even"), [("UDFBLR", 720 // 2), ("UDFBL", 120 // 2), ("UD", 1)])
def test_with_its_corners_in_place_a_corner_cube_has_its_centres_evenly_exchanged(unseen, even):
    """Only even exchanges of centres, a well-known fact of this puzzle; each centre has two ways round that nobody sees."""
    puzzle = load("corner-cube")
    found = count_explanations(puzzle, covered(puzzle, list(unseen)))
    assert found.appearances_reached == even and sum(found.classes.values()) == found.total
    assert found.total == max(2 * even, 1) * 2**6 and found.reachable == even * 2**6 // 2
