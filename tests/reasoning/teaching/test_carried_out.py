"""Plans carried out on scrambled puzzles of every shape: the moves replayed, and the trouble against the laws."""

from random import Random

import pytest

from oddswap.describing.changes import changed
from oddswap.errors import BadPlan
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.teaching.carried_out import Done, carry_out
from oddswap.reasoning.teaching.plan_culprits import NoTurningHelps, Trouble
from oddswap.reasoning.teaching.plans import read_plan
from oddswap.reasoning.verdicts.diagnosis import diagnose
from oddswap.reasoning.ways.way_out import looks_solved
from oddswap.words import say

PLAN = read_plan()
SHAPES = [
    "cube:3",
    "cube:3,centres=marked",
    "cube:3,centres=none",
    "shape-mod:prism8",
    "shape-mod:prism8,paint=FR+FL+BR+BL",
    "shape-mod:prism8,cut=0.3333",
    "shape-mod:cube,axis=U,degrees=45",
    "shape-mod:cube,axis=URF,degrees=60",
    "shape-mod:cube,shift=0.1/0.2/0.05",
    "shape-mod:cube,paint=U+D/F+B/L+R",
    "shape-mod:prism3",
    "shape-mod:prism5",
    "shape-mod:prism12",
]


def scrambled(puzzle, seed):
    random = Random(seed)
    rotation = random.choice(["", *puzzle.rotations])
    return puzzle.follow(" ".join([*random.choices(list(puzzle.turns), k=30), rotation]))


@pytest.mark.parametrize("name", SHAPES)
def test_every_three_slab_mechanism_goes_home_by_layers(name):
    puzzle = load(name)
    for seed in range(1):
        start = scrambled(puzzle, seed)
        done = carry_out(puzzle, PLAN, start)
        assert done.finished and done.stuck is None
        assert looks_solved(puzzle, puzzle.appearance(puzzle.follow(done.moves, start)))
        assert len(done.moves.split()) < 400


@pytest.mark.parametrize("slot", ["FL", "FR", "BL", "BR"])
def test_a_hidden_flip_turns_up_at_the_top_and_is_mended_where_the_edge_was_placed(slot):
    """Octagonal prism: exactly the four middle edges have a hidden half turn (derived, computed independently)."""
    puzzle = load("shape-mod:prism8")
    start = changed(puzzle, [f"flip {slot}", "flip UF"])
    done = carry_out(puzzle, PLAN, start)
    (trouble,) = done.troubles
    assert (trouble.stage, trouble.back_to) == ("top cross", "middle edges")
    assert [c.pieces for c in trouble.culprits] == [c.pieces for c in diagnose(puzzle, puzzle.appearance(start)).culprits]
    after = done.events[done.events.index(trouble) + 1]
    assert isinstance(after, Done) and after.stage == "middle edges" and after.parts
    before = [event for event in done.events[: done.events.index(trouble)] if event.parts]
    assert before == []


def test_an_unseen_middle_that_has_turned_is_a_new_holding():
    """A lone exchange is reachable without visible centres (computed; idea: Bergvall 2010)."""
    puzzle = load("cube:3,centres=none")
    start = changed(puzzle, ["swap UF UB"])
    done = carry_out(puzzle, PLAN, start)
    (trouble,) = done.troubles
    assert (trouble.back_to, trouble.culprits, trouble.moves) == ("bottom cross", (), "y")
    assert looks_solved(puzzle, puzzle.appearance(puzzle.follow(done.moves, start)))


@pytest.mark.parametrize(
    ("name", "changes", "stage"),
    [
        ("cube:3", ["flip UF"], "top cross"),
        ("cube:3", ["swap DF DB"], "top corners in their places"),
        ("cube:3", ["twist DFR cw"], "top corners the right way round"),
        ("cube:3,centres=marked", ["turn F cw"], "centres"),
    ],
)
def test_what_no_turning_mends_stops_the_plan_with_the_law(name, changes, stage):
    puzzle = load(name)
    start = changed(puzzle, changes)
    done = carry_out(puzzle, PLAN, start)
    assert not done.finished and not done.troubles
    (law,) = law_book(puzzle).broken(start)
    assert done.stuck == NoTurningHelps(stage, (law,))
    assert say(done.stuck) == f"the stage {stage} cannot go on, and no turning helps: {law.statement}"


def test_a_stage_that_cannot_follow_or_does_not_fit_is_one_sentence(tmp_path):
    file, cube = tmp_path / "mine.toml", load("cube:3")
    stages = '[[stage]]\nname = "a"\nslots = ["DF"]\nturns = "all"\n[[stage]]\nname = "b"\nslots = ["DB"]\nturns = ["U"]\n'
    file.write_text(stages, "utf-8")
    with pytest.raises(BadPlan, match=r"the stage `b` cannot follow from `a`, because none of its turns and sequences"):
        carry_out(cube, read_plan(file), cube.follow("B"))
    file.write_text(stages + '[stage.sequences]\nx = "U ["\n', "utf-8")
    with pytest.raises(BadPlan, match=r"mine, stage `b`: sequence `x`: column 3: a closing bracket is missing"):
        carry_out(cube, read_plan(file), cube.solved)
    with pytest.raises(BadPlan, match="stage `bottom cross`: cube:2 has no slot called `DF`"):
        carry_out(load("cube:2"), PLAN, load("cube:2").solved)


def test_trouble_comes_before_the_way_back():
    puzzle = load("shape-mod:cube,paint=F+B")
    events = [e for seed in range(4) for e in carry_out(puzzle, PLAN, scrambled(puzzle, seed)).events]
    names = [stage.name for stage in PLAN.stages]
    troubles = [e for e in events if isinstance(e, Trouble)]
    assert troubles and all(names.index(e.back_to) <= names.index(e.stage) for e in troubles)
    assert all(e.laws and e.culprits for e in troubles)


def test_a_plan_whose_time_ends_says_so():
    cube = load("cube:3")
    with pytest.raises(BadPlan, match="the stage `bottom cross` was not decided, because its budget ended"):
        carry_out(cube, PLAN, scrambled(cube, 1), Budget(0.0))


def test_a_copy_with_other_turns_in_this_holding_has_to_be_held_otherwise_first():
    """A quarter turn of the whole is odd on corners and edges together, so that the five turns cannot make up for it."""
    copy = load("cube:3,centres=none,turns=R+L+U+D+F")
    with pytest.raises(BadPlan, match="do not lead home: turn the whole puzzle by ([xyz2' ]+) first") as refused:
        carry_out(copy, PLAN, copy.follow("R U F y"))
    rotation = str(refused.value).split(" by ")[-1].removesuffix(" first")
    assert not diagnose(copy, copy.appearance(copy.follow(f"R U F y {rotation}"))).held
