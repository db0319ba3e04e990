"""Pieces that are joined, against walks in plain integers: shapes, what comes home, each distance and verdict."""

from math import factorial
from random import Random

import pytest

from oddswap.describing.tickets import parse_ticket
from oddswap.errors import BadOption, BadTicket, UnknownMove, UnknownSlot
from oddswap.puzzles.base.shape_tree import around_home
from oddswap.puzzles.base.symmetry import turn_symmetries
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.answers import answer
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.checking.check import check
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.search.shortest import depth_counts, find_way
from oddswap.reasoning.verdicts.diagnosis import NOT_BY_TURNING, ORDINARY, judged
from oddswap.reasoning.verdicts.findings import CANNOT_TELL
from oddswap.values.position import Appearance
from oddswap.words.table import say
from tests.reasoning.joined_walks import JoinedWalk

CUBE, BOX = (2, 2, 2), (2, 2, 3)
DEEP = [
    JoinedWalk((2, 2, 4), (("UFL", "UL.f2", "DL.f2", "DFL"), ("UFR", "UR.f2", "DR.f2", "DFR"))),
    JoinedWalk((2, 2, 4), (("UL.f2", "UL.b2"), ("DFR", "DR.f2"), ("UFR", "UR.f2"), ("DFL", "DL.f2"))),
    JoinedWalk((1, 4, 4), (("UFLR", "FLR.u2", "LR.u2f2"), ("DFLR", "DLR.f2"))),
]
PLAIN = [
    *DEEP[:2],
    JoinedWalk(CUBE, (("UFL", "UFR"),)),
    JoinedWalk(CUBE, (("UFL", "UFR"), ("DFL", "DBL"))),
    JoinedWalk(CUBE, (("UFL", "UFR", "UBR"),)),
    JoinedWalk(BOX, (("UFL", "UL"), ("DFR", "DR"))),
    JoinedWalk(BOX, (("UFL", "UFR"), ("DBL", "DBR"))),
    JoinedWalk(BOX, (("UFL", "UL", "UBL"),)),
]
"""Without twins, so that a position is what it looks like."""


@pytest.mark.one_in(2)
@pytest.mark.parametrize("walk", [*PLAIN, DEEP[2]], ids=lambda walk: walk.name)
def test_shapes_distances_and_what_comes_home_are_those_of_a_walk_in_plain_integers(walk):
    puzzle = load(walk.name)
    assert list(around_home(puzzle, 10**6).levels) == walk.shapes
    states = [state for level in walk.levels for state in level]
    assert depth_counts(puzzle, 99) == list(map(len, walk.levels))
    book = law_book(puzzle)
    inside = {i for joint in walk.joints for i in joint}
    home = [state for state in states if all(state[i] == walk.solved[i] for i in inside)]
    assert book.complete and book.proof.order == len(home)


@pytest.mark.parametrize("walk", PLAIN, ids=lambda walk: walk.name)
def test_verdicts_and_distances_are_those_of_the_walk(walk, cases):
    reached = {state: far for far, level in enumerate(walk.levels) for state in level}
    rng, puzzle, verdicts = Random(walk.name), load(walk.name), set()
    for number in cases:
        state = walk.assembled(rng) if number % 20 else walk.word(rng, 20)[1]
        seen = parse_ticket(walk.ticket(state)).appearance
        far = reached.get(walk.held(state))
        verdict = judged(puzzle, seen).verdict
        verdicts.add(verdict)
        assert verdict == (NOT_BY_TURNING if far is None else ORDINARY)
        if far is not None:
            assert find_way(puzzle, seen, budget=Budget(20.0)).length == far
    assert ORDINARY in verdicts


def test_two_corners_that_stay_joined_leave_the_projective_line_over_five():
    """Where two corners of a 2×2×2 are joined two faces turn, and six corners are moved as by PGL(2, 5), of order 120:
    Singmaster 1981, from memory, and the walk above counts the same.
    """
    book = law_book(load("cube:2,joined=UFL-UFR"))
    assert book.proof.order == 120 * 3**5


def test_a_corner_and_a_wing_that_stay_joined_leave_all_others_but_for_the_sum_of_twists_and_one_parity():
    """Counted by hand: an outer quarter turn makes a cycle of four corners and one of four centres, so both are odd together."""
    order = law_book(load("cube:4,joined=UFR-FR.u2")).proof.order
    assert order == factorial(7) * 3**6 * factorial(23) * factorial(24) // 2


def test_random_blocks_agree_with_a_search_in_plain_integers(cases):
    """What hidden words reach is ordinary, and a way back is no longer; turns that a block forbids are refused with its name."""
    rng = Random(2026)
    for _ in cases:
        walk = _drawn(rng, [(2, 2, 2), (3, 3, 3), (2, 2, 3), (3, 3, 2), (1, 2, 3), (3, 2, 3)])
        try:
            puzzle = load(walk.name)
        except BadOption:
            assert all(walk.cuts(walk.solved, turn) for turn in walk.turns)
            continue
        names, state = walk.word(rng, rng.randint(1, 12))
        seen = parse_ticket(walk.ticket(state)).appearance
        assert puzzle.appearance(puzzle.follow(" ".join(names))).sights == seen.sights
        assert judged(puzzle, seen).verdict == ORDINARY
        _turns_are_those_of(walk, puzzle, names, state)


def _turns_are_those_of(walk, puzzle, names, state):
    """What the walk can turn now can be turned, and all else is refused with the block."""
    for turn in walk.turns:
        cut, name = walk.cuts(state, turn), walk.name_of(turn)
        if cut:
            with pytest.raises(UnknownMove, match=f"turn {len(names) + 1}, {name}, is blocked by the block of"):
                puzzle.follow(" ".join([*names, name]))
        else:
            puzzle.follow(" ".join([*names, name]))


def test_blocks_across_layers_that_turn_together_agree_with_plain_integers(cases):
    """Four layers and more: what hidden words of such turns reach looks as the walk has it, and is never *not by turning*."""
    rng = Random(417)
    for number in cases:
        walk = _drawn(rng, [(4, 4, 4), (2, 2, 4), (2, 4, 3), (5, 5, 5), (2, 2, 5), (3, 4, 3)])
        if all(walk.cuts(walk.solved, turn) for turn in walk.turns):
            continue
        puzzle, (names, state) = load(walk.name), walk.word(rng, rng.randint(1, 12))
        assert set(map(walk.name_of, walk.turns)) == set(puzzle.turns)
        seen = parse_ticket(walk.ticket(state)).appearance
        assert puzzle.appearance(puzzle.follow(" ".join(names))).sights == seen.sights
        _turns_are_those_of(walk, puzzle, names, state)
        if number % 5 == 0:
            assert judged(puzzle, seen).verdict != NOT_BY_TURNING


@pytest.mark.parametrize("walk", DEEP, ids=lambda walk: walk.name)
def test_whatever_layers_a_hand_turns_together_leads_no_further(walk):
    """Any neighbouring layers turned at once, which may come to two of our turns, reach the same positions and no other."""
    assert {state for level in walk.reached(walk.ranges) for state in level} == {
        state for level in walk.levels for state in level
    }


@pytest.mark.parametrize("moves", ["3Rw", "3Rw' B", "y 3Bw2 U", "3Uw 3Uw' D", "3Lw' x2 R"])
def test_more_than_half_of_the_layers_turn_as_the_rest_does_and_the_holding_changes(moves):
    """Without blocks each of the three layers turns alone. A block that lies across two of them leaves the fourth one free."""
    free, cube = load("cube:4"), load("cube:4,joined=UF.l2-UF.r2")
    assert cube.follow(moves).pieces == free.follow(moves).pieces
    counted = [turn for turn in cube.settled(moves)[0] if not turn.whole]
    assert len(counted) == sum(word[0] not in "xyz" for word in moves.split())


def _drawn(rng: Random, every: list[tuple[int, ...]]) -> JoinedWalk:
    """One or two blocks of two or three pieces that touch."""
    sides = rng.choice(every)
    bare = JoinedWalk(sides, ())
    left, blocks = list(bare.cells), []
    for _ in range(rng.choice((1, 1, 2))):
        block = [rng.choice(left)]
        for _ in range(rng.choice((1, 1, 2))):
            near = [c for c in left if c not in block and any(_apart(c, one) == 2 for one in block)]
            block += [rng.choice(near)] if near else []
        if len(block) > 1 and any(len(bare.slot(cell).partition(".")[0]) > 1 for cell in block):
            blocks.append(tuple(map(bare.slot, block)))
            left = [cell for cell in left if cell not in block]
    return JoinedWalk(sides, tuple(blocks)) if blocks else _drawn(rng, every)


def _apart(one, other) -> int:
    return sum(abs(a - b) for a, b in zip(one, other, strict=True))


@pytest.mark.parametrize(
    ("name", "error", "reason"),
    [
        ("cube:3,joined=UF", BadOption, "UF alone is no block: join it to another slot, as in UF-UFR"),
        ("cube:3,joined=UF-DB", BadOption, "DB does not touch UF by a face"),
        ("cube:3,joined=UF-UFR/UFR-UR", BadOption, "joined names UFR twice"),
        ("cube:3,joined=XX-UF", UnknownSlot, "no slot called `XX`"),
        (
            "cube:2,joined=UFL-UFR-UBR-UBL-DFL-DFR-DBR",
            BadOption,
            "every turn of cube of 2 layers at home cuts the block of UFL, UFR",
        ),
        ("cuboid:2x3x4,turns=all,joined=UFL-UFR", BadOption, "may leave its outline, which joined pieces do not allow"),
        ("shape-mod:prism8,joined=FL-L", BadOption, "how a block of FL and L lies does not show"),
        ("tiles:3x3,joined=r1c1-r1c2", BadOption, "no option `joined`"),
    ],
)
def test_what_is_no_block_is_refused_in_one_sentence(name, error, reason):
    with pytest.raises(error, match=reason) as raised:
        load(name)
    assert "\n" not in str(raised.value)


def test_a_blocked_turn_is_refused_with_its_number_block_and_shape():
    cube = load("cube:3,joined=UF-UFR/DB-DBL")
    with pytest.raises(UnknownMove, match="turn 3, F2, is blocked by the block of UF and UFR, which then lies at UL and UFL"):
        cube.follow("U' U2 F2 B")
    assert cube.follow("F2 D'", cube.follow("F")) == cube.follow("F F2 D'")


def test_a_block_that_is_torn_is_no_ticket_and_one_that_is_not_seen_is_asked_for():
    with pytest.raises(BadTicket, match="the block of UF and UFR cannot lie as described"):
        ticket = parse_ticket('puzzle = "cube:3,joined=UF-UFR"\nchanges = ["flip UF"]\n')
        judged(ticket.puzzle, ticket.appearance)
    cube = load("cube:3,joined=UF-UFR")
    state = cube.follow("U L B")
    shown, edge = cube.appearance(state), state.pieces.index(cube.slot("UF"))
    hidden = {b for b, slot in enumerate(cube.slots) if set(slot) & set("UF")}
    every = [frozenset(cube.looks[list(kind.labels)].tolist()) for kind in cube.kind_of]
    sights = tuple(every[b] if b in hidden else sight for b, sight in enumerate(shown.sights))
    assert judged(cube, Appearance(cube.name, sights)).verdict == CANNOT_TELL
    one = tuple(every[b] if b == edge else sight for b, sight in enumerate(shown.sights))
    assert judged(cube, Appearance(cube.name, one)).verdict == ORDINARY


def test_a_joined_centre_is_told_turned_by_where_its_block_lies():
    """Colours do not show how a centre is turned; the edge that is joined to it does."""
    walk = JoinedWalk((3, 3, 3), (("F", "UF"),))
    for number in range(8):
        names, state = walk.word(Random(number), 8)
        ticket = parse_ticket(walk.ticket(state))
        centre = ticket.puzzle.slot("F")
        assert ticket.appearance.sights[centre] == ticket.puzzle.appearance(ticket.puzzle.follow(" ".join(names))).sights[centre]


def test_a_checked_sequence_starts_from_the_shape_that_is_seen():
    cube = load("cube:3,joined=UF-UFR")
    seen = cube.appearance(cube.follow("F U L"))
    assert check(cube, seen, "L' U' F'").solves
    with pytest.raises(UnknownMove, match="turn 2, D, is blocked"):
        check(cube, seen, "B D")


def test_an_answer_advises_to_go_back_and_never_to_push():
    cube = load("cube:3,joined=UF-UFR")
    found = answer(cube, cube.appearance(cube.follow("F U' L")), Budget(10.0))
    assert found.way_out.length == 3 and found.way_out.shortest and found.set_up
    said = " ".join(map(say, found.diagnosis.findings))
    assert "do not push" in said and "go back a turn" in said
    assert "the block of UF and UFR moves as one" in " ".join(map(say, found.diagnosis.assumed))


def test_symmetries_take_joined_pieces_to_joined_pieces():
    """One block of an edge and a corner leaves the mirror that exchanges U and F; with one behind it, that of front and back."""
    assert len(turn_symmetries(load("cube:3,joined=UF-UFR"))) == 2
    assert len(turn_symmetries(load("cube:3,joined=UF-UFR/UB-UBR"))) == 2
