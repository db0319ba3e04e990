"""Repairs: done by hand as they are written, they help; and nothing smaller does, tried change by change."""

import re
from dataclasses import replace
from itertools import combinations, permutations, product
from operator import ne
from pathlib import Path

import numpy as np
import pytest

import oddswap
from oddswap.describing.changes import changed
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.verdicts.diagnosis import diagnose
from oddswap.reasoning.verdicts.repairs import HandSwap, smallest_repair, turn_changes
from oddswap.values.permutation import sign_by_cycles
from oddswap.values.position import Appearance
from oddswap.words.culprits import CAUTIONS
from tests.common.clocks import ends_after
from tests.reasoning.by_definition import ByDefinition
from tests.reasoning.handmade import handmade
from tests.reasoning.judge import Judge, anyhow, tampered
from tests.reasoning.random_puzzles import random_puzzles, some_looks

NAMES = ["cube:2", "cube:3", "cube:3,centres=marked", "shape-mod:prism8", "shape-mod:prism8,paint=FR+FL+BR+BL"]


def beyond_turning(judge, seed, count):
    """First-sight arrangements of assemblies that no turning solves, from nearly solved to anyhow."""
    rng = np.random.default_rng(seed)
    while count:
        state = anyhow(judge.puzzle, rng) if count % 3 == 0 else tampered(judge.puzzle, rng, 10 * (count % 2), 2)
        if not judge.reachable(state):
            yield state
            count -= 1


def one_piece_changes(puzzle, state):
    """Every way to turn one piece in its place."""
    for b, kind in enumerate(puzzle.kind_of):
        for e in range(1, kind.twist):
            twists = list(state.twists)
            twists[b] = (twists[b] + e) % kind.twist
            yield replace(state, twists=tuple(twists))


def exchanges(puzzle, state):
    """Every way to exchange two pieces of a kind; how they are turned adds what turning one of them adds."""
    for kind in puzzle.kinds:
        for a, b in combinations(kind.places, 2):
            for e in range(kind.twist):
                pieces, twists = list(state.pieces), list(state.twists)
                pieces[a], pieces[b] = pieces[b], pieces[a]
                twists[a] = (twists[a] + e) % kind.twist
                yield replace(state, pieces=tuple(pieces), twists=tuple(twists))


def done_by_hand(puzzle, state, changes):
    """What hands do: pieces go round as they are turned, and the one that comes to the second slot is turned there."""
    pieces, twists = list(state.pieces), list(state.twists)
    for change in changes:
        slots = [puzzle.slot(slot) for slot in (change.slots if isinstance(change, HandSwap) else [change.slot])]
        kind = puzzle.kind_of[slots[0]]
        assert (change.family, change.order) == (kind.family, kind.twist) and set(slots) <= set(kind.places)
        for row in (pieces, twists):
            for slot, arrived in zip([*slots[1:], slots[0]], [row[slot] for slot in slots], strict=True):
                row[slot] = arrived
        turned = slots[:2][-1]
        twists[turned] = (twists[turned] + change.steps) % kind.twist
    return replace(state, pieces=tuple(pieces), twists=tuple(twists))


def fewest(judge, state):
    """How many pieces a hand must touch, up to three, found by trying."""
    puzzle = judge.puzzle
    one = list(one_piece_changes(puzzle, state))
    two = [*exchanges(puzzle, state), *(other for first in one for other in one_piece_changes(puzzle, first))]
    for size, tried in ((1, one), (2, two)):
        if any(judge.reachable(other) for other in tried):
            return size
    return 3


@pytest.mark.parametrize("name", NAMES)
def test_after_the_repair_turning_does_the_rest_and_nothing_smaller_helps(name):
    puzzle = load(name)
    judge = Judge.of(puzzle)
    for state in beyond_turning(judge, 1, 6):
        first = diagnose(puzzle, puzzle.appearance(state)).first
        repair = smallest_repair(puzzle, first)
        after = changed(puzzle, repair.changes, first)
        assert after == repair.result == done_by_hand(puzzle, first, repair.by_hand) and judge.reachable(after)
        assert diagnose(puzzle, puzzle.appearance(after)).verdict in ("ordinary", "lookalike")
        touched = {slot for change in repair.changes for slot in change.split()[1:] if slot in puzzle.slots}
        assert len(touched) == fewest(judge, state)
        assert all(slot in repair.words for slot in touched)


@pytest.mark.parametrize(
    "name, changes, repair, words",
    [
        ("cube:3", ["flip UF"], ["flip UF"], "take out the edge at UF and put it back flipped"),
        ("cube:3", ["twist UFR cw"], ["twist UFR ccw"], "take out the corner at UFR and put it back twisted anticlockwise"),
        ("cube:3", ["swap UF UR"], ["swap UR UF"], "swap the edges at UR and UF"),
        ("cube:3", ["swap UFR DBL"], ["swap DBL UFR"], "swap the corners at DBL and UFR"),
        ("cube:2", ["twist DBL ccw"], ["twist DBL cw"], "take out the corner at DBL and put it back twisted clockwise"),
        ("cube:3,centres=marked", ["turn F cw"], ["turn F ccw"], "take out the centre at F and put it back turned anticlockwise"),
    ],
)
def test_what_was_done_by_hand_is_undone(name, changes, repair, words):
    puzzle = load(name)
    found = smallest_repair(puzzle, changed(puzzle, changes))
    assert sorted(found.changes[0].split()) == sorted(repair[0].split()) and len(found.changes) == 1
    assert found.result == puzzle.solved and found.cautions == CAUTIONS
    assert sorted(re.findall(r"\w+", found.words)) == sorted(re.findall(r"\w+", words))


def test_the_result_is_what_the_changes_do_when_the_exchanged_pieces_are_turned_differently():
    puzzle = load("cube:3")
    for changes in (["swap UFR FLU"], ["twist UFR cw", "swap UF UR"], ["swap UF RU", "twist DBL cw"]):
        first = changed(puzzle, changes)
        repair = smallest_repair(puzzle, first)
        assert changed(puzzle, repair.changes, first) == repair.result


def test_among_equals_the_repair_that_leaves_fewest_out_of_place():
    """After a long scramble two exchanged edges are exchanged back, and not two others."""
    puzzle = load("cube:3")
    first = changed(puzzle, ["cycle UFR UFL UBL", "swap DF DB"])
    repair = smallest_repair(puzzle, first)
    assert len(repair.result.displaced()) == 3 and sorted(repair.changes[0].split()[1:]) == ["DB", "DF"]


@pytest.mark.parametrize(
    "name, changes, others",
    [
        ("cube:3", ["twist UFR cw"], "any one of the corners would do as well: the turns do the rest"),
        ("cube:3", ["flip UF"], "any one of the edges would do as well: the turns do the rest"),
        ("cube:3", ["swap UF UR"], "any two of the corners or any two of the edges would do as well: the turns do the rest"),
        ("cube:3", ["flip UF", "twist UFR cw"], "other pieces of the same kinds may do as well: the turns do the rest"),
    ],
)
def test_others_that_would_do(name, changes, others):
    puzzle = load(name)
    assert smallest_repair(puzzle, changed(puzzle, changes)).others == others


@pytest.mark.parametrize("name", NAMES)
def test_what_can_be_solved_by_sight_needs_no_repair(name):
    puzzle, rng = load(name), np.random.default_rng(2)
    judge = Judge.of(puzzle)
    for _ in range(40):
        state = tampered(puzzle, rng, 10, 2)
        assert (smallest_repair(puzzle, state) is None) == judge.reachable(state)


@pytest.mark.parametrize("name", ["tiles:2x2", "tiles:2x3,blank=r1c2"])
def test_two_tiles_are_exchanged_and_never_the_blank(name):
    """On every board of half of all: Johnson and Story, Amer. J. Math. 2 (1879) 397-404, the blank counted as a tile."""
    puzzle = load(name)
    blank = puzzle.blank
    for pieces in permutations(range(len(puzzle.slots))):
        state, at = replace(puzzle.solved, pieces=pieces), pieces.index(blank)
        slides = int(np.abs(puzzle.flat.positions[at] - puzzle.flat.positions[blank]).sum())
        repair = smallest_repair(puzzle, state)
        assert (repair is None) == (sign_by_cycles(pieces) == (-1) ** slides)
        if repair is not None:
            verb, *slots = repair.changes[0].split()
            assert (verb, len(slots), len(repair.changes)) == ("swap", 2, 1) and puzzle.slots[at] not in slots
            assert smallest_repair(puzzle, repair.result) is None


def test_cautions_are_said_with_every_repair():
    """Consent, force, eyes, small parts, the venue's rules: each is there."""
    text = " ".join(CAUTIONS).lower()
    assert all(word in text for word in ("description", "owner", "force", "eyes", "springs", "magnets", "children", "venue"))


def test_where_the_time_ends_before_a_repair_is_found_the_answer_says_so():
    puzzle = load("cube:3,turns=R+U")
    state = changed(puzzle, ["twist UFR cw"])
    assert smallest_repair(puzzle, state, ends_after(0)) is None and smallest_repair(puzzle, state) is not None
    found = diagnose(puzzle, puzzle.appearance(state), ends_after(0))
    assert found.verdict == "not by turning" and "repair" in {part.part for part in found.reached}


def test_a_piece_that_no_turn_moves_is_put_back_where_it_was():
    """By hand: of R, U and F2 none moves DB, so nothing but the exchange of both edges will do."""
    puzzle = load("cube:3,turns=R+U+F2")
    repair = smallest_repair(puzzle, changed(puzzle, ["swap UF DB"]))
    assert [set(change.split()) for change in repair.changes] == [{"swap", "UF", "DB"}]


TWO_WHEELS = """
[moves]
m = "(a1 a1+4 a1+2)"
n = "(a2 a2+2 a2+4)"
[[kind]]
name = "wheels"
slots = "a1 a2"
twist = 6
"""


@pytest.mark.parametrize("twist", [8, 7, 6, 5, 4, 3, 2])
def test_a_piece_is_turned_the_shorter_way_round(twist):
    """Written as changes and done, so many steps come out, of each of two wheels; half way round is one change."""
    puzzle = handmade([(2, twist)], [np.roll(np.arange(2 * twist), twist)])
    for slot, steps in product((0, 1), range(twist)):
        written = turn_changes(puzzle, slot, steps)
        turned = changed(puzzle, written)
        assert turned.twists[slot] == steps and turned.twists[1 - slot] == 0
        assert len(written) == (1 if 2 * steps == twist else min(steps, twist - steps))


def test_it_matters_which_of_two_twists_goes_where(tmp_path, monkeypatch):
    """Each wheel turns by two steps: swapped, each must be put in an even number of steps round."""
    monkeypatch.chdir(tmp_path)
    Path("wheels.toml").write_text(TWO_WHEELS)
    puzzle = load("custom:wheels.toml")
    assert mended(puzzle, ByDefinition(puzzle).explanations) == {(1, False), (2, False)}


def test_whatever_its_laws_a_small_puzzle_is_mended_by_the_fewest_pieces(cases):
    sizes = set()
    for puzzle, rng in random_puzzles(cases):
        sizes |= mended(puzzle, some_looks(ByDefinition(puzzle), rng, 12))
    assert {(1, False), (2, False), (3, False)} <= sizes and not any(missing for _, missing in sizes)


def test_where_no_pair_would_do_three_pieces_go_round():
    """Four pieces that only swap in two pairs at once: all arrangements, each judged by trying every swap."""
    four = oddswap.puzzle("four in pairs", moves={"a": "(1 2)(3 4)", "b": "(1 3)(2 4)"})
    home, met = {(0, 1, 2, 3), (1, 0, 3, 2), (2, 3, 0, 1), (3, 2, 1, 0)}, set()
    for pieces in set(permutations(range(4))) - home:
        repair = smallest_repair(four, replace(four.solved, pieces=pieces))
        swapped = {tuple({a: b, b: a}.get(p, p) for p in pieces) for a, b in combinations(range(4), 2)}
        (change,) = repair.by_hand
        assert repair.result.pieces in home and len(change.slots) == (2 if swapped & home else 3)
        assert repair.changes[0].split() == ["cycle" if len(change.slots) > 2 else "swap", *change.slots]
        met.add(len(change.slots))
    assert met == {2, 3}


def test_a_repair_of_three_pieces_is_told_to_everybody():
    answer = oddswap.puzzle("four in pairs", moves={"a": "(1 2)(3 4)", "b": "(1 3)(2 4)"}).answer("cycle 1 2 3")
    words = r"move the pieces at ., . and . round, each to the next place, the last to the first"
    assert re.fullmatch(words, answer.repair.words)
    assert "fewer than three pieces are not enough" in answer.repair.others
    assert "moving three pieces round by hand is enough" in oddswap.reply_text(answer)
    assert "end round these three pieces by hand" in oddswap.write_story(oddswap.story_of(answer))


def mended(puzzle, some):
    """How many pieces it takes, and whether no repair was found, of some looks; every look that turns reach is compared."""
    judge, sizes = ByDefinition(puzzle), set()
    reachable = {judge.looks(state) for state in judge.reached}
    for looks in (one for one in some if one not in reachable):
        fewest = min(sum(map(ne, looks, other)) for other in reachable)
        first = diagnose(puzzle, Appearance(puzzle.name, tuple(frozenset((look,)) for look in looks))).first
        if (repair := smallest_repair(puzzle, first)) is not None:
            assert changed(puzzle, repair.changes, first) == repair.result == done_by_hand(puzzle, first, repair.by_hand)
            after = puzzle.appearance(repair.result).looks
            assert after in reachable and sum(map(ne, looks, after)) == fewest
        sizes.add((fewest, repair is None))
    return sizes
