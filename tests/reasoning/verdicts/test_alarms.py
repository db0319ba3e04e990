"""The table of alarms against every anomaly tried one by one, the solid geometry of pairs, and what the trade knows."""

from collections import Counter
from dataclasses import replace
from itertools import combinations, product
from pathlib import Path

import pytest

from oddswap.describing.changes import changed
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.verdicts.alarms import alarms
from oddswap.reasoning.verdicts.diagnosis import judged
from oddswap.words import say

SMALL = [
    *["cube:2", "cube:3", "cube:3,centres=none", "cube:3,centres=marked", "cube:3,turns=R+U", "cube:3,turns=half"],
    *["shape-mod:cube,axis=U,degrees=45", "cuboid:2x2x3", "cuboid:1x3x3", "cuboid:2x3x4"],
    *["tetrahedron", "corner-cube", "loop:5,window=3", "loop:4,window=4,beads=aabb", "rings:4+4,cross=1", "rings:5+5,beads=4+4"],
    *["tiles:2x3", "tiles:2x3,letters=aabcd", "graph:2+1+2", "cube:2,turns=R+U"],
]

NO_MIRROR = """
[moves]
m = "(a3 a4 a3+2 a4+2 a3+1 a4+1)(b b+1 b+2 b+3 b+4 b+5)"
[[kind]]
name = "beads"
slots = "a1 a2 a3 a4"
twist = 3
[[kind]]
name = "wheel"
slots = "b"
twist = 6
looks = { b = ["red", "blue", "red", "blue", "red", "blue"] }
"""


def test_twists_either_way_are_apart_without_a_mirror_and_two_hidden_steps_are_no_alarm(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    Path("own.toml").write_text(NO_MIRROR)
    test_classes_add_up_to_all_anomalies_and_have_one_verdict_each("custom:own.toml")


def groups(puzzle):
    """Kinds of one family and twist together: pieces of which two can be turned alike."""
    found = {}
    for kind in puzzle.kinds:
        found.setdefault((kind.family, kind.twist), []).append(kind)
    return found.values()


def anomalies(puzzle):
    """Every anomaly of one or two pieces that shows, as an arrangement; each also without one of its parts, to compare."""
    turned, swapped = by_hand(puzzle)
    for kinds in groups(puzzle):
        singles = [(slot, e) for kind in kinds for slot in kind.places for e in range(1, kind.twist)]
        yield from ((turned(one), [puzzle.solved]) for one in singles)
        for one, other in combinations(singles, 2):
            if one[0] != other[0]:
                yield turned(one, other), [turned(one), turned(other)]
        for kind in kinds:
            for a, b in combinations([slot for slot in kind.places if slot != puzzle.blank], 2):
                yield swapped(a, b, 0), [puzzle.solved]
                for e in range(1, kind.twist):
                    yield swapped(a, b, e), [swapped(a, b, 0), turned((b, e))]


def by_hand(puzzle):
    def turned(*pieces, start=puzzle.solved):
        twists = list(start.twists)
        for slot, e in pieces:
            twists[slot] = e
        return replace(start, twists=tuple(twists))

    def swapped(a, b, e):
        pieces = list(puzzle.solved.pieces)
        pieces[a], pieces[b] = b, a
        return turned((b, e), start=replace(puzzle.solved, pieces=tuple(pieces)))

    return turned, swapped


def seen(puzzle):
    for state, less in anomalies(puzzle):
        if all(puzzle.appearance(state) != puzzle.appearance(other) for other in less):
            yield state


@pytest.mark.parametrize("name", SMALL)
def test_classes_add_up_to_all_anomalies_and_have_one_verdict_each(name):
    """Each anomaly is diagnosed; the classes, weighed by their sizes, have the same verdicts and the same broken laws.

    Half turns split the edges into three orbits alike, of which the laws chosen name some only: there, the verdicts.
    """
    puzzle, expected, table = load(name), Counter(), Counter()
    for state in seen(puzzle):
        expected[told(judged(puzzle, puzzle.appearance(state)), name)] += 1
    for alarm in alarms(puzzle):
        table[told(alarm, name)] += alarm.alike
    assert table == expected


def told(found, name):
    return found.verdict, () if name == "cube:3,turns=half" else tuple(sorted(law.name for law in found.broken))


@pytest.mark.parametrize("name", ["cube:2", "cube:3,centres=none", "tetrahedron", "cube:3,centres=marked"])
def test_where_all_pieces_differ_the_number_of_anomalies_is_counted_by_formula(name):
    """n pieces of m ways round: n(m - 1) turned, (m - 1)² for each pair turned, m for each pair of one kind exchanged."""
    puzzle, total = load(name), 0
    for kinds in groups(puzzle):
        n, m = sum(len(kind.slots) for kind in kinds), kinds[0].twist
        total += n * (m - 1) + n * (n - 1) // 2 * (m - 1) ** 2
        total += sum(m * len(kind.slots) * (len(kind.slots) - 1) // 2 for kind in kinds)
    assert sum(alarm.alike for alarm in alarms(puzzle)) == total


@pytest.mark.parametrize("name", SMALL)
def test_an_alarm_is_what_its_changes_make(name):
    puzzle = load(name)
    for alarm in alarms(puzzle):
        found = judged(puzzle, puzzle.appearance(changed(puzzle, alarm.changes)))
        assert (found.verdict, found.broken) == (alarm.verdict, alarm.broken)
        assert [c.pieces for c in found.culprits] == [c.pieces for c in alarm.culprits]
        assert say(alarm.reason) and "\n" not in say(alarm.reason) and alarm.alike > 0


# Of the 66 pairs of edges of a cube, 24 share a corner, 12 lie opposite on a face, 6 opposite on the cube, and 24 are skew;
# of the 28 pairs of corners, 12 share an edge, 12 lie across a face, and 4 across the cube.
EDGE_PAIRS, CORNER_PAIRS = [6, 12, 24, 24], [4, 12, 12]


@pytest.mark.parametrize(
    "name, words, sizes",
    [
        ("cube:3", "one edge flipped", [12]),
        ("cube:3", "one corner twisted", [16]),
        ("cube:3", "two edges flipped", EDGE_PAIRS),
        ("cube:3", "two edges swapped", EDGE_PAIRS),
        ("cube:3", "two corners swapped", CORNER_PAIRS),
        ("cube:3", "two corners twisted, the same way", [2 * n for n in CORNER_PAIRS]),
        ("cube:3", "two corners twisted, opposite ways", [2 * n for n in CORNER_PAIRS]),
        ("cube:3,centres=marked", "one centre turned a quarter", [12]),
        ("cube:3,centres=marked", "one centre turned half", [6]),
        ("cube:3,centres=marked", "two centres turned half", [3, 12]),
        ("shape-mod:prism8", "one edge flipped", [8]),
        ("cuboid:2x2x3", "two edges flipped", [2, 4]),
        ("tetrahedron", "two edges flipped", [3, 12]),
        ("cube:4", "one corner twisted", [16]),
    ],
)
def test_classes_are_those_of_solid_geometry(name, words, sizes):
    """On the octagonal prism the flips of the four middle edges do not show; its other eight edges are alike."""
    found = sorted(alarm.alike for alarm in alarms(load(name)) if say(alarm.sort) == words)
    assert found == sorted(sizes)


def one(name, words):
    """The verdicts of all classes of a sort, which must be one, and the reasons, which must be one too."""
    ((verdict, reason),) = {(alarm.verdict, say(alarm.reason)) for alarm in alarms(load(name)) if say(alarm.sort) == words}
    return verdict, reason


def test_three_reasons_are_three_texts():
    """A sign that no law counts, equal centres, and a holding that is not fixed (common practice; the first: Bonzio, Loi,
    Peruzzi, Math. Slovaca 67 (2017) 561-572)."""
    free = one("cube:4", "two wings swapped")
    equal = one("cube:4", "two corners swapped")
    holding = one("cube:3,centres=none", "two edges swapped")
    assert free == ("ordinary", "a sign that is simply free: no law counts whether the wings move evenly")
    assert equal == ("lookalike", "equal pieces: two of the diagonal centres have changed places unseen")
    assert holding[0] == "ordinary" and "a holding that is not fixed" in holding[1] and "corners and edges" in holding[1]
    assert len({free[1], equal[1], holding[1]}) == 3


@pytest.mark.parametrize(
    "name, words, verdict, says",
    [
        ("cube:3", "two edges swapped", "not by turning", "corners and the edges are always rearranged either both evenly"),
        ("cube:3", "one edge flipped", "not by turning", "flipped edges is always even"),
        ("cube:2", "two corners swapped", "ordinary", "a sign that is simply free: no law counts whether the corners"),
        ("cube:2", "two corners twisted, opposite ways", "ordinary", "the quantities add up"),
        ("cube:3,turns=half", "two edges flipped", "other turns", "its own never change this. With these turns a piece stays"),
        ("cube:3,turns=half", "one edge flipped", "not by turning", "a piece stays among its own slots"),
        ("shape-mod:prism8", "one edge flipped", "lookalike", "a hidden turn: one of the edges has turned unseen"),
        ("shape-mod:cube,axis=U,degrees=45", "one centre turned a quarter", "lookalike", "a hidden turn: one of the centres"),
        ("cube:3,centres=marked", "one centre turned a quarter", "not by turning", "centres"),
        ("cube:3,centres=marked", "one centre turned half", "ordinary", "the quantities add up"),
        (
            "rings:4+4,cross=1",
            "two beads swapped",
            "not by turning",
            "the turns always keep this one: 1 plays 2, 3 plays 6 and 4",
        ),
        ("graph:2+1+2", "two pieces swapped", "not by turning", "Let the six pieces be players"),
        ("loop:5,window=3", "two beads swapped", "ordinary", "no law counts whether the beads move evenly"),
        ("tiles:2x3", "two tiles swapped", "not by turning", "always rearranged evenly"),
        ("tiles:2x3,letters=aabcd", "two tiles swapped", "lookalike", "equal pieces: two of the tiles"),
    ],
)
def test_what_is_said_of_alarms(name, words, verdict, says):
    """Facts of the trade (common practice) and of the theorems that the other tests cite."""
    given, reason = one(name, words)
    assert given == verdict and says in reason


def test_culprits_of_the_cube_of_four_are_equal_centres_of_one_face():
    puzzle = load("cube:4")
    for alarm in alarms(puzzle):
        if say(alarm.sort) == "two corners swapped":
            pairs = {frozenset(culprit.pieces) for culprit in alarm.culprits}
            centres = [slot for slot in puzzle.slots if slot[1:2] == "."]
            assert pairs == {frozenset(p) for p in combinations(centres, 2) if p[0][0] == p[1][0]} and len(pairs) == 36


def test_where_nothing_can_look_wrong_the_table_is_empty():
    assert alarms(load("loop:4,window=2,beads=4")) == ()


@pytest.mark.parametrize("name", ["cube:3", "corner-cube", "tetrahedron"])
def test_the_order_is_that_of_the_kinds(name):
    puzzle = load(name)
    families = [kind.family.removesuffix("s") for kind in puzzle.kinds]
    told = [next(f for f in dict.fromkeys(families) if f in say(alarm.sort)) for alarm in alarms(puzzle)]
    assert told == sorted(told, key=families.index)


@pytest.mark.parametrize("name", ["cube:3,centres=none", "cube:2", "cube:4"])
def test_a_holding_is_the_reason_only_where_a_fixed_one_would_break_a_law(name):
    puzzle = load(name)
    held = replace(puzzle, rotations={})
    for alarm in alarms(puzzle):
        if alarm.verdict == "ordinary":
            broken = law_book(held).broken(changed(puzzle, alarm.changes))
            assert bool(broken) == (alarm.reason.code == "holding")
            assert all(law.name in say(alarm.reason) for law in broken)


@pytest.mark.parametrize(
    "name, kind, twist", [("cube:3", "edges", 2), ("cube:2", "corners", 3), ("cube:3,centres=marked", "centres", 4)]
)
def test_every_way_to_turn_two_pieces_has_words_of_its_own(name, kind, twist):
    """How far each is turned, and, unless both are turned by a half, whether both are turned the same way."""
    ways = set()
    for e, f in product(range(1, twist), repeat=2):
        far = tuple(sorted(min(steps, twist - steps) for steps in (e, f)))
        ways.add((far, e == f if far[0] == far[1] != twist / 2 else None))
    words = {say(alarm.sort) for alarm in alarms(load(name)) if say(alarm.sort).startswith(f"two {kind} ")}
    assert len([way for way in words if "swapped" not in way]) == len(ways)
