"""A puzzle of every family: what must be true of each, whatever it is."""

import json
from importlib.resources import files

import jsonschema
import numpy as np
import pytest

from oddswap.puzzles.base.puzzle_names import FAMILIES
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.verdicts.diagnosis import judged
from oddswap.showing.pages.law_page import alarms_data, alarms_markdown, laws_data, laws_markdown
from tests.showing.sample import SAMPLE

JOINED = "cube:3,joined=UF-UFR/DB-DBL"
TOGETHER = "cube:4,joined=UFR-FR.u2/UF.l2-UF.r2"
LARGE = [
    *["cube:5", "cube:6", "cube:7,centres=marked", "cube:8", "cube:9,centres=none", "cube:4,turns=half", "cube:5,turns=R+2U"],
    *[
        "shape-mod:cube,slabs=5,axis=U,degrees=45",
        "shape-mod:box2x2x3,slabs=4",
        "cuboid:2x4x5",
        "cuboid:3x4x4",
        "tiles:7x9",
        "loop:90",
        "rings:30+30+30",
        "graph:9+8+7+6",
    ],
]


def random_product(puzzle, rng, count=25):
    image, generators = np.arange(puzzle.degree), generators_of(puzzle)
    for i in rng.integers(len(generators), size=count):
        image = generators[i][image]
    return image


def generators_of(puzzle):
    """What generates the group at home: the turns, or loops where not every turn can be made from everywhere."""
    return law_book(puzzle).image.generators if puzzle.shape_first else puzzle.generators


def test_the_sample_has_every_family_but_files():
    assert {name.partition(":")[0].partition(",")[0] for name in SAMPLE} == set(FAMILIES) - {"custom"}
    assert len(set(SAMPLE)) == len(SAMPLE)


@pytest.mark.parametrize("name", [name for name in SAMPLE if name != "loop:6,window=6,beads=3+3"])
def test_every_single_turn_from_solved_is_ordinary(name):
    """Common practice: nobody speaks of an anomaly after one turn."""
    puzzle = load(name)
    turns = puzzle.legal(puzzle.solved) if puzzle.blank is not None else puzzle.turns.values()
    for turn in turns:
        state = puzzle.arrangement(turn.permutation)
        found = judged(puzzle, puzzle.appearance(state))
        assert (found.verdict, found.broken, found.culprits) == ("ordinary", (), ()), turn.name


def test_a_turn_that_shows_in_two_slots_alone_cannot_be_told_from_a_swap():
    """Where two colours fill one loop, a turn of it looks as two beads that have changed places; it frees none of the others."""
    puzzle = load("loop:6,window=6,beads=3+3")
    found = judged(puzzle, puzzle.appearance(puzzle.arrangement(puzzle.turns["push"].permutation)))
    assert found.verdict == "lookalike" and len(found.first.displaced()) == 2 < len(puzzle.turns["push"].slots)


@pytest.mark.parametrize("name", [*SAMPLE, *LARGE])
def test_laws_vanish_on_random_products(name):
    puzzle, rng = load(name), np.random.default_rng(1)
    book = law_book(puzzle)
    assert book.complete and book.unexplained == 1
    for generator in generators_of(puzzle):
        assert book.reaches_permutation(generator)
    for _ in range(10):
        image = random_product(puzzle, rng)
        assert book.broken_at(image) == () and not any(law.value(puzzle.homed(image)) for law in book.laws)
        assert book.reaches_permutation(image)


@pytest.mark.parametrize("name", [*SAMPLE, *LARGE, JOINED, TOGETHER])
def test_laws_are_data_by_the_schema_and_a_page(name):
    schema = json.loads((files("oddswap.showing.pages") / "schemas" / "laws.json").read_text("utf-8"))
    puzzle = load(name)
    jsonschema.validate(laws_data(puzzle), schema)
    text = laws_markdown(puzzle)
    assert text.startswith("# What never changes") and "## Is that all?" in text


@pytest.mark.parametrize("name", [JOINED, *(one for one in SAMPLE if one not in ("dodecahedron", "octahedron", "rings:8+8+8"))])
def test_alarms_are_data_by_the_schema_and_a_page(name):
    schema = json.loads((files("oddswap.showing.pages") / "schemas" / "alarms.json").read_text("utf-8"))
    puzzle = load(name)
    jsonschema.validate(alarms_data(puzzle, puzzle.alarms), schema)
    assert alarms_markdown(puzzle, puzzle.alarms).startswith("# What looks wrong")


@pytest.mark.parametrize("name", SAMPLE)
def test_solved_is_ordinary_and_every_arrangement_is_its_label_permutation(name):
    puzzle, rng = load(name), np.random.default_rng(2)
    assert judged(puzzle, puzzle.appearance(puzzle.solved)).verdict == "ordinary"
    image = random_product(puzzle, rng)
    assert (puzzle.permutation(puzzle.arrangement(image)) == image).all()
    assert eval(repr(puzzle), {"load": load}) is puzzle


@pytest.mark.parametrize("name", SAMPLE)
def test_turns_are_permutations_that_keep_kinds_and_turn_every_way_round_alike(name):
    puzzle = load(name)
    for turn in (*puzzle.turns.values(), *puzzle.rotations.values()):
        assert sorted(turn.permutation.tolist()) == list(range(puzzle.degree))
        for kind in puzzle.kinds:
            images = turn.permutation[list(kind.labels)].reshape(-1, kind.twist)
            assert set(images.ravel().tolist()) == set(kind.labels)
            steps = (np.roll(images, -1, axis=1) - images) % kind.twist if kind.twist > 1 else np.ones(1)
            assert (steps == 1 % kind.twist).all() or kind.twist == 1
            assert ((images - kind.first) // kind.twist == ((images - kind.first) // kind.twist)[:, :1]).all()
