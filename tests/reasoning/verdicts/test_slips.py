"""Slips planted in a true description, by positions in space, are found; and every slip that is told would do."""

from functools import reduce

import numpy as np
import pytest

from oddswap.describing.changes import changed
from oddswap.describing.stickers import seen_stickers, stickers
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.verdicts import slips
from oddswap.reasoning.verdicts.diagnosis import is_ordinary
from oddswap.reasoning.verdicts.slips import likely_slips
from oddswap.values.position import Appearance
from tests.common.clocks import PLENTY
from tests.common.vectors import VECTORS, position, quarter, solved, turned

L, R, U, D, F, B = (VECTORS[face] for face in "LRUDFB")


def truth(n, seed):
    """What a cube shows after an even number of quarter turns, by position and direction."""
    rng = np.random.default_rng(seed)
    state = solved(n)
    for face in rng.choice(list("UDFBLR"), size=24):
        state = turned(state, str(face))
    return state


def described(puzzle, state):
    """The appearance that a description by colours gives; stickers that the puzzle has not are left out."""
    table = stickers(puzzle)
    return seen_stickers(puzzle, tuple(frozenset({state[position(puzzle.slots[b]), VECTORS[face]]}) for b, face in table.places))


def read_at(state, faces, elsewhere):
    """The stickers on these faces as read from other places: ``elsewhere`` maps a (position, direction) to another."""
    wanted = [VECTORS[face] for face in faces]
    return {place: state[elsewhere(*place)] if place[1] in wanted else colour for place, colour in state.items()}


def mirrored(state):
    return read_at(state, "UDFBLR", lambda p, d: ((-p[0], *p[1:]), (-d[0], *d[1:])))


def left_for_right(state):
    """With U at the top the left column of L is at the back, that of R at the front."""
    return read_at(state, "LR", lambda p, d: ((-p[0], p[1], -p[2]), (-d[0], 0, 0)))


def front_for_back(state):
    return read_at(state, "FB", lambda p, d: ((-p[0], p[1], -p[2]), (0, 0, -d[2])))


def top_for_bottom(state):
    """The top row of U is at the back, that of D at the front."""
    return read_at(state, "UD", lambda p, d: ((p[0], -p[1], -p[2]), (0, -d[1], 0)))


def face_turned(face, amount):
    matrix = np.linalg.matrix_power(quarter(face), amount)
    return lambda state: read_at(state, face, lambda p, d: (tuple((matrix @ p).tolist()), d))


def right_to_left(face):
    axis = 2 if face in "LR" else 0
    return lambda state: read_at(state, face, lambda p, d: (tuple(-x if i == axis else x for i, x in enumerate(p)), d))


def bottom_up(face):
    axis = 2 if face in "UD" else 1
    return lambda state: read_at(state, face, lambda p, d: (tuple(-x if i == axis else x for i, x in enumerate(p)), d))


def each_face(slip):
    return lambda state: reduce(lambda told, face: slip(face)(told), "UDFBLR", state)


def top_for_front(state):
    """Row by row: the back edge of U is read where the upper edge of F belongs."""
    return state | {
        place: state[other]
        for (p, d), other in (((p, d), ((p[0], -p[2], p[1]), F)) for p, d in state if d == U)
        for place, other in (((p, d), other), (other, (p, d)))
    }


def colours_renamed(**names):
    return lambda state: {place: names.get(colour, colour) for place, colour in state.items()}


def one_misread(state):
    """A sticker of an edge is taken for the colour opposite to that of its neighbour, which no edge has beside it."""
    (place, beside) = (((0, 1, 1), U), ((0, 1, 1), F)) if ((0, 1, 1), U) in state else (((1, 1, 1), U), ((1, 1, 1), F))
    return state | {place: {"U": "D", "D": "U", "F": "B", "B": "F", "L": "R", "R": "L"}[state[beside]]}


def two_confused(state):
    """A colour of one edge and one of another are told for each other, so that two edges seem to have changed places."""
    edges = [p for p in {p for p, _ in state} if p.count(0) == 1]
    sides = {p: [d for q, d in state if q == p] for p in edges}
    for p in sorted(edges):
        for q in sorted(edges):
            shared = [(d, e) for d in sides[p] for e in sides[q] if state[p, d] == state[q, e]]
            if p < q and len(shared) == 1:
                (one,), (other,) = ([s for s in sides[x] if s != shared[0][i]] for i, x in enumerate((p, q)))
                if {state[p, one], state[q, other]} not in ({"U", "D"}, {"F", "B"}, {"L", "R"}):
                    return state | {(p, one): state[q, other], (q, other): state[p, one]}
    raise AssertionError("no two edges share a colour")


SLIPS = [
    ("mirrored photograph", mirrored),
    ("faces exchanged", left_for_right),
    ("faces exchanged", front_for_back),
    ("faces exchanged", top_for_bottom),
    *(("face turned", face_turned(face, amount)) for face in "UDFBLR" for amount in (1, 2, 3)),
    *(("face mirrored", right_to_left(face)) for face in "UFR"),
    *(("face mirrored", bottom_up(face)) for face in "DBL"),
    ("each face mirrored", each_face(right_to_left)),
    ("each face mirrored", each_face(bottom_up)),
    ("faces exchanged", top_for_front),
    ("another colour scheme", colours_renamed(U="D", D="U")),
    ("another colour scheme", colours_renamed(U="F", F="R", R="U")),
    ("sticker misread", one_misread),
    ("two colours confused", two_confused),
]


CASES = [(name, *slip) for name in ("cube:3", "cube:3,centres=none", "cube:2") for slip in SLIPS]


@pytest.mark.parametrize("name, sort, slip", [c for c in CASES if c[0] == "cube:3" or c[2] is not two_confused])
def test_a_planted_slip_is_found(name, sort, slip):
    """Beside cube:3, two edges that change places are no alarm, and there are no edges."""
    puzzle, n = load(name), 2 if name == "cube:2" else 3
    for seed in range(8):
        true = truth(n, seed)
        right, wrong = described(puzzle, true), described(puzzle, slip(true))
        assert is_ordinary(puzzle, right)
        if not is_ordinary(puzzle, wrong):
            break
    slips = likely_slips(puzzle, wrong, is_ordinary, PLENTY, most=200)
    assert [s.words for s in slips if s.sort == sort and s.appearance == right]
    assert all(is_ordinary(puzzle, s.appearance) and s.appearance.sights != wrong.sights for s in slips)
    assert len({s.words for s in slips}) == len(slips)


def test_a_face_that_was_read_turned_is_told_with_its_way_round():
    """Where each sticker was read at the place that a clockwise turn takes it to, the face was read turned clockwise."""
    puzzle, true = load("cube:3"), truth(3, 0)
    for amount, way in ((-1, "a quarter turn clockwise"), (2, "a half turn"), (1, "a quarter turn anticlockwise")):
        slips = likely_slips(puzzle, described(puzzle, face_turned("R", amount % 4)(true)), is_ordinary, PLENTY)
        assert f"the face R was read turned by {way}" in [s.words for s in slips if s.appearance == described(puzzle, true)]


@pytest.mark.parametrize(
    "changes, wrong, words",
    [
        (["twist UFR cw", "twist DBL ccw"], ["twist UFR cw", "twist DBL cw"], "DBL"),
        (["cycle UFL UFR UBR", "twist UFR cw", "twist DBL ccw"], ["cycle UFL UFR UBR", "twist UFR ccw", "twist DBL ccw"], "UFR"),
    ],
)
def test_a_twist_told_the_wrong_way_is_found(changes, wrong, words):
    puzzle = load("shape-mod:prism8")
    right, told = (puzzle.appearance(changed(puzzle, c)) for c in (changes, wrong))
    assert is_ordinary(puzzle, right) and not is_ordinary(puzzle, told)
    slips = likely_slips(puzzle, told, is_ordinary, PLENTY)
    assert {s.sort for s in slips} == {"twist told the wrong way"} and right in [s.appearance for s in slips]
    assert any(words in s.words for s in slips if s.appearance == right)


def test_of_a_description_without_colours_flips_and_swaps_are_not_called_slips():
    puzzle = load("cube:3")
    for change in ("flip UF", "swap UF UR", "twist UFR cw"):
        assert likely_slips(puzzle, puzzle.appearance(changed(puzzle, [change])), is_ordinary, PLENTY) == ()


def test_the_likeliest_sorts_come_first_and_no_more_than_asked():
    """By hand: first the photographs, then faces, schemes, single stickers, pairs; a permissive judge takes them all."""
    puzzle = load("cube:3")
    appearance = described(puzzle, truth(3, 0))
    slips = likely_slips(puzzle, appearance, lambda *_: True, PLENTY, most=400)
    sorts = list(dict.fromkeys(s.sort for s in slips if s.sort != "face mirrored"))
    assert sorts == [
        "mirrored photograph",
        "each face mirrored",
        "faces exchanged",
        "face turned",
        "sticker misread",
        "two colours confused",
    ]
    assert [s.mistake.faces for s in slips if s.sort == "faces exchanged"][:3] == [("U", "D"), ("F", "B"), ("L", "R")]
    assert likely_slips(puzzle, appearance, lambda *_: True, PLENTY, most=5) == slips[:5]
    assert likely_slips(puzzle, appearance, lambda *_: False, PLENTY) == ()


def test_what_was_not_seen_is_left_alone():
    """A sticker that nobody saw cannot have been misread."""
    puzzle = load("cube:3")
    colours = list(described(puzzle, truth(3, 1)).stickers)
    colours[:10] = [frozenset()] * 10
    told = seen_stickers(puzzle, tuple(colours))
    for slip in likely_slips(puzzle, told, lambda *_: True, PLENTY, most=1000):
        if slip.sort in ("sticker misread", "two colours confused"):
            assert slip.appearance.stickers[:10] == tuple(colours[:10])


def test_slips_that_change_nothing_are_not_told():
    puzzle = load("cube:3")
    solved_looks = described(puzzle, solved(3))
    assert isinstance(solved_looks, Appearance) and solved_looks.complete
    turns = likely_slips(puzzle, solved_looks, lambda *_: True, PLENTY, most=1000)
    assert not [s for s in turns if s.sort in ("face turned", "face mirrored")]


@pytest.mark.parametrize(
    ("name", "misread", "confused", "schemes"),
    [("cube:3", 54 * 5, 3 * (16 + 16 + 1) + 12 * (14 + 15 + 1), 0), ("cube:2", 24 * 5, 3 * 16 + 12 * 14, 15 + 40)],
)
def test_as_many_slips_are_thought_of_as_there_are(name, misread, confused, schemes):
    """Counted by hand: each sticker in five other colours; a sticker of one face for one of another on a piece of the same sort.

    Of two faces that meet, two corners and an edge show both. Centres tell the colours; without them two or three may be others.
    """
    puzzle = load(name)
    table = stickers(puzzle)
    colours = tuple(frozenset((face,)) for _, face in table.places)
    assert len(list(slips._one_sticker(puzzle, table, colours))) == misread
    assert len(list(slips._two_colours(puzzle, table, colours))) == confused
    found = [mistake.faces for mistake, _ in slips._schemes(puzzle, table, colours)]
    assert len(found) == schemes and {len(faces) for faces in found} <= {2, 3}


def tipped(state, face):
    """All of it turned by a quarter clockwise as one looks at a face."""
    matrix = quarter(face)
    return {tuple(tuple((matrix @ v).tolist()) for v in place): colour for place, colour in state.items()}


@pytest.mark.parametrize(("face", "held"), [("U", "y"), ("R", "x"), ("F", "z")])
def test_without_the_mirror_it_is_seen_how_the_cube_was_held(face, held):
    """A whole turn goes as that of its face (Regulations of the World Cube Association, article 12a4)."""
    puzzle, true = load("cube:3"), truth(3, 2)
    tip = tipped(true, face)
    wrong = described(puzzle, mirrored(tip))
    slip = next(s for s in likely_slips(puzzle, wrong, is_ordinary, PLENTY) if s.sort == "mirrored photograph")
    assert (slip.held, slip.appearance) == (held, described(puzzle, true))
    assert slip.middles == {side: tip[VECTORS[side], VECTORS[side]] for side in "UDFBLR"}


def test_where_no_centre_was_misread_nothing_is_said_of_the_holding():
    """However the centres are: as they are named, or as on a cube that is held upside down."""
    puzzle = load("cube:3")
    for told in (truth(3, 4), tipped(tipped(truth(3, 4), "R"), "R")):
        slips_told = likely_slips(puzzle, described(puzzle, told), lambda *_: True, PLENTY, most=80)
        turned_only = [s for s in slips_told if s.sort in ("face turned", "face mirrored")]
        assert len(turned_only) > 20 and {s.held for s in turned_only} == {""}
        for slip in turned_only:
            pairs = zip(stickers(puzzle).places, slip.appearance.stickers, described(puzzle, told).stickers, strict=True)
            assert {face for (_, face), now, was in pairs if now != was} == {slip.mistake.face}
            assert dict(slip.middles) == {side: side for side in "UDFBLR"}
