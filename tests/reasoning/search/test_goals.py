"""Goals with don't-cares: lengths against walking outwards, level by level, until the goal shows."""

from random import Random

import numpy as np
import pytest

from oddswap.errors import NoSuchGoal
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.search.goals import goal, shows
from oddswap.reasoning.search.seen import seen_model
from oddswap.reasoning.search.shortest import find_way, levels_around
from oddswap.values.position import Appearance
from tests.puzzles.shaped import plain_wedges


def first_level_that_shows(puzzle, start, wanted, depth):
    model = seen_model(puzzle)
    for number, level in enumerate(levels_around(puzzle, depth, start).levels):
        for row in level.rows:
            held = model.closure(row[None], puzzle.rotations)
            if any(shows(model.unpack(state), wanted) for state in held):
                return number
    return None


@pytest.mark.parametrize(
    ("name", "slots"),
    [
        ("tiles:2x3,letters=AABBC", ["r1c1", "r1c2"]),
        ("tiles:2x3,letters=AABBC", ["r1c1", "r2c3"]),
        ("tiles:2x3", ["r2c1", "r1c3"]),
        ("loop:7,window=3", ["1", "4"]),
        ("cube:3,turns=half", ["UFL", "UFR", "FL"]),
        ("tetrahedron,tips=no", None),
        ("shape-mod:prism8,paint=FR+FL+BR+BL,turns=R+U", ["FR", "FL"]),
        ("cube:2", ["DFL", "DFR", "DBL"]),
    ],
)
def test_the_length_is_the_first_level_at_which_the_goal_shows(name, slots):
    puzzle, rng, model = load(name), np.random.default_rng(9), seen_model(load(name))
    wanted = goal(puzzle, slots or puzzle.slots[:3])
    for _ in range(4):
        state = model.solved
        for _ in range(12):
            legal = [turn for turn in puzzle.turns if model.may(state, turn)]
            state = model.apply(state, str(rng.choice(legal)))
        way = find_way(puzzle, state, wanted)
        assert way.shortest
        if len(way.turns) <= 5 or "tiles" in name:
            assert len(way.turns) == first_level_that_shows(puzzle, state, wanted, len(way.turns))


def opened(box, rng, count):
    """The box after so many turns that its shape allows."""
    state = box.solved
    for _ in range(count):
        state = box.follow(str(rng.choice([turn.name for turn in box.legal(state)])), state)
    return state


def first_level_that_is_closed_and_shows(box, start, wanted, depth):
    """By following every legal turn on arrangements, and looking at each in every holding."""
    level = [start]
    for number in range(depth + 1):
        for state in level:
            held = [state]
            for one in held:
                turned = (box.arrangement(r.permutation[box.permutation(one)]) for r in box.rotations.values())
                held += [other for other in turned if other not in held]
            if any(box.closed(one) and shows(box.appearance(one), wanted) for one in held):
                return number
        following = [box.follow(turn.name, state) for state in level for turn in box.legal(state)]
        level = list({box.appearance(state): state for state in following}.values())
    return None


@pytest.mark.parametrize(
    "name, slots, counts",
    [("cuboid:1x2x3,turns=all", ["UFLR", "DFLR"], (1, 2, 3, 3, 3)), ("cuboid:2x2x4,turns=all", ["UFL", "DBL"], (1, 2, 2))],
)
def test_goals_on_boxes_that_leave_their_outline_are_closed_boxes_by_lawful_turns(name, slots, counts):
    box, rng = load(name), np.random.default_rng(2)
    wanted, lengths = goal(box, slots), []
    for count in counts:
        state = opened(box, rng, count)
        way = find_way(box, box.appearance(state), wanted)
        assert way.shortest and len(way.turns) <= count
        lengths.append(len(way.turns))
        assert first_level_that_is_closed_and_shows(box, state, wanted, len(way.turns) - 1) is None
        assert first_level_that_is_closed_and_shows(box, box.follow(" ".join(way.turns), state), wanted, 0) == 0
    assert max(lengths) > 1


def test_a_goal_may_want_cells_of_a_box_to_be_empty():
    box, rng = load("cuboid:1x2x3,turns=all"), np.random.default_rng(3)
    empty = [slot for slot, filled in zip(box.slots, box.filled, strict=True) if not filled]
    for _ in range(4):
        start = opened(box, rng, 6)
        wanted = goal(box, ["UFLR", *empty])
        way = find_way(box, box.appearance(start), wanted)
        assert way.shortest
        assert first_level_that_is_closed_and_shows(box, box.follow(" ".join(way.turns), start), wanted, 0) == 0


def test_a_goal_that_no_arrangement_satisfies_is_one_sentence():
    puzzle = load("cube:3")
    wanted = goal(puzzle, ["DF", "DB"])
    sights = list(wanted.sights)
    sights[puzzle.slot("DB")] = sights[puzzle.slot("DF")]
    with pytest.raises(NoSuchGoal, match=r"no arrangement satisfies this goal: it wants 2 pieces at DF, DB .* there are 1$"):
        find_way(puzzle, puzzle.appearance(puzzle.solved), Appearance(puzzle.name, tuple(sights)))
    with pytest.raises(NoSuchGoal, match="leaves every slot open"):
        find_way(puzzle, puzzle.appearance(puzzle.solved), goal(puzzle, []))
    sights[puzzle.slot("DB")] = frozenset({1, 2})
    with pytest.raises(NoSuchGoal, match="one of several looks at DB"):
        find_way(puzzle, puzzle.appearance(puzzle.solved), Appearance(puzzle.name, tuple(sights)))


def test_a_goal_that_the_turns_do_not_reach_is_proved_impossible():
    """By hand: half turns of a cube never flip an edge."""
    puzzle = load("cube:3,turns=half")
    state = load("cube:3").follow("F U' R U")
    way = find_way(load("cube:3"), load("cube:3").appearance(state), goal(puzzle, ["UF"]), turns=["U2", "F2", "R2"])
    assert way.impossible


def test_a_bound_stays_true_when_the_time_ends():
    puzzle = load("cube:3")
    start = puzzle.appearance(puzzle.follow("R U F2 D B' L U2 R B D2 L' U F D' R2 U'"))
    wanted = goal(puzzle, [slot for slot in puzzle.slots if "D" in slot])
    whole = find_way(puzzle, start, wanted)
    assert whole.shortest
    for seconds in (0.0, 0.05):
        assert find_way(puzzle, start, wanted, budget=Budget(seconds)).lower_bound <= len(whole.turns)


@pytest.mark.parametrize("seed", range(12))
def test_a_part_of_wedges_is_reached_in_as_few_turns_as_by_a_plain_walk(seed):
    """In any outline, and with no half turn where a wedge lies across the cut."""
    puzzle, random = load("wedges:6"), Random(seed)
    position, word = plain_wedges.at_home((1, 2, 1, 2), (1, 2, 1, 2)), []
    home = plain_wedges.lying(position)
    while len(word) < 12:
        turn = random.choice(plain_wedges.turns(6))
        if (after := plain_wedges.turned(position, turn)) is not None:
            position, word = after, [*word, turn]
    chosen = random.sample(sorted(home), 2)
    wanted = goal(puzzle, [plain_wedges.slot_name(*home[number], 6) for number in chosen])
    way = find_way(puzzle, puzzle.appearance(puzzle.follow(plain_wedges.written(word))), wanted, budget=Budget(60))
    walked = plain_wedges.distances(position)
    there = [n for one, n in walked.items() if all(plain_wedges.lying(one)[number] == home[number] for number in chosen)]
    assert way.shortest and way.length == min(there)
