"""Plans as data: the layer method's sequences against facts of the trade, and one sentence for each spoilt file."""

import pytest

from oddswap.errors import BadPlan
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.teaching.plans import read_plan


def left_alone(moves, families):
    """Whether a sequence moves nothing but top pieces of these families, on a cube with marked centres."""
    cube = load("cube:3,centres=marked")
    changed = cube.follow(moves).displaced()
    return all(cube.kind_of[b].family in families and "U" in cube.slots[b] for b in changed)


def test_the_sequences_of_the_layer_method_do_what_their_stage_is_for():
    """Common practice: each stage of the top layer keeps what stood already."""
    stages = {stage.name: stage for stage in read_plan().stages}
    for name in ("top cross", "top edges"):
        assert all(left_alone(moves, {"corners", "edges"}) for moves in stages[name].sequences.values())
    assert all(left_alone(moves, {"corners"}) for moves in stages["top corners in their places"].sequences.values())
    cube = load("cube:3,centres=marked")
    for moves in stages["centres"].sequences.values():
        assert all(cube.kind_of[b].family == "centres" for b in cube.follow(moves).displaced())
    for moves in stages["top corners the right way round"].sequences.values():
        assert cube.follow(" ".join(3 * [moves])) == cube.solved
        assert [cube.slots[b] for b in cube.follow(moves).displaced() if "U" in cube.slots[b]] == ["UFR"]


def test_sequences_of_ones_own_are_added_by_name(tmp_path):
    file = tmp_path / "mine.toml"
    file.write_text('name = "mine"\n[sequences."top edges"]\n"my three" = "R2 U R U R\' U\' R\' U\' R\' U R\'"\n', "utf-8")
    plan = read_plan(file)
    assert plan.name == "mine" and len(plan.stages) == len(read_plan().stages)
    assert list(plan.stages[4].sequences) == ["three edges round", "my three"]


STAGE = '[[stage]]\nname = "a"\nslots = ["DF"]\nturns = "all"\n'


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("stage = ", "is not TOML"),
        ("stage = []", "has no stage"),
        ("", "has no [[stage]] and no [sequences"),
        ("stage = [1]", "stage 1: write it as a table"),
        ('[[stage]]\nname = "a"', "stage 1 has no slots"),
        ('[[stage]]\nslots = ["DF"]', "stage 1 has no name"),
        ('[[stage]]\nname = 3\nslots = ["DF"]', "stage 1: name is of the wrong type"),
        (STAGE + "colour = 1", "stage 1: there is no key `colour`"),
        (STAGE + 'right = "half"', "stage 1 (`a`): right = `half` is not one of"),
        (STAGE + 'shape = "away"', "stage 1 (`a`): shape = `away` is not one of 'any', 'home'"),
        (STAGE + 'right = "place"\none_by_one = true', "one_by_one goes only with"),
        (STAGE.replace('"all"', '"some"'), "turns = `some` is no list"),
        (STAGE.replace('"all"', "[1]"), "turns must be a list of texts"),
        (STAGE.replace('"all"', "[]"), "allows no turns and no sequences"),
        (STAGE + "[stage.sequences]\nx = 3", "the sequence `x` has no moves"),
        (STAGE + STAGE, "two stages called `a`"),
        ('[sequences."hats"]\nx = "R"', "adds sequences to the stage `hats`, which is none of bottom cross"),
        ('[sequences]\n"top edges" = 3', "stage `top edges`: write each sequence as"),
    ],
)
def test_a_spoilt_plan_is_one_sentence_with_the_place(tmp_path, text, said):
    file = tmp_path / "mine.toml"
    file.write_text(text, "utf-8")
    with pytest.raises(BadPlan) as error:
        read_plan(file)
    assert said in str(error.value) and "\n" not in str(error.value)


def test_a_plan_that_is_not_there_is_one_sentence(tmp_path):
    with pytest.raises(BadPlan, match="cannot be read"):
        read_plan(tmp_path / "none.toml")
