"""Verdicts on boxes that may leave their outline."""

from dataclasses import replace

import pytest

from oddswap.describing.changes import changed
from oddswap.describing.tickets import parse_ticket
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.answers import answer
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.verdicts.diagnosis import NOT_BY_TURNING, ORDINARY, diagnose
from oddswap.reasoning.verdicts.findings import NotSeen, StrangeSight
from oddswap.reasoning.ways.way_out import looks_solved


@pytest.mark.parametrize(("name", "moves"), [("cuboid:2x3x4,turns=all", "U 2F2 LL2"), ("cuboid:1x3x5,turns=all", "B U2 F'")])
def test_what_was_turned_is_ordinary_and_its_way_home_is_replayed(name, moves):
    box = load(name)
    seen = box.appearance(box.follow(moves))
    found = answer(box, seen, Budget(20.0))
    assert found.verdict == ORDINARY and found.way_out.length <= 3
    assert box.appearance(found.diagnosis.explanation).sights == seen.sights


def test_an_exchange_that_half_turns_cannot_make_is_ordinary_with_all_turns():
    box = load("cuboid:2x3x4,turns=all")
    assert diagnose(box, box.appearance(changed(box, ["swap UFL UBR"]))).verdict == ORDINARY


@pytest.mark.parametrize("moves", ["", "U 2F2 LL2"])
def test_what_no_piece_of_a_box_shows_is_named_before_its_shape_is_asked(moves):
    box = load("cuboid:2x3x4,turns=all")
    state = box.follow(moves)
    seen, slot = box.appearance(state), state.pieces.index(box.slot("UFL"))
    found = diagnose(box, replace(seen, sights=(*seen.sights[:slot], frozenset(), *seen.sights[slot + 1 :])))
    assert found.verdict == NOT_BY_TURNING and found.first is None and found.repair is None
    assert found.findings == (StrangeSight(box.slots[slot]), NotSeen(("UFL",)))


def test_a_copy_with_few_turns_is_tried_in_every_holding():
    """Turned from closed, and then as a whole: from there its turns have other names, and what they reach proves nothing."""
    box = load("cuboid:2x2x4,turns=R2+U")
    for moves in ("R2 U R2 U' x2", "U R2 U y2", "U R2 U R2 z2"):
        state = box.follow(moves)
        found = answer(box, box.appearance(state), Budget(10.0))
        assert found.verdict == ORDINARY and found.way_out.length <= 4
        held = box.follow(found.held, state)
        assert box.appearance(found.diagnosis.explanation).sights == box.appearance(held).sights
        assert looks_solved(box, box.appearance(box.follow(found.way_out.moves, held)))


def test_all_turns_are_the_same_in_a_ticket_and_in_a_name():
    text = 'puzzle = "cuboid:2x3x4{}"\n{}changes = ["swap UFL UBR"]\n'
    in_name, in_ticket = (parse_ticket(text.format(*where)) for where in ((",turns=all", ""), ("", 'turns = "all"\n')))
    assert in_name.puzzle is in_ticket.puzzle and diagnose(in_ticket.puzzle, in_ticket.appearance).verdict == ORDINARY


def test_three_corners_cycled_are_judged_within_two_seconds():
    box = load("cuboid:2x4x4,turns=all")
    found = answer(box, box.appearance(changed(box, ["cycle UFL UFR UBR"])), Budget(2.0))
    assert found.verdict == ORDINARY


@pytest.mark.parametrize(("moves", "inside"), [("U 2F2 RR2 2F2 U'", True), ("U2 R2 F2", False)])
def test_how_it_came_about_says_what_the_way_of_closing_changed(moves, inside):
    """Turns that open a box and close it otherwise change what half turns keep; half turns alone change nothing of the kind."""
    box = load("cuboid:2x3x4,turns=all")
    came = answer(box, box.appearance(box.follow(moves)), Budget(10.0)).came_about
    assert (came.closed is not None) == inside
    if inside:
        seen = parse_ticket('puzzle = "cuboid:2x3x4"\nchanges = ["swap UFR UBL"]')
        assert diagnose(seen.puzzle, seen.appearance).broken == came.closed.laws


@pytest.mark.parametrize("change", ["swap UL UR", "swap UF UB"])
def test_two_edges_exchanged_are_not_headed_impossible_where_what_is_unseen_mends_them(change):
    box = load("cuboid:3x4x5,turns=all")
    assert diagnose(box, box.appearance(changed(box, [change]))).verdict == ORDINARY
