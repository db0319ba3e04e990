"""Whole answers: each verdict with or without a way out, and the tickets of the table."""

from pathlib import Path

import pytest

from oddswap.describing.changes import changed
from oddswap.describing.sights import every_look
from oddswap.describing.tickets import parse_ticket, read_ticket
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.answers import answer
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.verdicts.diagnosis import diagnose
from oddswap.reasoning.ways.way_out import looks_solved
from oddswap.values.position import Appearance

FOLDER = Path(__file__).parents[2] / "notebooks" / "tickets"
SHORT = ["02", "03", "04", "05", "06", "07", "10", "11", "12"]


def answered(name, moves="", changes=()):
    puzzle = load(name)
    state = changed(puzzle, changes, puzzle.follow(moves))
    return puzzle, state, answer(puzzle, puzzle.appearance(state), Budget(seconds=20))


@pytest.mark.parametrize(
    "name, moves, changes, verdict",
    [
        ("cube:3", "R U", (), "ordinary"),
        ("cube:2", "R U' F x", (), "ordinary"),
        ("tiles:3x3", "r3c2 r2c2 r2c3", (), "ordinary"),
        ("shape-mod:prism8", "", ["flip UF"], "lookalike"),
        ("shape-mod:prism8,paint=FR+FL+BR+BL", "", ["swap UF UR"], "lookalike"),
        ("tiles:2x3,letters=aabcd", "", ["swap r1c3 r2c1"], "lookalike"),
    ],
)
def test_where_turning_helps_there_is_a_way_out_and_a_set_up(name, moves, changes, verdict):
    puzzle, state, found = answered(name, moves, changes)
    assert found.verdict == found.diagnosis.verdict == verdict == diagnose(puzzle, puzzle.appearance(state)).verdict
    explanation = found.diagnosis.explanation
    assert puzzle.appearance(explanation) == puzzle.appearance(state)
    assert looks_solved(puzzle, puzzle.appearance(puzzle.follow(found.way_out.moves, explanation)))
    assert puzzle.appearance(puzzle.follow(found.set_up)) == puzzle.appearance(state)
    assert (found.puzzle, found.appearance) == (puzzle, puzzle.appearance(state))


@pytest.mark.parametrize(
    "name, changes",
    [
        ("cube:3", ["flip UF"]),
        ("cube:2", ["twist UFR cw"]),
        ("rings:4+4,cross=1", ["swap 1 2"]),
        ("tiles:3x3", ["swap r1c1 r1c2"]),
    ],
)
def test_where_no_turning_helps_there_is_neither(name, changes):
    _, _, found = answered(name, changes=changes)
    assert (found.verdict, found.way_out, found.set_up) == ("not by turning", None, None)
    assert found.diagnosis.repair is not None


@pytest.mark.parametrize(
    "name, changes",
    [
        ("cube:3,turns=half", ["twist UFR cw", "twist UFL ccw"]),
        ("cube:3,turns=R+U", ["flip UF", "flip UR"]),
        ("cuboid:2x2x3,turns=half", ["swap UFL UFR"]),
    ],
)
def test_other_turns_lead_out_where_this_copys_do_not(name, changes):
    puzzle, state, found = answered(name, changes=changes)
    whole = load(name.partition(",turns")[0])
    assert found.verdict == "other turns"
    assert diagnose(whole, whole.appearance(found.diagnosis.explanation)).verdict in ("ordinary", "lookalike")
    if found.way_out.moves is not None:
        assert not set(found.way_out.moves.split()) <= set(puzzle.turns)
        assert looks_solved(whole, whole.appearance(whole.follow(found.way_out.moves, state)))
        assert whole.appearance(whole.follow(found.set_up)).sights == puzzle.appearance(state).sights


def test_a_turn_that_this_copy_does_not_make_is_other_turns_and_is_turned_back():
    puzzle = load("cube:3,turns=half")
    found = answer(puzzle, puzzle.appearance(puzzle.arrangement(load("cube:3").turns["R"].permutation)))
    assert (found.verdict, found.way_out.moves, found.set_up) == ("other turns", "R'", "R")


def test_where_only_other_turns_reach_what_is_half_seen_there_is_no_way_but_an_answer():
    """Half turns keep three corners out of a cycle; with quarter turns every completion of the other eight can be reached."""
    puzzle = load("cuboid:2x2x4,turns=half")
    sights = list(puzzle.appearance(changed(puzzle, ["cycle UFL UFR UBL"])).sights)
    for slot in (1, 3, 5, 8, 9, 11, 12, 14):
        sights[slot] = every_look(puzzle, slot)
    found = answer(puzzle, Appearance(puzzle.name, tuple(sights)))
    assert found.verdict == "other turns" and found.diagnosis.explanation is None
    assert found.turning is puzzle and found.way_out is None


def test_what_is_not_seen_gets_no_way():
    ticket = parse_ticket('puzzle = "cube:3"\n[seen.U]\nrows = ["U U U", "U U U", "U U U"]\n')
    found = answer(ticket.puzzle, ticket.appearance)
    assert (found.verdict, found.way_out, found.set_up) == ("cannot tell yet", None, None)


@pytest.mark.parametrize("number", SHORT)
def test_tickets_of_the_table_get_an_answer_that_solves_them(number):
    (path,) = FOLDER.glob(f"{number}_*.toml")
    ticket = read_ticket(path)
    puzzle, found = ticket.puzzle, answer(ticket.puzzle, ticket.appearance, Budget(seconds=30))
    if found.verdict == "not by turning":
        assert found.way_out is None and (found.diagnosis.slips or found.diagnosis.repair)
    else:
        assert found.way_out.shortest
        assert puzzle.appearance(puzzle.follow(found.set_up)).sights == ticket.appearance.sights
        solved = puzzle.follow(found.way_out.moves, puzzle.follow(found.set_up))
        assert looks_solved(puzzle, puzzle.appearance(solved))


def test_progress_is_told():
    told = []
    puzzle = load("rings:12+12")
    mixed = puzzle.follow("a b a a b' a b b a' b a b' a a b a b b b a' b a' a' b a b")
    answer(puzzle, puzzle.appearance(mixed), Budget(2), lambda *news: told.append(news))
    assert told and all(bound >= 1 and states > 0 and 0 < seconds < 20 for bound, states, seconds in told)


@pytest.mark.parametrize("name, moves", [("shape-mod:cube,shift=0/0/0", "R U"), ("loop:4,window=4,beads=4", "")])
def test_where_all_positions_look_the_same_there_is_nothing_to_turn(name, moves):
    puzzle = load(name)
    found = answer(puzzle, puzzle.appearance(puzzle.follow(moves)))
    assert (found.verdict, found.way_out.moves, found.way_out.shortest, found.set_up) == ("ordinary", "", True, "")
