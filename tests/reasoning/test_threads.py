"""Where somebody is on the way: each place, each single mistake, and what then leads home, replayed on the puzzle itself."""

import random

import pytest

from oddswap.describing.tickets import parse_ticket
from oddswap.reasoning.ticket_answers import AT_ONCE, OffTheWay, OnTheWay, SeveralPlaces, answer_to

WAY = "F' U2 R' D L'"


def thread(then: str, after: str = "L D' R U2 F"):
    return answer_to(parse_ticket(f'puzzle = "cube:3"\nafter = "{after}"\n[[then]]\nsent = "{WAY}"\n{then}'))


@pytest.mark.parametrize("done", range(6))
def test_each_place_on_the_way_is_found(done):
    begun = " ".join(WAY.split()[:done])
    found = thread(f'after = "L D\' R U2 F {begun}"')
    where = found.diagnosis.one(OnTheWay)
    assert (where.done, where.of, where.mistakes) == (done, 5, ())
    assert where.to_come == tuple(WAY.split()[done:])
    assert found.easiest is None if done == 5 else found.easiest.turns == " ".join(where.to_come)


def test_every_way_to_make_a_turn_wrong_is_mended(cases):
    """All turns in place of all turns; what is to come is replayed, in place of what was sent."""
    turns, way = [f"{face}{by}" for face in "UDFBLR" for by in ("", "2", "'")], WAY.split()
    tried = [(at, other) for at in range(len(way)) for other in turns if other != way[at]]
    for at, other in random.Random(5).sample(tried, len(tried) if len(cases) > 100 else 12):
        made = [*way[:at], other, *way[at + 1 :][:1]]
        found = thread(f'did = "{" ".join(made)}"')
        cube, where = found.puzzle, found.diagnosis.one(OnTheWay)
        end = cube.follow(" ".join([*"L D' R U2 F".split(), *made, *where.to_come]))
        assert cube.appearance(end) == cube.appearance(cube.solved), (at, other)
        if where.mistakes:
            assert where.mistakes[0].at == at or other[0] in "".join(way[max(0, at - 1) : at + 2]), (at, other, where)


def test_half_a_picture_that_fits_several_places_asks_for_more():
    found = thread('slots.UFR = "?"\nelsewhere = "turned"')
    where = found.diagnosis.one(SeveralPlaces)
    assert where.places > 1 and where.look_at


def test_what_is_no_place_on_the_way_is_answered_afresh():
    found = thread("after = \"B D2 L' U B2 R F2 U'\"")
    assert found.diagnosis.has(OffTheWay) and found.way_out.moves


def test_so_many_turns_are_sent_at_once():
    """Three, as a person keeps in mind: common practice at the table."""
    assert AT_ONCE == 3
