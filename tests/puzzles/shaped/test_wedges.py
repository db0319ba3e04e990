"""Wedges that lock against walks in plain integers, published counts, SymPy, and what is wrong with names and sequences."""

import random
import re
from collections import Counter
from itertools import permutations, product
from math import factorial
from pathlib import Path

import numpy as np
import pytest
from sympy.combinatorics import Permutation, PermutationGroup

from oddswap import answer, find_way, load, lookalikes, parse_ticket, read_ticket
from oddswap.errors import BadOption, BadTicket, NotationError, UnknownMove, UnknownPuzzle
from oddswap.puzzles.base.shape_tree import around_home
from oddswap.puzzles.base.symmetry import turn_symmetries
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.search.shortest import depth_counts
from oddswap.reasoning.verdicts.diagnosis import diagnose, judged
from oddswap.reasoning.ways.way_out import way_home
from oddswap.showing.ink.scene import painters_order
from oddswap.values.position import Appearance, Arrangement
from tests.puzzles.shaped import plain_wedges as plain

SMALL = {
    "wedges:6": ([1, 2, 1, 2], [1, 2, 1, 2]),
    "wedges:6,middle=halves": ([1, 2, 1, 2], [1, 2, 1, 2]),
    "wedges:6,top=1+1+1+3,bottom=2+2+2": ([1, 1, 1, 3], [2, 2, 2]),
    "wedges:4,middle=halves,top=1+1+2,bottom=1+2+1": ([1, 1, 2], [1, 2, 1]),
}


def packed(puzzle, position, home):
    """A plain position as an arrangement of the package."""
    units, pieces, twists = puzzle.units, list(range(len(puzzle.slots))), [0] * len(puzzle.slots)
    taken = {
        puzzle.slot(plain.slot_name(*there, units)): puzzle.slot(plain.slot_name(*own, units))
        for (_, there), (_, own) in zip(sorted(plain.lying(position).items()), sorted(plain.lying(home).items()), strict=True)
    }
    for kind in puzzle.kinds:
        left = [p for p in kind.places if p not in taken.values()]
        for slot in kind.places:
            pieces[slot] = taken[slot] if slot in taken else left.pop()
    if "middle" in puzzle.slots:
        twists[puzzle.slot("middle")] = int(position[2])
    return Arrangement(puzzle.name, tuple(pieces), tuple(twists))


def without_middle(puzzle, found):
    """Plain positions told apart as the puzzle does: the middle slab only where it has one."""
    if "middle" in puzzle.slots:
        return found
    least = {}
    for (top, bottom, _), steps in found.items():
        least[top, bottom, False] = min(steps, least.get((top, bottom, False), steps))
    return least


def relabelled(position, home, rng):
    """The wedges of each width dealt anew to where wedges of that width lie, and the middle slab either way."""
    widths = {number: width for number, (_, _, width) in plain.lying(home).items()}
    dealt = {}
    for width in set(widths.values()):
        own = [number for number in widths if widths[number] == width]
        dealt |= dict(zip(own, rng.sample(own, len(own)), strict=True))
    return (*(tuple(dealt[number] for number in layer) for layer in position[:2]), rng.random() < 0.5)


@pytest.mark.parametrize("name", SMALL)
def test_shapes_orders_and_distances_are_those_of_a_plain_walk(name):
    puzzle, home = load(name), plain.at_home(*SMALL[name])
    found = without_middle(puzzle, plain.distances(home))
    book = law_book(puzzle)
    assert (book.order, book.complete, book.shapes) == (len(found), True, len({plain.shape(p) for p in found}))
    here = [p for p in found if plain.shape(p) == plain.shape(home)]
    assert book.proof.order == len(here)
    counts = Counter(found.values())
    assert depth_counts(puzzle, 40) == [counts[steps] for steps in range(len(counts))]
    images = [list(loop) for loop in book.image.generators]
    assert PermutationGroup([Permutation(image) for image in images] or [Permutation(puzzle.degree - 1)]).order() == len(here)


@pytest.mark.parametrize("name", SMALL)
def test_every_position_at_home_has_the_verdict_of_a_plain_walk(name):
    puzzle, home = load(name), plain.at_home(*SMALL[name])
    found = without_middle(puzzle, plain.distances(home))
    by_width = {}
    for number, (_, _, width) in sorted(plain.lying(home).items()):
        by_width.setdefault(width, []).append(number)
    for dealt in product(*(permutations(numbers) for numbers in by_width.values())):
        to = {
            own: new
            for numbers, news in zip(by_width.values(), dealt, strict=True)
            for own, new in zip(numbers, news, strict=True)
        }
        for flipped in (False, True)[: 1 + ("middle" in puzzle.slots)]:
            position = (*(tuple(to[number] for number in layer) for layer in home[:2]), flipped)
            verdict = judged(puzzle, puzzle.appearance(packed(puzzle, position, home))).verdict
            assert verdict == ("ordinary" if position in found else "not by turning"), position


@pytest.mark.parametrize("name", SMALL)
def test_positions_in_every_shape_have_the_verdict_and_the_distance_of_a_plain_walk(name, cases):
    puzzle, home, rng = load(name), plain.at_home(*SMALL[name]), random.Random(name)
    found = without_middle(puzzle, plain.distances(home))
    several = sorted(found)
    for _ in cases:
        position = relabelled(rng.choice(several), home, rng)
        position = (*position[:2], position[2] and "middle" in puzzle.slots)
        seen = puzzle.appearance(packed(puzzle, position, home))
        assert diagnose(puzzle, seen).verdict == ("ordinary" if position in found else "not by turning"), position
        if position in found:
            way = find_way(puzzle, seen)
            assert (way.shortest, way.length) == (True, found[position])


def test_turns_do_what_they_do_in_plain_integers(cases):
    rng = random.Random(3)
    for name, widths in SMALL.items():
        puzzle, home = load(name), plain.at_home(*widths)
        for _ in cases:
            word, position = [], home
            for turn in rng.choices(plain.turns(puzzle.units), k=12):
                after = plain.turned(position, turn)
                if after is None:
                    with pytest.raises(UnknownMove, match="is blocked by the wedge at"):
                        puzzle.follow(plain.written([*word, turn]))
                else:
                    position = after
                    word.append(turn)
            found = puzzle.follow(plain.written(word))
            assert puzzle.appearance(found) == puzzle.appearance(packed(puzzle, (*position[:2], position[2]), home))
            assert puzzle.follow(puzzle.undone(plain.written(word)), found) == puzzle.solved


def drawn(rng):
    """A list of wedges for each layer, few enough to be walked in plain integers."""
    while True:
        units = rng.choice((4, 6, 6, 8))
        layers = []
        for _ in range(2):
            widths = []
            while sum(widths) < units:
                widths.append(rng.randint(1, min(units // 2, units - sum(widths))))
            layers.append(widths)
        if sum(map(len, layers)) <= 8:
            return units, layers


def test_wedges_drawn_at_random_have_the_verdicts_of_a_plain_walk(cases):
    rng = random.Random(17)
    for _ in list(cases)[: max(8, len(cases) // 5)]:
        units, (top, bottom) = drawn(rng)
        middle = rng.choice(("", ",middle=halves"))
        puzzle = load(f"wedges:{units},top={'+'.join(map(str, top))},bottom={'+'.join(map(str, bottom))}{middle}")
        home = plain.at_home(top, bottom)
        found = plain.distances(home, 60_000)
        if found is None:
            continue
        found = without_middle(puzzle, found)
        assert law_book(puzzle).order == len(found), puzzle.name
        several = sorted(found)
        for _ in range(12):
            position = relabelled(rng.choice(several), home, rng)
            position = (*position[:2], position[2] and bool(middle))
            verdict = judged(puzzle, puzzle.appearance(packed(puzzle, position, home))).verdict
            assert verdict == ("ordinary" if position in found else "not by turning"), (puzzle.name, position)


@pytest.mark.parametrize("name", ["wedges:12", "wedges:12,middle=halves", "wedges:10,top=2+2+2+2+2,bottom=1+2+3+1+1+2"])
def test_no_hidden_word_is_called_not_by_turning(name, cases):
    puzzle, rng = load(name), random.Random(name)
    for _ in cases:
        state = puzzle.solved
        for _ in range(30):
            names = [turn.name for turn in puzzle.legal(state)]
            state = puzzle.follow("/" if "/" in names and rng.random() < 0.7 else rng.choice(names), state)
        assert diagnose(puzzle, puzzle.appearance(state)).verdict == "ordinary"


def test_twelve_units_have_the_published_counts():
    """From memory: 29 outlines of a layer, 170 of both, and 15! x 48 = 62 768 369 664 000 positions with the middle slab."""
    puzzle = load("wedges:12,middle=halves")
    book = law_book(puzzle)
    assert book.order == factorial(15) * 48 and book.complete and not book.laws
    assert law_book(load("wedges:12")).order == factorial(15) * 24
    outlines = puzzle.outlines
    assert len(outlines) == 170 and len({name.split(" over ")[0] for name in outlines}) == 29


def test_the_shapes_of_twelve_units_and_their_distances_are_those_of_a_plain_walk():
    home = plain.at_home([1, 2] * 4, [1, 2] * 4)
    bits = {(tuple(a == b for a, b in zip(layer, layer[1:] + layer[:1], strict=True))) for layer in home[:2]}
    start = (next(iter(bits)), next(iter(bits)))
    levels, seen = [[start]], {start}
    while levels[-1]:
        following = []
        for top, bottom in levels[-1]:
            after = [(top[n:] + top[:n], bottom) for n in range(1, 12)] + [(top, bottom[n:] + bottom[:n]) for n in range(1, 12)]
            if not (top[5] or top[11] or bottom[5] or bottom[11]):
                flip = [*bottom[:5][::-1], False], [*top[:5][::-1], False]
                after.append((tuple(flip[0]) + top[6:], tuple(flip[1]) + bottom[6:]))
            fresh = [shape for shape in dict.fromkeys(after) if shape not in seen]
            seen.update(fresh)
            following += fresh
        levels.append(following)
    assert around_home(load("wedges:12"), 10**6).levels == tuple(map(len, levels[:-1]))
    assert law_book(load("wedges:12")).shapes == len(seen) == 19_305


def test_a_lone_exchange_is_possible_only_by_way_of_shapes_far_from_home():
    """Loops over the thousand nearest shapes keep both signs equal: a lone swap looks impossible, whatever the middle does."""
    puzzle = load("wedges:12,middle=halves")
    shapes = around_home(puzzle, 10**6)
    signs = {}
    for numbers, turns, rows in shapes.loops():
        for number, turn, row in zip(numbers.tolist(), turns.tolist(), rows, strict=True):
            odd = tuple(Permutation(row[list(kind.labels)] - kind.first).is_odd for kind in puzzle.kinds[:2])
            signs.setdefault(odd[0] != odd[1], []).append((number, turn))
        if True in signs:
            break
    number, turn = min(signs[True])
    assert number > 1000 and len(shapes.round_trip(number, turn)) == 17
    for changes in (["swap U2-3 U5-6"], ["swap U1 U4"], ["swap U2-3 U5-6", "flip middle"], ["flip middle"]):
        found = puzzle.diagnose(changes)
        assert found.verdict == "ordinary"
        parts = way_home(puzzle, found.explanation, Budget(30.0))
        moves = " ".join(name for _, word in parts for name in word)
        assert puzzle.appearance(puzzle.follow(moves, found.explanation)) == puzzle.appearance(puzzle.solved)


def test_the_way_out_of_the_ticket_leads_home_in_plain_colours():
    ticket = read_ticket(Path(__file__).parents[3] / "notebooks/tickets/shaped/28_wedges_two_corners_over.toml")
    reply = answer(ticket.puzzle, ticket.appearance, Budget(60.0))
    assert (reply.verdict, reply.way_out.length, reply.way_out.shortest) == ("ordinary", 19, True)
    home, looks = plain.at_home([1, 2] * 4, [1, 2] * 4), {}
    for layer, units, way in (("top", home[0], 1), ("bottom", home[1], -1)):
        for wedge in set(units):
            sides = "".join(side for side, other in zip("FFRRRFFFLLLF", units, strict=True) if other == wedge)
            looks[wedge] = layer, sides[::way]
    over = {home[0][1]: home[0][4], home[0][4]: home[0][1]}
    position = tuple(over.get(wedge, wedge) for wedge in home[0]), *home[1:]
    for x, y in re.findall(r"\((-?\d+),(-?\d+)\)|/", reply.way_out.moves):
        turn = ("half", 1) if not x else ("top", int(x) % 12) if int(x) else ("bottom", int(y) % 12)
        position = plain.turned(position, turn)
    assert plain.shape(position) == plain.shape(home)
    assert [looks[wedge] for layer in position[:2] for wedge in layer] == [looks[wedge] for layer in home[:2] for wedge in layer]


def test_colours_alike_make_twins():
    puzzle = load("wedges:12,paint=F+B/L+R")
    assert sorted(map(len, lookalikes(puzzle).twins)) == [2] * 8
    found = puzzle.diagnose("swap U1 U7")
    assert found.verdict == "ordinary" and not found.first.displaced()


@pytest.mark.parametrize(
    ("name", "error", "says"),
    [
        ("wedges:7", UnknownPuzzle, "an even number of units"),
        ("wedges:26", UnknownPuzzle, "from 4 to 24"),
        ("wedges:8", BadOption, "do not fill 8"),
        ("wedges:12,top=1+2+1", BadOption, "fills 4 of 12 units"),
        ("wedges:12,bottom=7+5", BadOption, "widths from 1 to 6"),
        ("wedges:12,top=1+x", BadOption, "is no list of wedges"),
        ("wedges:12,middle=whole", BadOption, "write middle=halves"),
        ("wedges:24,top=1+2+3+4+5+6+3,bottom=12+12", BadOption, "has 7 widths"),
    ],
)
def test_names_that_are_refused(name, error, says):
    with pytest.raises(error, match=re.escape(says)):
        load(name)


def test_sequences_that_are_refused():
    puzzle = load("wedges:12")
    with pytest.raises(
        UnknownMove, match=r"turn 4, the half turn, is blocked by the wedge at U6-7, which .* 1212121 2\+1 over 12121212"
    ):
        puzzle.follow("(1,0) / (1,0) /")
    for text, says in (("(12,0)", "turns nothing"), ("R U", "`R` is no turn here"), ("(1 0)", "is no turn here")):
        with pytest.raises(NotationError, match=re.escape(says)):
            puzzle.read(text)
    assert puzzle.read("top 1, half, bottom -2") == puzzle.read("(1, 0) / (0, −2)") == puzzle.read("(13,0)/(0,-14)")


def test_wedges_that_do_not_fill_a_layer_are_refused():
    puzzle = load("wedges:6")
    pieces = list(puzzle.solved.pieces)
    one, other = puzzle.slot("U1"), puzzle.slot("U2")
    pieces[one], pieces[other] = pieces[other], pieces[one]
    with pytest.raises(BadTicket, match="the wedges, as described, do not fill the top layer"):
        diagnose(puzzle, puzzle.appearance(Arrangement(puzzle.name, tuple(pieces), puzzle.solved.twists)))


def test_wedges_are_as_wide_as_they_are_told():
    """A wedge of two units of twelve stands over 60 degrees, one of one unit over 30."""
    puzzle = load("wedges:12")
    for slot, body in enumerate(puzzle.geometry.bodies):
        if body.faces:
            points = np.concatenate([face.vertices for face in body.faces])[:, [0, 2]]
            points = points[np.linalg.norm(points, axis=1) > 1e-6]
            angles = np.sort(np.degrees(np.arctan2(points[:, 0], points[:, 1])) % 360)
            gaps = np.diff(angles, append=angles[0] + 360)
            assert 360 - gaps.max() == pytest.approx(30 * puzzle.widths[slot])


@pytest.mark.parametrize("name", ["wedges:6,middle=halves", "wedges:12,middle=halves", "wedges:10,top=5+5,bottom=1+4+3+2"])
def test_no_piece_is_painted_before_one_that_every_plane_between_them_puts_behind_it(name):
    puzzle, rng = load(name), np.random.default_rng(4)
    geometry = puzzle.geometry
    for _ in range(8):
        state = puzzle.solved
        for _ in range(12):
            legal = [turn.name for turn in puzzle.legal(state)]
            state = puzzle.follow("/" if "/" in legal and rng.random() < 0.7 else rng.choice(legal), state)
        cells = [geometry.bodies[b].cell for b in np.flatnonzero(puzzle.outline(state))] + [body.cell for body in geometry.inner]
        eye = rng.normal(size=3)
        eye *= 9 / np.linalg.norm(eye)
        order = painters_order(cells, np.repeat(eye[None], len(cells), axis=0), geometry.mechanism, ())
        place = {int(cell): i for i, cell in enumerate(order)}
        sides = np.where(geometry.mechanism.normals @ eye > geometry.mechanism.offsets, 1, -1)
        for one, other in product(range(len(cells)), repeat=2):
            between = [side for a, b, side in zip(cells[one], cells[other], sides, strict=True) if a * b < 0]
            ahead = [a == side for a, b, side in zip(cells[one], cells[other], sides, strict=True) if a * b < 0]
            if between and all(ahead):
                assert place[one] > place[other]


@pytest.mark.parametrize("name", ["wedges:6", "wedges:6,top=1+1+1+3,bottom=2+2+2", "wedges:12"])
def test_symmetries_take_wedges_to_wedges(name):
    puzzle = load(name)
    wedges = set(range(len(puzzle.slots))) - puzzle.void
    for move in turn_symmetries(puzzle):
        assert {move[slot] for slot in wedges} == wedges


def test_a_half_told_position_has_the_shape_that_fills_both_layers():
    puzzle = load("wedges:6")
    told = {slot: slot for slot in ("U1", "U2-3", "U4", "U5-6", "D4", "D2-3", "D5-6")}
    slots = "\n".join(f'"{slot}" = "{piece}"' for slot, piece in told.items())
    for change, verdict in (("", "ordinary"), ('"U1" = "U4"\n"U4" = "U1"', "not by turning")):
        lines = [line for line in slots.split("\n") if line[:4] not in {other[:4] for other in change.split("\n")}]
        text = 'puzzle = "wedges:6"\nelsewhere = "turned"\n[slots]\n' + "\n".join([*lines, *change.split("\n")])
        sights = parse_ticket(text, "told").appearance.sights
        assert not puzzle.unsure(Appearance(puzzle.name, puzzle.narrowed(sights)))
        found = puzzle.diagnose(Appearance(puzzle.name, sights))
        assert found.verdict == verdict
