"""What the explainer's own copy is like: its colours, its turns, and how it is held."""

import pytest

from oddswap.describing.ticket import OwnCopy, read_held
from oddswap.describing.tickets import parse_ticket, write_ticket
from oddswap.errors import BadTicket, ContradictoryTicket, OddswapError
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.ticket_answers import answer_to, first_answer_to
from oddswap.values.position import START

TOLD = 'puzzle = "{}"\nafter = "R U"\n'
COLOURS = "[mine.colours]\nU = 'pink'\nF = 'lime'\nL = 'gold'\n"


@pytest.mark.parametrize(
    "held, turned",
    [
        ("pink up, lime in front", ""),
        ("gold on top and lime towards me", "z"),
        ("U up, Gold in front", "y'"),
        ("D up, B in front", "x2"),
    ],
)
@pytest.mark.parametrize("name", ["cube:3", "cube:2", "cuboid:3x3x2"])
def test_how_it_is_held_is_read_by_the_colours_on_top_and_in_front(name, held, turned):
    ticket = parse_ticket(f"{TOLD.format(name).replace('R U', 'R2 U2')}[mine]\nturns = 'half'\nheld = '{held}'\n{COLOURS}")
    holding = START.turned(turned[0], {"'": -1, "2": 2}.get(turned[1:], 1)) if turned else START
    assert ticket.mine == OwnCopy({"U": "pink", "F": "lime", "L": "gold"}, "half", held, holding)
    assert parse_ticket(write_ticket(ticket), ticket.name) == ticket


def test_where_two_facets_meet_in_the_middle_both_are_named():
    """A cube turned by 45 degrees shows an edge of its own in the middle of each side of the cuts."""
    askew = load("shape-mod:cube,axis=U,degrees=45")
    shown = {face: sorted(askew.geometry.paints_of(askew.geometry.bodies[askew.slot(face)])) for face in "FRBL"}
    assert all(len(paints) == 2 for paints in shown.values())
    for face, paints in shown.items():
        assert read_held(askew, {}, f"U up, {' and '.join(paints)} in front").own("F") == face


@pytest.mark.parametrize(
    "line, words",
    [
        ("held = 'pink up'", "held: `pink up` says no way to hold cube:3"),
        ("held = 'U up, D in front'", "is no way to hold cube:3"),
        ("held = 'blue up, F in front'", "`blue` is no colour of this copy"),
        ("turns = 'halb'", "turns: `halb` is no turn of cube of 3 layers: write half"),
        ("turns = []", "turns: the list is empty"),
        ("colour = {U = 'red'}", "`colour` is no key of it: write colours"),
        ("colours = {Q = 'red'}", "colours `Q`: cube:3 has no such facet"),
    ],
)
def test_what_is_no_copy_of_the_puzzle_is_one_sentence(line, words):
    with pytest.raises(OddswapError, match=r"^\[mine\] ") as raised:
        parse_ticket(f"{TOLD.format('cube:3')}[mine]\n{line}")
    assert words in str(raised.value)


def test_what_lies_flat_is_not_held():
    with pytest.raises(BadTicket, match="leave it out"):
        parse_ticket("puzzle = 'tiles:3x3'\nafter = ''\n[mine]\nheld = 'A up, B in front'")


def test_turns_that_the_command_line_allows_are_no_wider_than_the_copy_s():
    ticket = parse_ticket('puzzle = "cube:3"\ncopy = "half"\nafter = "R2 U2"')
    assert first_answer_to(ticket, Budget(5), "R2+U2").verdict == "ordinary"
    with pytest.raises(ContradictoryTicket, match="this copy does not make U"):
        first_answer_to(ticket, Budget(5), "all")


def test_a_position_that_the_visitor_s_copy_cannot_reach_is_set_up_on_one_that_can():
    """Told by slots, so that the visitor's half turns make no claim: two quarter turns are a hand's work there."""
    slots = "\n".join(
        f'{slot} = "{piece}"' for slot, piece in zip("UF UR UB UL".split(), "UR UB UL UF".split(), strict=True)
    ) + "".join(f'\n{a} = "{b}"' for a, b in zip("UFR UBR UBL UFL".split(), "UBR UBL UFL UFR".split(), strict=True))
    found = answer_to(parse_ticket(f'puzzle = "cube:3"\ncopy = "half"\n[mine]\nturns = ["U"]\n[slots]\n{slots}'), Budget(10))
    assert found.verdict == "other turns" and found.way_out is None and found.set_up is None
    assert found.own.set_up == "U"


OUTSIDE = ['turns = ["R2", "U"]\n[mine]\nturns = "half"', '[mine]\nturns = ["R", "U2"]', 'turns = ["U2"]\ncopy = ["R", "U2"]']


@pytest.mark.parametrize("turns", OUTSIDE)
def test_what_leaves_the_outline_stands_beside_turns_that_do_so_too(turns):
    with pytest.raises(OddswapError, match="let both do so, or neither"):
        parse_ticket(f'puzzle = "cuboid:2x2x4"\nafter = "U2"\n{turns}')
    with pytest.raises(OddswapError, match="let both do so, or neither"):
        first_answer_to(parse_ticket('puzzle = "cuboid:2x2x4"\nafter = "U2"'), turns="all")
