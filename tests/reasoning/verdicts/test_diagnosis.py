"""Verdicts against the formulas of the books (`judge`), and culprits against all small exchanges tried one by one."""

from collections import Counter
from dataclasses import replace
from itertools import combinations, permutations

import numpy as np
import pytest

from oddswap.describing.changes import changed
from oddswap.describing.sights import covered
from oddswap.describing.stickers import seen_stickers, stickers
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.laws.as_seen import free_pieces
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.lookalikes import first_sight
from oddswap.reasoning.verdicts.diagnosis import at_face_value, diagnose, is_open, is_ordinary
from oddswap.reasoning.verdicts.exchanges import HiddenTurn
from oddswap.reasoning.verdicts.findings import EquallyOften, OnceStraight, OnlyTurned, PiecesJoined, PuzzleAsTold, WiderTurns
from oddswap.reasoning.verdicts.first_looks import straightened
from oddswap.reasoning.verdicts.views import View
from oddswap.values.position import Appearance
from tests.common.walking import depths
from tests.reasoning.by_definition import ByDefinition
from tests.reasoning.judge import Judge, anyhow, relabelled, tampered
from tests.reasoning.random_puzzles import random_puzzles, some_looks

FIVE = ["cube:2", "cube:3", "cube:3,centres=marked", "shape-mod:prism8", "shape-mod:prism8,paint=FR+FL+BR+BL"]
NAMES = [*FIVE, "shape-mod:cube,axis=U,degrees=45"]


def sample(puzzle, seed, count):
    """Assemblies of three makes: anyhow; scrambled with a few changes; solved but for a few changes."""
    rng = np.random.default_rng(seed)
    for i in range(count):
        if i % 3 == 0:
            yield anyhow(puzzle, rng)
        else:
            yield tampered(puzzle, rng, moves=20 * (i % 3 - 1), changes=int(rng.integers(0, 4)))


@pytest.mark.parametrize("name", FIVE)
def test_2000_assemblies_of_each_puzzle_are_judged_as_the_books_do(name):
    puzzle = load(name)
    judge, book = Judge.of(puzzle), law_book(puzzle)
    seen, counts = [law for law in book.laws if law.seen], {True: 0, False: 0}
    for i, state in enumerate(sample(puzzle, 1, 2000)):
        image = puzzle.permutation(state)
        kept = not any(law.value(image) for law in seen)
        assert kept == judge.reachable(state)
        assert i % 10 or book.reaches(state) == judge.kept(judge.quantities(state))
        counts[kept] += 1
    assert min(counts.values()) > 100


@pytest.mark.parametrize("name", NAMES)
def test_verdicts(name):
    puzzle = load(name)
    judge, chain, counts = Judge.of(puzzle), law_book(puzzle).chain, {}
    flips = [changed(puzzle, [f"flip {slot}"]) for slot in puzzle.slots if len(slot) == 2]
    for state in [*sample(puzzle, 2, 60), *flips]:
        appearance = puzzle.appearance(state)
        expected = judge.verdict(state)
        found = diagnose(puzzle, appearance)
        assert found.verdict == expected and is_ordinary(puzzle, appearance) == (expected == "ordinary")
        counts[expected] = counts.get(expected, 0) + 1
        assert puzzle.appearance(found.first) == appearance
        assert bool(found.broken) == (expected != "ordinary")
        assert bool(found.culprits) == (expected == "lookalike")
        assert (found.repair is None) == (expected != "not by turning")
        if expected == "not by turning":
            assert found.explanation is None
        else:
            assert puzzle.appearance(found.explanation) == appearance
            assert chain.contains(puzzle.permutation(found.explanation)) and not found.slips
        if expected == "ordinary":
            assert renamed(found.first, found.explanation) <= judge.first_sight(state).free
    alarms = {"lookalike"} if judge.hidden and name != "cube:3" else set()
    assert counts.keys() == {"ordinary", "not by turning"} | alarms, "plain centres always turn along"


def renamed(one, other):
    """The pieces of one arrangement that another calls by another name, or sees another way round."""
    pairs = zip(one.pieces, one.twists, other.pieces, other.twists, strict=True)
    return {p for p, t, q, e in pairs if (p, t) != (q, e)}


BY_HAND = [
    ("shape-mod:prism8", ["flip UF"]),
    ("shape-mod:prism8", ["swap UF UR", "swap UFR UFL", "flip DF"]),
    ("shape-mod:prism8,paint=FR+FL+BR+BL", ["swap UF UR"]),
    ("shape-mod:prism8,paint=FR+FL+BR+BL", ["swap UFR DFR"]),
    ("shape-mod:prism8,paint=FR+FL+BR+BL", ["swap UF FR", "flip DB"]),
    ("shape-mod:prism8,paint=FR+FL+BR+BL", ["swap UF UR", "cycle DL FL DB", "flip DB"]),
    ("shape-mod:prism8,paint=FR+FL+BR+BL", ["swap UF UR", "cycle DL FL DB"]),
    ("shape-mod:cube,axis=U,degrees=45", ["turn F cw"]),
    ("shape-mod:cube,axis=U,degrees=45", ["turn F cw", "flip DB"]),
]


@pytest.mark.parametrize("name, changes", BY_HAND)
def test_culprits_are_all_the_smallest_exchanges(name, changes):
    """Against every relabelling of one or two pieces of every first-sight explanation, sifted through the chain."""
    puzzle = load(name)
    assert check_culprits(Judge.of(puzzle), changed(puzzle, changes))


@pytest.mark.parametrize("name", ["shape-mod:prism8", "shape-mod:prism8,paint=FR+FL+BR+BL", "shape-mod:cube,axis=U,degrees=45"])
def test_culprits_of_random_alarms_are_all_the_smallest_exchanges(name):
    puzzle, rng = load(name), np.random.default_rng(3)
    judge, checked = Judge.of(puzzle), 0
    while checked < 12:
        state = tampered(puzzle, rng, moves=0, changes=int(rng.integers(1, 4)))
        if judge.verdict(state) == "lookalike":
            checked += check_culprits(judge, state)


def check_culprits(judge, state):
    puzzle, chain = judge.puzzle, law_book(judge.puzzle).chain
    """Whether there were few enough explanations, and exchanges of one or two pieces that do."""
    sight = judge.first_sight(state)
    explanations = judge.first_sights(sight, sight.free, most=300)
    if explanations is None:
        return False
    diagnosis = diagnose(puzzle, puzzle.appearance(state))
    assert diagnosis.verdict == "lookalike"
    relabellings = judge.small_relabellings(frozenset(range(len(puzzle.slots))), 2)
    changed_names = np.array([puzzle.permutation(relabelled(puzzle, puzzle.solved, images)) for images in relabellings])
    tried = np.array([puzzle.permutation(e) for e in explanations])[:, changed_names]
    inside = chain.contains_many(tried.reshape(-1, puzzle.degree)).reshape(tried.shape[:2]).any(axis=0)
    sizes = {}
    for images, reached in zip(relabellings, inside, strict=True):
        if reached:
            sizes.setdefault(len(images), set()).add(frozenset(puzzle.slots[p] for p in images))
    if not sizes:
        assert all(len(culprit.pieces) > 2 for culprit in diagnosis.culprits)
        return False
    smallest = min(sizes)
    assert {frozenset(culprit.pieces) for culprit in diagnosis.culprits} == sizes[smallest]
    assert len(diagnosis.culprits) == len(sizes[smallest])
    for culprit in diagnosis.culprits:
        assert puzzle.appearance(culprit.arrangement) == puzzle.appearance(state)
        assert chain.contains(puzzle.permutation(culprit.arrangement))
        assert all(slot in culprit.words for slot in culprit.pieces)
        assert renamed(diagnosis.first, culprit.arrangement) <= sight.free | set(map(puzzle.slot, culprit.pieces))
    return True


PAINTED = ("UFL UFR UBL UBR", "DFL DFR DBL DBR", "FL FR BL BR")


def names(laws):
    return [law.name for law in laws]


@pytest.mark.parametrize(
    "name, changes, verdict, broken, culprits",
    [
        ("cube:3", ["swap UF UR"], "not by turning", ["sign of corners and edges"], []),
        ("cube:3", ["flip UF"], "not by turning", ["flips of edges"], []),
        ("cube:3", ["twist UFR cw"], "not by turning", ["twists of corners"], []),
        ("cube:3", ["turn F cw"], "ordinary", [], []),
        ("cube:3,centres=none", ["swap UF UR"], "ordinary", [], []),
        ("cube:3,centres=marked", ["turn F half"], "ordinary", [], []),
        ("cube:3,centres=marked", ["turn F cw", "turn U ccw"], "ordinary", [], []),
        ("cube:2", ["swap UFR UFL"], "ordinary", [], []),
        ("shape-mod:prism8", ["flip UF"], "lookalike", ["flips of edges"], [("FL",), ("FR",), ("BL",), ("BR",)]),
        ("shape-mod:prism8", ["flip FL"], "ordinary", [], []),
        ("shape-mod:prism8", ["swap UF UR"], "not by turning", ["sign of corners and edges"], []),
        ("shape-mod:prism8,cut=0.3333", ["flip UF"], "not by turning", ["flips of edges"], []),
        (
            "shape-mod:prism8,paint=FR+FL+BR+BL",
            ["swap UF UR"],
            "lookalike",
            ["sign of corners and edges"],
            [pair for twins in PAINTED for pair in combinations(twins.split(), 2)],
        ),
        (
            "shape-mod:cube,axis=U,degrees=45",
            ["turn F cw"],
            "lookalike",
            ["sign of corners and quarter turns of centres U, D, F, B, L and R"],
            [("U",), ("D",)],
        ),
        ("shape-mod:cube,axis=U,degrees=45", ["turn U cw"], "ordinary", [], []),
        ("shape-mod:cube,axis=URF,degrees=60", ["flip UF"], "not by turning", ["flips of edges"], []),
    ],
)
def test_alarms_of_the_trade(name, changes, verdict, broken, culprits):
    """Common practice: what puzzlers know of lone swaps, flips, twists and turned centres; the shapes are computed."""
    puzzle = load(name)
    found = diagnose(puzzle, puzzle.appearance(changed(puzzle, changes)))
    assert (found.verdict, names(found.broken), [c.pieces for c in found.culprits]) == (verdict, broken, culprits)


def test_a_law_wavers_where_displaced_lookalikes_may_break_it_or_not():
    """With FL and FR moved, their flips do not show: some first-sight explanations break the law of flips, and some do not."""
    puzzle = load("shape-mod:prism8")
    wavering = ["flips of edges"]
    for changes in (["cycle FL FR BL"], ["cycle FL FR BL", "flip UF"]):
        found = diagnose(puzzle, puzzle.appearance(changed(puzzle, changes)))
        assert (found.verdict, names(found.broken), names(found.broken_by_some)) == ("ordinary", [], wavering)
    found = diagnose(puzzle, puzzle.appearance(changed(puzzle, ["cycle FL FR BL", "twist UFR cw"])))
    assert found.verdict == "not by turning"
    assert (names(found.broken), names(found.broken_by_some)) == (["twists of corners"], wavering)


def test_laws_that_waver_together_may_still_settle_something():
    """Displaced twins make the signs waver; what no exchange of them changes is broken by all or by none."""
    puzzle = load("shape-mod:prism8,paint=FR+FL+BR+BL")
    judge = Judge.of(puzzle)
    rng = np.random.default_rng(4)
    wavered = set()
    for _ in range(40):
        state = tampered(puzzle, rng, moves=0, changes=3)
        sight = judge.first_sight(state)
        displacing = judge.first_sights(sight, sight.displaced, most=300)
        explanations = judge.first_sights(sight, sight.free, most=300)
        if explanations is None or displacing is None:
            continue
        found, book = diagnose(puzzle, puzzle.appearance(state)), law_book(puzzle)
        for law in book.laws:
            values = {law.value(puzzle.permutation(e)) != 0 for e in displacing}
            assert (law in found.broken_by_some) == (len(values) == 2)
            if values == {True} and law in found.broken:
                wavered.add(bool(found.broken_by_some))
        for law in found.broken:
            assert all(law.value(puzzle.permutation(e)) for e in explanations)
    assert wavered == {True, False}


def test_the_order_of_questions_is_that_of_the_first_success():
    """One appearance each that two verdicts could fit: the earlier one is given."""
    prism = load("shape-mod:prism8")
    both = diagnose(prism, prism.appearance(changed(prism, ["flip UF", "cycle FL FR BL"])))
    assert both.verdict == "ordinary" and not both.culprits
    lookalike = diagnose(prism, prism.appearance(changed(prism, ["flip UF"])))
    assert lookalike.verdict == "lookalike" and not lookalike.slips and lookalike.repair is None


def test_slips_come_with_the_verdict_and_would_make_it_ordinary():
    puzzle = load("cube:3")
    table = stickers(puzzle)
    told = [frozenset({face}) for _, face in table.places]
    one, other = (table.at[puzzle.slot(slot), face] for slot, face in (("UF", "F"), ("UR", "R")))
    told[one], told[other] = told[other], told[one]
    found = diagnose(puzzle, seen_stickers(puzzle, tuple(told)))
    assert found.verdict == "not by turning" and names(found.broken) == ["sign of corners and edges"]
    assert found.repair.changes in (("swap UF UR",), ("swap UR UF",))
    assert "two colours confused" in {slip.sort for slip in found.slips}
    assert all(is_ordinary(puzzle, slip.appearance) for slip in found.slips)


def test_a_piece_that_the_puzzle_does_not_have_is_a_finding():
    """A UF edge with two stickers of one colour: foreign; another UF edge: one too many, and one is missing."""
    puzzle = load("cube:3")
    table = stickers(puzzle)
    told = [frozenset({face}) for _, face in table.places]
    told[table.at[puzzle.slot("UF"), "F"]] = frozenset({"U"})
    found = diagnose(puzzle, seen_stickers(puzzle, tuple(told)))
    assert found.verdict == "not by turning" and found.first is None and found.repair is None
    assert any("UF shows what no piece" in note for note in found.notes)
    assert "not seen anywhere: UF" in found.notes
    assert "sticker misread" in {slip.sort for slip in found.slips}
    told[table.at[puzzle.slot("UF"), "F"]] = frozenset({"R"})
    found = diagnose(puzzle, seen_stickers(puzzle, tuple(told)))
    assert found.notes == ("seen more often than the puzzle has it: UR", "not seen anywhere: UF")


@pytest.mark.parametrize("name", NAMES)
def test_solved_is_ordinary_and_whatever_turns_make_is_never_impossible(name):
    puzzle, rng = load(name), np.random.default_rng(5)
    assert diagnose(puzzle, puzzle.appearance(puzzle.solved)).verdict == "ordinary"
    for count in (1, 2, 3, 20):
        state = puzzle.follow(" ".join(rng.choice(list("UDFBLR"), size=count)))
        assert diagnose(puzzle, puzzle.appearance(state)).verdict in ("ordinary", "lookalike")


@pytest.mark.parametrize("name", NAMES)
def test_assumptions_say_which_puzzle_and_which_turns(name):
    puzzle = load(name)
    first, second, *_ = diagnose(puzzle, puzzle.appearance(puzzle.solved)).assumptions
    assert puzzle.title in first and second.endswith("U D F B L R")


def test_what_is_not_complete_is_not_ordinary():
    puzzle = load("cube:3")
    sights = [frozenset({look}) for look in puzzle.appearance(puzzle.solved).looks]
    sights[0] |= {5}
    assert not is_ordinary(puzzle, Appearance("cube:3", tuple(sights)))


def test_what_no_assembly_shows_is_not_open_however_much_is_unseen():
    puzzle = load("cube:3")
    half_seen = covered(puzzle, ["UF", "UR", "DB"])
    assert half_seen.uncertain and is_open(puzzle, half_seen)
    foreign = (*half_seen.sights[:-1], frozenset())
    assert not is_open(puzzle, replace(half_seen, sights=foreign))


@pytest.mark.parametrize(("name", "kinds"), [("cube:3", True), ("cuboid:2x3x4", True), ("cuboid:2x3x4,turns=all", False)])
def test_pieces_are_assumed_to_keep_to_their_kinds_unless_a_box_may_leave_its_outline(name, kinds):
    """Out of its outline a box mixes what are kinds inside: a corner can come to where an edge was."""
    puzzle = load(name)
    first, *_ = diagnose(puzzle, puzzle.appearance(puzzle.solved)).assumed
    assert first == PuzzleAsTold(puzzle.title, kinds)


def test_the_first_sight_of_an_assembly_displaces_what_seems_displaced():
    for name in NAMES:
        puzzle = load(name)
        judge = Judge.of(puzzle)
        for state in sample(puzzle, 6, 30):
            sight = judge.first_sight(state)
            arrangement, displaced = first_sight(puzzle, puzzle.appearance(state))
            assert (arrangement.displaced(), displaced) == (sight.first.displaced(), sight.displaced)
            assert free_pieces(puzzle, displaced) == sight.free


def test_small_puzzles_are_judged_by_the_definition(cases):
    """Every verdict, and what is said of the position once it is straight, against listing all assemblies."""
    counts, straight = Counter(), 0
    for puzzle, rng in random_puzzles(cases):
        judge = ByDefinition(puzzle)
        for looks in some_looks(judge, rng, 12):
            appearance = seen(puzzle, looks)
            found = diagnose(puzzle, appearance)
            assert found.verdict == judge.verdict(looks) and is_ordinary(puzzle, appearance) == (found.verdict == "ordinary")
            assert bool(found.surprise) == bool(found.culprits) == (found.verdict == "lookalike")
            later = found.one(OnceStraight)
            if found.verdict == "ordinary":
                then, turns = straightened(puzzle, appearance)
                assert bool(later) == (judge.verdict(then.looks) == "lookalike") and (not later or later.turns == turns)
                straight += bool(later)
            counts[found.verdict] += 1
            if found.explanation:
                state = tuple(zip(found.explanation.pieces, found.explanation.twists, strict=True))
                assert state in judge.reached and judge.looks(state) == looks
    assert min(counts.values()) > len(cases) / 2 and len(counts) == 3 and straight


FLAT = ["loop:4,window=4,beads=aabb", "loop:5,window=5,beads=aabbc", "loop:6,window=6,beads=3+3", "loop:6,window=5,beads=3+3"]


@pytest.mark.parametrize("name", [*FLAT, "rings:4+4,cross=1,beads=4+2", "rings:4+4,cross=2,beads=2+2+2"])
def test_every_look_of_loops_and_rings_is_judged_by_the_definition(name):
    """Where a turn shows in few slots, many a word of turns looks as a swap does: those are all the lookalikes that there are."""
    puzzle = load(name)
    judge = ByDefinition(puzzle)
    assert all(diagnose(puzzle, seen(puzzle, looks)).verdict == judge.verdict(looks) for looks in judge.explanations)


def seen(puzzle, looks):
    return Appearance(puzzle.name, tuple(frozenset((look,)) for look in looks))


@pytest.mark.parametrize(
    "name, moves, changes, turns, culprits",
    [
        ("shape-mod:prism8", "R", ["flip UF"], ("R'",), 4),
        ("cube:4", "U 2F", [], ("U'", "2F'"), 36),
        ("shape-mod:prism8", "R U", [], None, 0),
        ("cube:3", "R U F", [], None, 0),
    ],
)
def test_an_ordinary_position_says_what_it_will_look_like_once_straight(name, moves, changes, turns, culprits):
    """With a layer turned, twins and hidden turns in it may be what they seem or not; put straight, they look right again."""
    puzzle = load(name)
    found = diagnose(puzzle, puzzle.appearance(puzzle.follow(moves, changed(puzzle, changes))))
    later = found.one(OnceStraight)
    assert found.verdict == "ordinary" and (later and later.turns) == turns
    assert len(later.culprits if later else ()) == culprits


@pytest.mark.parametrize("name", ["cube:2,turns=R+L", "cube:2,turns=half"])
def test_a_position_is_put_straight_as_it_is_held(name):
    """Whatever was turned on a cube of two has no lookalikes, and so looks like none once straight."""
    puzzle = load(name)
    for word in ("R2", "R2 L2", "x R2"):
        found = diagnose(puzzle, puzzle.appearance(puzzle.follow(word)))
        assert found.verdict == "ordinary" and found.one(OnceStraight) is None


@pytest.mark.parametrize("name", ["tiles:2x2", "tiles:2x2,letters=odd", "tiles:2x3,letters=teeth", "tiles:2x3,letters=apart"])
def test_every_board_of_tiles_is_judged_as_a_walk_over_all_of_them_does(name):
    puzzle = load(name)
    reached = {tuple(row) for level in depths(puzzle) for row in level.tolist()}
    explained = {}
    for pieces in permutations(range(len(puzzle.slots))):
        state = replace(puzzle.solved, pieces=pieces)
        explained.setdefault(puzzle.appearance(state), []).append(state)
    for appearance, states in explained.items():
        fewest = min(len(state.displaced()) for state in states)
        at_first_sight = {state.pieces for state in states if len(state.displaced()) == fewest}
        found = diagnose(puzzle, appearance)
        if at_first_sight & reached:
            assert found.verdict == "ordinary" and found.explanation.pieces in at_first_sight & reached
        elif any(state.pieces in reached for state in states):
            assert found.verdict == "lookalike" and found.explanation.pieces in reached and found.culprits
        else:
            assert found.verdict == "not by turning" and found.repair.result.pieces in reached
        assert found.assumptions[1].endswith("pieces only slid into the blank, one at a time")


def test_a_hidden_turn_is_told_with_every_way_that_would_do():
    """By hand: a quarter turn of a centre is odd whichever way it goes, and a half turn, which is even, mends nothing."""
    puzzle = load("shape-mod:cube,axis=U,degrees=45")
    found = diagnose(puzzle, puzzle.appearance(changed(puzzle, ["turn F cw"])))
    assert [culprit.changes for culprit in found.culprits] == [(HiddenTurn(slot, "centres", (1, 3), 4),) for slot in "UD"]
    assert found.assumed[-1] == EquallyOften() and found.surprise.share


def test_turns_that_the_copy_has_not_are_named_where_they_would_do():
    puzzle, wide = load("cube:3,turns=half"), load("cube:3")
    quarter = tuple(turn + way for turn in "UDFBLR" for way in ("", "'"))
    for state, verdict in ((wide.follow("R"), "other turns"), (changed(wide, ["flip UF"]), "not by turning")):
        found = diagnose(puzzle, puzzle.appearance(state))
        said = found.one(WiderTurns)
        assert found.verdict == verdict and (said and said.turns) == (quarter if verdict == "other turns" else None)
        assert bool(found.explanation) == (verdict == "other turns") and bool(found.repair) == (verdict == "not by turning")


@pytest.mark.parametrize(
    ("name", "turns"),
    [("cube:3,turns=half", "U2 D2 F2 B2 L2 R2"), ("cube:3,turns=R+U2", "U2 R"), ("cube:3,joined=UF-UFR", "U D F B L R")],
)
def test_a_slab_stands_for_all_its_turns_only_where_the_copy_makes_them(name, turns):
    puzzle = load(name)
    second, *further = diagnose(puzzle, puzzle.appearance(puzzle.solved)).assumed[1:]
    assert second == OnlyTurned(tuple(turns.split()))
    assert further == ([PiecesJoined((("UF", "UFR"),))] if "joined" in name else [])


def test_what_was_put_in_piece_by_piece_is_judged_without_the_turns_of_most_of_a_layer():
    """At face value a flipped edge of a prism stays a lookalike, and what was turned stays ordinary."""
    puzzle = load("shape-mod:prism8")
    for state, verdict in ((changed(puzzle, ["flip UF"]), "lookalike"), (puzzle.follow("R"), "ordinary")):
        found = at_face_value(puzzle, puzzle.appearance(state))
        assert (found.verdict, found.assumed) == (verdict, ())


def test_where_the_shape_is_half_seen_nothing_is_said_of_how_often_it_happens():
    """Nor of slips, nor of what hands could do: a view is asked for."""
    puzzle = load("cuboid:1x2x3,turns=all")
    found = diagnose(puzzle, covered(puzzle, puzzle.slots[:8]))
    assert (found.verdict, found.surprise, found.repair, found.slips) == ("cannot tell yet", None, None, ()) and found.asked


def test_open_is_all_that_needs_no_hand():
    """Solved, with turns that this copy does not make, half seen, and one flipped edge."""
    cube, halves = load("cube:3"), load("cube:3,turns=half")
    half_seen = covered(cube, ["UF", "UR"])
    assert is_open(cube, cube.appearance(cube.solved)) and is_open(halves, halves.appearance(halves.follow("R2")))
    assert is_open(cube, half_seen) and not is_open(cube, cube.appearance(changed(cube, ["flip UF"])))


def test_of_what_is_half_seen_photographs_are_asked_for_and_not_slots():
    cube = load("cube:3")
    found = diagnose(cube, covered(cube, [slot for slot in cube.slots if "U" in slot and len(slot) > 1]))
    assert found.verdict == "cannot tell yet" and found.asked and all(isinstance(one, View) for one in found.asked)


def test_a_repair_that_was_found_or_that_cannot_be_was_not_cut_short():
    """In no time: one flipped edge has its repair all the same, and what no piece can look like has none."""
    cube = load("cube:3")
    seen = cube.appearance(cube.solved)
    flipped, foreign = (
        diagnose(cube, look, Budget(0.0))
        for look in (cube.appearance(changed(cube, ["flip UF"])), replace(seen, sights=(frozenset(), *seen.sights[1:])))
    )
    assert flipped.repair and foreign.first is None
    assert [[cut.part for cut in one.reached] for one in (flipped, foreign)] == [["slips"], ["slips"]]
