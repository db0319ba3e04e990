"""Verdicts and ways where nothing fixes the holding and turns are chosen, against walking on stickers in every holding."""

import re
from random import Random

import pytest

from oddswap.describing.changes import changed
from oddswap.puzzles.catalogue import load, with_all_turns
from oddswap.reasoning.answers import answer
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.checking.same_position import same_position
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.lookalikes import lookalikes
from oddswap.reasoning.search.seen import seen_model
from oddswap.reasoning.verdicts.alarms import alarms
from oddswap.reasoning.verdicts.diagnosis import diagnose, is_ordinary, judged
from oddswap.showing.pages.report import answer_data, reply_text
from tests.reasoning.stickers_by_cell import box_of, chosen, random_moves, then

COPIES = [
    *(f"cube:2,turns={turns}" for turns in ("R+U", "R2+U2", "R2+U2+F2", "R+U2", "R+L", "R+L2", "R2+L2+U2+D2+F2+B2", "U")),
    *("cuboid:2x2x1,turns=U2", "cuboid:1x2x3,turns=F2", "cuboid:1x2x3,turns=U2+F2", "cuboid:2x2x3,turns=R2+F"),
    *("cuboid:2x2x3,turns=R2+U2", "cuboid:2x2x3,turns=R2+L2+U2+D2+F2+B2", "cuboid:2x4x4,turns=2U2+F2"),
    "cuboid:2x2x4,turns=2F+R2",
]
TINY = ["cuboid:2x2x1,turns=U2", "cuboid:1x2x3,turns=F2", "cuboid:1x2x3,turns=U2+D2", "cuboid:1x2x2,turns=U2"]
HELD = ["", *(f"{letter}{power}" for letter in "xyz" for power in ("", "2", "'")), "x y", "x2 y", "z x", "y' x"]
BUDGET = Budget(5.0)


HOLDINGS = [f"{tipped} {turned}".strip() for tipped in ("", "x", "x2", "x'", "z", "z'") for turned in ("", "y", "y2", "y'")]


def words(name: str, count: int) -> list[str]:
    """Turns of the copy in some holding, alone, or with one or more of all turns among them."""
    rng, own, wide = Random(name), chosen(name), list((with_all_turns(load(name)) or load(name)).turns)
    known = {held for held in HELD if all(part in load(name).rotations for part in held.split())}
    found = []
    for i in range(count):
        others = random_moves(wide, rng, rng.choice((1, 1, 2, 6))) if i % 2 else ""
        found.append(f"{random_moves(own, rng, rng.randrange(7))} {others} {rng.choice(sorted(known))}")
    return found


@pytest.mark.parametrize("name", COPIES)
def test_a_verdict_is_what_walking_says_in_every_holding(name):
    """Reached: ordinary or, where pieces look alike, perhaps a lookalike; else neither, and other turns lead there."""
    box, puzzle = box_of(name), load(name)
    wide, reached = with_all_turns(puzzle) or puzzle, box.reached(chosen(name))
    every = {box.seen(then(image, r)) for image in reached.values() for r in box.rotations}
    verdicts = set()
    for word in words(name, 40):
        appearance, seen = wide.appearance(wide.follow(word)), box.seen(box.made(word))
        found = judged(puzzle, appearance)
        verdicts.add(found.verdict)
        assert (found.verdict in ("ordinary", "lookalike")) == (seen in every), word
        assert found.verdict in ("ordinary", "lookalike", "other turns")
        if lookalikes(puzzle).order == 1:
            assert found.verdict != "lookalike" and is_ordinary(puzzle, appearance) == (seen in every)
        shown = wide.appearance(wide.follow(found.held, wide.follow(word))).sights
        assert all(puzzle.appearance(state).sights == shown for state in (found.first, found.explanation))
    assert {"ordinary", "other turns"} <= verdicts


@pytest.mark.parametrize("name", TINY)
def test_every_appearance_that_all_turns_reach(name):
    box, puzzle = box_of(name), load(name)
    wide = with_all_turns(puzzle)
    every = {box.seen(then(image, r)) for image in box.reached(chosen(name)).values() for r in box.rotations}
    names = {box.seen(box.still): ""}
    for seen in (queue := [*names]):
        for turn in (*wide.turns, *wide.rotations):
            after = box.seen(box.made(f"{names[seen]} {turn}"))
            if after not in names:
                names[after] = f"{names[seen]} {turn}"
                queue.append(after)
    found = {seen: judged(puzzle, wide.appearance(wide.follow(word))).verdict for seen, word in names.items()}
    assert {seen for seen, verdict in found.items() if verdict == "ordinary"} == every
    assert set(found.values()) == {"ordinary", "other turns"}


@pytest.mark.parametrize("name", [*COPIES, "cube:2,turns=R2+L2+U2", "cuboid:2x2x3,turns=R2+F2"])
def test_a_way_out_solves_from_how_it_was_described_and_none_is_shorter(name):
    """Held in one way throughout: in each holding in which the turns lead home, by walking back from solved in any."""
    box, puzzle = box_of(name), load(name)
    wide, reached = with_all_turns(puzzle) or puzzle, box.reached(chosen(name))
    far, solved = box.distances(chosen(name), reached), {box.seen(r) for r in box.rotations}
    tried = 0
    for word in words(name, 16)[::2]:
        image = box.made(word)
        looks = [box.seen(then(image, r)) for r in box.rotations]
        shortest = min(far[look] for look in looks if look in far)
        found = answer(puzzle, wide.appearance(wide.follow(word)), BUDGET)
        data = answer_data(found)
        way = data["way_out"]
        assert (way["length"], way["lower_bound"], way["shortest"]) == (shortest, shortest, True), word
        made = box.made(f"{word} {way['moves']}")
        assert box.seen(made) in solved
        turns = [turn for turn in way["moves"].split() if turn[0] not in "xyz"]
        assert len(turns) == shortest and set(turns) <= set(puzzle.turns)
        assert box.seen(box.made(data["set_up"]["moves"])) == box.seen(image)
        if found.held and way["length"]:
            assert found.held in data["notes"][0]
            top, front, moves = re.search(
                r"(?:called|with) (\w) on top and (\w) towards you, throughout:\n\n`([^`]+)`", reply_text(found)
            ).groups()
            taken_up = next(h for h in HOLDINGS if [puzzle.settled(h)[1].own(face) for face in "UF"] == [top, front])
            assert box.seen(box.made(f"{word} {taken_up} {moves}")) in solved
            tried += 1
    assert tried or box.is_carried(chosen(name))


def test_all_turns_of_one_half_of_a_cube_lead_to_every_holding():
    """R and L turn the cube as a whole, and so do U and what they make of it: each of 12 sets of turns is tried."""
    name = "cube:2,turns=R+L+U"
    box, puzzle = box_of(name), load(name)
    assert len(law_book(puzzle).holdings) == 1
    for word in ("R U y", "L U' z' F", "B x R2", "D R U2 L'"):
        found = answer(puzzle, load("cube:2").appearance(load("cube:2").follow(word)), BUDGET)
        data = answer_data(found)
        assert found.verdict == "ordinary" and data["way_out"]["shortest"]
        assert box.seen(box.made(f"{word} {data['way_out']['moves']}")) in {box.seen(r) for r in box.rotations}
        assert box.seen(box.made(data["set_up"]["moves"])) == box.seen(box.made(word))
        assert data["way_out"]["length"] <= sum(turn[0] not in "xyz" for turn in word.split())


def test_no_repair_is_needed_where_another_holding_does():
    """One corner twisted, and held otherwise: one corner is to be twisted back, at a slot as it is held after the rotation."""
    puzzle = load("cube:2,turns=R+U")
    twisted = puzzle.follow("R U2 R'")
    corner = puzzle.slot("UFR")
    twists = tuple((twist + (slot == corner)) % 3 for slot, twist in enumerate(twisted.twists))
    state = type(twisted)(puzzle.name, twisted.pieces, twists)
    for held in ("", "x", "y2 z"):
        found = diagnose(puzzle, puzzle.appearance(puzzle.follow(held, state)))
        assert found.verdict == "not by turning" and len(found.repair.changes) == 1
        assert law_book(puzzle).reaches(found.repair.result)


def test_a_position_that_was_seen_before_is_found_in_every_holding():
    puzzle = load("cube:2,turns=R+U")
    one = puzzle.appearance(puzzle.follow("R U R"))
    for held in ("", "x", "y z'", "x2"):
        assert same_position(puzzle, one, puzzle.appearance(puzzle.follow(f"R U R {held}"))) is not None
        assert same_position(puzzle, one, puzzle.appearance(puzzle.follow(f"U R U {held}"))) is not None
        assert same_position(puzzle, one, puzzle.appearance(puzzle.follow(f"R U2 R {held}"))) is None


ALARMING = [*TINY, "cuboid:1x2x2,turns=U2+F2", "cube:2,turns=R2+U2+F2", "cuboid:2x2x3,turns=R2+U2+F2+B2"]


@pytest.mark.parametrize("name", [*ALARMING, "cuboid:2x3x4,turns=U2+R2", "cuboid:2x4x4,turns=2U2+F2", "cube:2,turns=R+U2"])
def test_alarms_are_what_walking_says_in_every_holding(name):
    """States as they are seen, packed, from solved by the turns and then by whole-puzzle rotations."""
    puzzle = load(name)
    model = seen_model(puzzle)
    found, queue = {model.solved.tobytes()}, [model.solved]
    for moves in (puzzle.turns, puzzle.rotations):
        for state in queue:
            for move in moves:
                after = model.apply(state, move)
                if after.tobytes() not in found:
                    found.add(after.tobytes())
                    queue.append(after)
    for alarm in alarms(puzzle):
        state = model.pack(puzzle.appearance(changed(puzzle, alarm.changes)))
        assert (alarm.verdict in ("ordinary", "lookalike")) == (state.tobytes() in found), alarm.changes
        if alarm.reason.code == "holding":
            assert alarm.verdict == "ordinary" and law_book(puzzle).broken(changed(puzzle, alarm.changes)) == ()
