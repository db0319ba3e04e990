"""Plans where the shape decides the turns, replayed by plain cells, by joined bodies and by wedges on units."""

import re
from itertools import combinations
from random import Random

import pytest

from oddswap.describing.changes import changed
from oddswap.errors import BadPlan
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.teaching.carried_out import carry_out, trouble_scramble
from oddswap.reasoning.teaching.plans import read_plan
from tests.judge import cells
from tests.puzzles.shaped import plain_wedges
from tests.reasoning.boxes import STILL
from tests.reasoning.joined_walks import JoinedWalk

ROUND_A_BLOCK = """
name = "round a block"
[[stage]]
name = "beside the block"
slots = ["DL", "BL"]
turns = "all"
[[stage]]
name = "bottom cross"
slots = ["DF", "DR"]
turns = "all"
shape = "home"
[[stage]]
name = "two layers"
slots = ["DFL", "FL", "DBR", "BR", "DFR", "FR"]
one_by_one = true
turns = "all"
shape = "home"
[[stage]]
name = "top layer"
slots = ["UF", "UR", "UB", "UL", "UFR", "UBR", "UBL", "UFL"]
turns = ["U", "U2", "U'"]
shape = "home"
[stage.sequences]
"flip two" = "F R U R' U' F'"
"three edges round" = "R U R' U R U2 R'"
"two and two" = "R U R' U' R' F R2 U' R' U' R U R' F'"
"""
"""Common practice on a cube whose pieces are not joined; none of its sequences moves the back layer, the left or the bottom."""
A_BOX = """
name = "by way of other outlines"
[[stage]]
name = "bottom corners"
slots = ["DFL", "DFR", "DBL", "DBR"]
one_by_one = true
turns = "all"
[[stage]]
name = "top corners"
slots = ["UFL", "UFR", "UBL", "UBR"]
turns = "all"
[[stage]]
name = "edges"
slots = ["FL", "FR", "BL", "BR"]
turns = "all"
[[stage]]
name = "middle bottom"
slots = ["DL.b2", "DL.f2", "DR.b2", "DR.f2"]
one_by_one = true
turns = "all"
[[stage]]
name = "middle top"
slots = ["UL.b2", "UL.f2", "UR.b2", "UR.f2"]
turns = "all"
[[stage]]
name = "ends"
slots = ["L.b2", "L.f2", "R.b2", "R.f2"]
turns = "all"
"""
LAYERS = """
name = "layer after layer"
[[stage]]
name = "top"
slots = ["U1", "U2-3", "U4", "U5-6"]
turns = "all"
[[stage]]
name = "bottom"
slots = ["D1", "D2-3", "D4", "D5-6"]
turns = "all"
"""


@pytest.fixture
def plan(tmp_path):
    def made(text):
        (tmp_path / "plan.toml").write_text(text, "utf-8")
        return read_plan(tmp_path / "plan.toml")

    return made


def test_a_joined_cube_goes_home_round_its_block_and_the_stages_that_keep_it_do(plan):
    walk, method = JoinedWalk((3, 3, 3), (("DB", "DBL"),)), plan(ROUND_A_BLOCK)
    puzzle, turns = load(walk.name), {walk.name_of(turn): turn for turn in walk.turns}
    kept = {stage.name for stage in method.stages if stage.shape == "home"}
    for seed in range(3):
        word, state = walk.word(Random(seed), 20)
        done = carry_out(puzzle, method, puzzle.follow(" ".join(word)))
        assert done.finished and len(done.events) > 3
        for event in done.events:
            for name in event.moves.split():
                assert not walk.cuts(state, turns[name])
                state = walk.after(state, turns[name])
                assert event.stage not in kept or state[walk.joints[0][0]] == STILL
        assert all(made == STILL for made, cell in zip(state, walk.cells, strict=True) if sum(map(abs, cell)) > 2)


def hangs_together(places):
    """Whether unit cells, told by their middles in half cells, touch by faces."""
    reached = todo = {min(places)}
    while todo:
        todo = {
            (*p[:axis], p[axis] + step, *p[axis + 1 :]) for p in todo for axis in range(3) for step in (-2, 2)
        } & places - reached
        reached = reached | todo
    return reached == places


def by_hand(held, name):
    """The box after a turn; None where blocks meet, nothing turns, or what is left is not one body."""
    try:
        after = held.turned(name)
    except ValueError:
        return None
    moved = any((after.rotated[home] != held.rotated[home]).any() for home in held.rotated)
    return after if moved and hangs_together(set(map(after.place, after.rotated))) else None


def test_a_box_that_left_its_outline_goes_home_stage_by_stage(plan):
    puzzle, method, solved = load("cuboid:2x3x4,turns=all"), plan(A_BOX), cells.box((2, 3, 4)).solved
    home, far = set(solved.rotated), 0
    for seed in range(3):
        random, held, word = Random(seed), solved, []
        while len(word) < 15:
            name = random.choice(list(puzzle.turns))
            if (after := by_hand(held, name)) is not None:
                held, word = after, [*word, name]
        done = carry_out(puzzle, method, puzzle.follow(" ".join(word)))
        assert done.finished
        for event in done.events:
            for name in event.moves.split():
                held = by_hand(held, name)
                far += set(map(held.place, held.rotated)) != home
            assert set(map(held.place, held.rotated)) == home
        assert held.is_done({face: face for face in "UDFBLR"})
    assert far > 30


def written(moves):
    """Plain turns of wedges from what the package writes."""
    for top, bottom, half in re.findall(r"\((-?\d+),(-?\d+)\)|(/)", moves):
        yield ("half", 1) if half else ("top", int(top)) if int(top) else ("bottom", int(bottom))


def test_wedges_go_home_exactly_where_a_plain_walk_reaches_them(plan):
    puzzle, method = load("wedges:6"), plan(LAYERS)
    home = plain_wedges.at_home((1, 2, 1, 2), (1, 2, 1, 2))
    reached = plain_wedges.distances(home)
    names = {number: plain_wedges.slot_name(*place, 6) for number, place in plain_wedges.lying(home).items()}
    verdicts = []
    for one, other in combinations(names, 2):
        if len(names[one]) != len(names[other]):
            continue
        swapped = {one: other, other: one}
        position = (*(tuple(swapped.get(n, n) for n in layer) for layer in home[:2]), False)
        done = carry_out(puzzle, method, changed(puzzle, [f"swap {names[one]} {names[other]}"]))
        either = position in reached or (*position[:2], True) in reached
        assert done.finished == either and bool(done.stuck) != either
        verdicts.append(either)
    assert len(verdicts) == 12
    for seed in range(20):
        random, position, word = Random(seed), home, []
        while len(word) < 12:
            turn = random.choice(plain_wedges.turns(6))
            if (after := plain_wedges.turned(position, turn)) is not None:
                position, word = after, [*word, turn]
        start = puzzle.follow(" ".join({"top": f"top {n}", "bottom": f"bottom {n}", "half": "/"}[what] for what, n in word))
        done = carry_out(puzzle, method, start)
        for turn in written(done.moves):
            position = plain_wedges.turned(position, turn)
        assert done.finished and position[:2] == home[:2]


ONE = '[[stage]]\nname = "right"\nslots = ["DR", "UR", "FR", "BR"]\nturns = []\nshape = "{}"\n[stage.sequences]\nx = "{}"\n'


def test_a_sequence_counts_only_where_each_of_its_turns_can_be_made(plan):
    """On paper: L cuts the block DB-DBL, so L R L' does not do what R does; D takes the block to the left, away from R."""
    puzzle = load("cube:3,joined=DB-DBL")
    with pytest.raises(BadPlan, match="none of its turns and sequences leads to its goal"):
        carry_out(puzzle, plan(ONE.format("any", "L R L'")), puzzle.follow("R'"))
    start = puzzle.follow("D R' D'")
    assert carry_out(puzzle, plan(ONE.format("any", "D R D'")), start).moves == "D R D'"
    with pytest.raises(BadPlan, match="none of its turns and sequences leads to its goal"):
        carry_out(puzzle, plan(ONE.format("home", "D R D'")), start)
    with pytest.raises(BadPlan, match="the stage `right` keeps the shape of home, but begins away from it"):
        carry_out(puzzle, plan(ONE.format("home", "R")), puzzle.follow("D"))
    box = load("cuboid:2x3x4,turns=all")
    no_layer = plan(ONE.replace('"DR", "UR", "FR", "BR"', '"UFL", "UFR"').format("any", "RR2 U2"))
    with pytest.raises(BadPlan, match="none of its turns and sequences leads to its goal"):
        carry_out(box, no_layer, box.follow("U2"))


@pytest.mark.parametrize(
    ("change", "law"), [("flip UF", "flipped edges"), ("swap UF UB", "rearranged"), ("twist UFR cw", "twists")]
)
def test_where_no_turning_helps_the_law_of_a_joined_cube_is_named(plan, change, law):
    """The laws of the plain cube hold here as well (derived: a joined cube's turns are some of its turns)."""
    puzzle = load("cube:3,joined=DB-DBL")
    done = carry_out(puzzle, plan(ROUND_A_BLOCK), changed(puzzle, [change]))
    assert not done.finished and done.stuck.stage == "top layer"
    assert law in done.stuck.laws[0].statement


def test_no_scramble_is_drawn_where_the_shape_decides(plan):
    with pytest.raises(BadPlan, match="whose outline decides the turns: give turns of your own"):
        trouble_scramble(load("cuboid:2x3x4,turns=all"), plan(A_BOX))
