"""Verdicts against the formulas of the books (`tests.assemblies`), and culprits against all small exchanges tried one by one."""

from itertools import product

import numpy as np
import pytest

from oddswap.puzzles.catalogue import load
from oddswap.puzzles.changes import changed
from oddswap.puzzles.stickers import seen_stickers, stickers
from oddswap.reasoning.diagnosis import diagnose, is_ordinary
from oddswap.reasoning.laws import law_book
from oddswap.reasoning.lookalikes import first_sight
from oddswap.values.appearance import Appearance
from tests.assemblies import Judge, anyhow, relabelled, tampered

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
    for state in sample(puzzle, 1, 2000):
        kept = not any(law.value(puzzle.permutation(state)) for law in seen)
        assert kept == judge.reachable(state)
        assert book.reaches(state) == judge.kept(judge.quantities(state))
        counts[kept] += 1
    assert min(counts.values()) > 100


@pytest.mark.parametrize("name", NAMES)
def test_verdicts(name):
    puzzle = load(name)
    judge, chain, counts = Judge.of(puzzle), law_book(puzzle).chain, {}
    for state in sample(puzzle, 2, 150):
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
            assert found.explanation.displaced() == found.first.displaced()
    lookalikes = judge.hidden or judge.twins
    assert counts.keys() == {"ordinary", "not by turning"} | ({"lookalike"} if lookalikes else set())


def first_sights(judge, state):
    """Every first-sight explanation, as one under all relabellings of the displaced pieces (made of small ones)."""
    first, displaced = judge.first_sight(state)
    found, queue = {first}, [first]
    steps = judge.small_relabellings(displaced, 2)
    while queue:
        current = queue.pop()
        for images in steps:
            other = relabelled(judge.puzzle, current, images)
            if other not in found:
                found.add(other)
                queue.append(other)
                if len(found) > 500:
                    return None
    return found


BY_HAND = [
    ("shape-mod:prism8", ["flip UF"]),
    ("shape-mod:prism8", ["swap UF UR", "swap UFR UFL", "flip DF", "cycle FL FR BL"]),
    ("shape-mod:prism8", ["swap UF UR", "swap UFR UFL", "flip DF"]),
    ("shape-mod:prism8,paint=FR+FL+BR+BL", ["swap UF UR"]),
    ("shape-mod:prism8,paint=FR+FL+BR+BL", ["swap UFR DFR"]),
    ("shape-mod:prism8,paint=FR+FL+BR+BL", ["swap UF FR", "flip DB"]),
    ("shape-mod:cube,axis=U,degrees=45", ["turn F cw"]),
    ("shape-mod:cube,axis=U,degrees=45", ["turn F cw", "flip DB"]),
    ("shape-mod:cube,axis=U,degrees=45", ["cycle UF FL UR", "turn F cw", "flip DB"]),
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
    explanations = first_sights(judge, state)
    if explanations is None:
        return False
    diagnosis = diagnose(puzzle, puzzle.appearance(state))
    assert diagnosis.verdict == "lookalike" and diagnosis.first in explanations
    everyone = frozenset(range(len(puzzle.slots)))
    relabellings = judge.small_relabellings(everyone, 2)
    tried = list(product(explanations, relabellings))
    inside = chain.contains_many([puzzle.permutation(relabelled(puzzle, *pair)) for pair in tried])
    sizes = {}
    for (_, images), reached in zip(tried, inside, strict=True):
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
        moved = {p for p, q in zip(diagnosis.first.pieces, culprit.arrangement.pieces, strict=True) if p != q}
        _, displaced = judge.first_sight(state)
        assert moved <= displaced | {puzzle.slot(slot) for slot in culprit.pieces}
    return True


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
            [("FL", "FR"), ("FL", "BL"), ("FL", "BR"), ("FR", "BL"), ("FR", "BR"), ("BL", "BR")],
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
    for changes in (["cycle FL FR BL"], ["cycle FL FR BL", "flip UF"]):
        found = diagnose(puzzle, puzzle.appearance(changed(puzzle, changes)))
        assert (found.verdict, names(found.broken), names(found.broken_by_some)) == ("ordinary", [], ["flips of edges"])
    found = diagnose(puzzle, puzzle.appearance(changed(puzzle, ["cycle FL FR BL", "twist UFR cw"])))
    assert found.verdict == "not by turning"
    assert (names(found.broken), names(found.broken_by_some)) == (["twists of corners"], ["flips of edges"])


def test_laws_that_waver_together_may_still_settle_something():
    """Displaced twins make the signs waver; what no exchange of them changes is broken by all or by none."""
    puzzle = load("shape-mod:prism8,paint=FR+FL+BR+BL")
    judge = Judge.of(puzzle)
    rng = np.random.default_rng(4)
    wavered = set()
    for _ in range(150):
        state = tampered(puzzle, rng, moves=0, changes=3)
        explanations = first_sights(judge, state)
        if explanations is None:
            continue
        found, book = diagnose(puzzle, puzzle.appearance(state)), law_book(puzzle)
        for law in book.laws:
            values = {law.value(puzzle.permutation(e)) != 0 for e in explanations}
            assert (law in found.broken_by_some) == (len(values) == 2)
            if values == {True} and law in found.broken:
                wavered.add((law.name, bool(found.broken_by_some)))
        for law in found.broken:
            assert all(law.value(puzzle.permutation(e)) for e in explanations)
    assert {some for _, some in wavered} == {True, False}


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


def test_the_first_sight_of_an_assembly_displaces_what_seems_displaced():
    for name in NAMES:
        puzzle = load(name)
        judge = Judge.of(puzzle)
        for state in sample(puzzle, 6, 60):
            arrangement, displaced = first_sight(puzzle, puzzle.appearance(state))
            assert displaced == judge.first_sight(state)[1] and arrangement.displaced() == judge.first_sight(state)[0].displaced()
