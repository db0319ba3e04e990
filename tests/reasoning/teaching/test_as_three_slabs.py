"""Four and five slabs solved as three: every move replayed, and each odd swap judged by counting quarter turns."""

from random import Random

import pytest

from oddswap.describing.changes import changed
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.teaching.carried_out import carry_out, trouble_scramble
from oddswap.reasoning.teaching.plan_culprits import OddSwap
from oddswap.reasoning.teaching.plans import read_plan
from oddswap.reasoning.ways.way_out import looks_solved
from oddswap.showing.pages.ways_page import plan_markdown

PLAN = read_plan(layers=4)


def quarters(moves: str) -> tuple[bool, bool]:
    """Whether an odd number of quarter turns of inner slabs, and of outer ones, are among some moves."""
    turned = [move for move in moves.split() if not move.endswith("2")]
    inner = sum(move.startswith("2") for move in turned)
    return bool(inner % 2), bool((len(turned) - inner) % 2)


def carried_out(name, scramble):
    puzzle = load(name)
    start = puzzle.follow(scramble)
    done = carry_out(puzzle, PLAN, start)
    assert done.finished and looks_solved(puzzle, puzzle.appearance(puzzle.follow(done.moves, start)))
    return done


@pytest.mark.parametrize(
    ("name", "seed"), [("cube:4", 2), ("shape-mod:prism8,slabs=4", 0), ("shape-mod:cube,axis=U,degrees=30,slabs=4", 0)]
)
def test_every_odd_swap_is_real_or_hidden_as_the_quarter_turns_say(name, seed):
    """A quarter turn of an inner slab is three swaps of wings, and one of an outer slab three of corners (counted by hand)."""
    scramble = " ".join(Random(seed).choices(list(load(name).turns), k=40))
    done = carried_out(name, scramble)
    moves, judged = scramble, 0
    for event in done.events:
        if isinstance(event, OddSwap) and not event.twins:
            odd_wings, odd_corners = quarters(moves)
            assert (odd_wings if event.family == "wings" else odd_corners) and bool(event.culprits) == (event.family == "corners")
            judged += 1
        moves += f" {event.moves}"
    assert judged or name != "cube:4"


def test_wings_of_one_edge_are_really_swapped_on_four_slabs_and_a_false_parity_on_five():
    """On five slabs a quarter turn of an inner slab takes one ring of four centres round, as it takes one of wings."""
    four, five = (carry_out(p := load(f"cube:{n}"), PLAN, changed(p, ["swap UF.l2 UF.r2"])) for n in (4, 5))
    (real,), (false,) = ([event for event in done.events if isinstance(event, OddSwap)] for done in (four, five))
    assert (real.stage, real.family, real.culprits) == ("top cross", "wings", ())
    assert set(real.turns) == {"2U", "2D", "2F", "2B", "2L", "2R"}
    assert (false.stage, false.family, false.placed) == ("edges together", "wings", "top centres")
    assert len(false.culprits) == 36 and all(slot.count(".") for one in false.culprits for slot in one.pieces)
    page = plan_markdown(load("cube:5"), five)
    assert "## An odd swap at the stage edges together" in page and "this swap is a false parity" in page


def test_two_corners_swapped_alone_are_a_false_parity_of_the_centres():
    """Four slabs: 6 sides with 4 equal centres, of which any 2 can be the pair (6 * 6)."""
    cube = load("cube:4")
    (event,) = [e for e in carry_out(cube, PLAN, changed(cube, ["swap UFR UBR"])).events if isinstance(e, OddSwap)]
    assert (event.stage, event.family, len(event.culprits)) == ("top corners in their places", "corners", 36)


def test_a_middle_edge_whose_flip_does_not_show_is_blamed_where_its_edge_was_put_together():
    prism = load("shape-mod:prism8,slabs=5")
    done = carry_out(prism, PLAN, changed(prism, ["flip UF", "swap UF.l2 UF.r2"]))
    assert done.finished and done.troubles[0].blamed.pieces[0] in {"FL", "FR", "BL", "BR"}


def test_five_slabs_go_home(pytestconfig):
    """Half a minute each, so that other runs carry out the last stages only."""
    for name in ("cube:5", "shape-mod:prism8,slabs=5", "shape-mod:cube,axis=U,degrees=30,slabs=5"):
        turns = list(load(name).turns)
        if pytestconfig.getoption("--every-case"):
            carried_out(name, " ".join(Random(1).choices(turns, k=40)))
    carried_out("cube:5", "R U F' U2 R2")


def test_a_scramble_that_needs_an_odd_swap_is_found_and_mended():
    cube = load("cube:4")
    moves, done = trouble_scramble(cube, PLAN, 12, seed=1)
    assert len(moves.split()) == 13 and any(isinstance(event, OddSwap) for event in done.events)
    assert looks_solved(cube, cube.appearance(cube.follow(f"{moves} {done.moves}")))
