"""Laws against published orders, SymPy, GAP, whole enumerations, and all elements of small abelian groups."""

from dataclasses import replace
from itertools import permutations, product
from types import MappingProxyType

import numpy as np
import pytest
from sympy.combinatorics import Permutation, PermutationGroup

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.groups.stabiliser_chain import StabiliserChain
from oddswap.reasoning.laws import law_book as laws_of_a_puzzle
from oddswap.reasoning.laws.characters import laws_of
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.lookalikes import lookalikes
from oddswap.reasoning.laws.sectors import measure, measures, sectors
from oddswap.values.position import Arrangement
from tests.common import gap
from tests.common.published import cases
from tests.reasoning.abelian import everything, span

ORDERS = cases("cube_orders", "puzzle", "order", "appearances", "index", "seen_index")
NAMES = [row[0] for row in ORDERS] + ["shape-mod:prism8", "shape-mod:cube,paint=L+R", "shape-mod:cube,axis=URF,degrees=60"]


def copy_of(name, turns):
    """The copy of a puzzle that makes only these turns."""
    puzzle = load(name)
    return replace(puzzle, name=f"{name} with {turns}", turns=MappingProxyType({t: puzzle.turns[t] for t in turns.split()}))


def random_product(generators, rng, count=40):
    image = np.arange(len(generators[0]))
    for i in rng.integers(len(generators), size=count):
        image = generators[i][image]
    return image


def random_assembly(puzzle, rng):
    """Every piece put in at random by hand."""
    pieces = [int(p) for kind in puzzle.kinds for p in rng.permutation(list(kind.places))]
    return Arrangement(puzzle.name, tuple(pieces), tuple(int(rng.integers(kind.twist)) for kind in puzzle.kind_of))


@pytest.mark.parametrize("name, order, appearances, index, seen_index", ORDERS)
def test_published_orders(name, order, appearances, index, seen_index):
    book = law_book(load(name))
    assert (str(book.order), str(book.appearances), book.index, book.seen_index) == (order, appearances, index, seen_index)
    assert book.index_wide == index and book.complete and book.unexplained == 1 and book.allowed == book.order


def test_the_worked_example_of_the_cube():
    """The action on corners has 88179840 elements, that on edges 980995276800; their product is twice the group's order.

    GAP web pages, worked example (M. Schönert, 1993), read.
    """
    puzzle = load("cube:3")
    corners, edges = puzzle.kinds[:2]
    cut = edges.first
    images = [g[:cut] for g in puzzle.generators], [g[cut : cut + 24] - cut for g in puzzle.generators]
    orders = [StabiliserChain.from_generators(image, 24).order for image in images]
    assert orders == [88179840, 980995276800]
    assert orders[0] * orders[1] == 2 * law_book(puzzle).appearances


def parity(pieces):
    return 0 if Permutation([p - min(pieces) for p in pieces]).is_even else 1


@pytest.mark.parametrize("name, turning", [("cube:3", True), ("cube:3,centres=marked", True), ("cube:2", False)])
def test_what_the_laws_say_is_what_the_books_say(name, turning):
    """sgn(corners) = sgn(edges), twists ≡ 0 (mod 3), flips ≡ 0 (mod 2) (Bandelow 1982; Joyner 2008, Theorem 11.2.1), and
    with centres their quarter turns ≡ sgn(corners) (mod 2) (from the order in OEIS A080661); cube of two: twists alone."""
    puzzle = load(name)
    book, rng = law_book(puzzle), np.random.default_rng(3)
    for _ in range(400):
        state = random_assembly(puzzle, rng)
        by = {"corners": ([], []), "edges": ([], []), "centres": ([], [])}
        for kind, piece, twist in zip(puzzle.kind_of, state.pieces, state.twists, strict=True):
            by[kind.family][0].append(piece)
            by[kind.family][1].append(twist)
        broken = sum(by["corners"][1]) % 3 != 0
        if turning:
            odd = parity(by["corners"][0])
            broken |= odd != parity(by["edges"][0]) or sum(by["edges"][1]) % 2 != 0 or sum(by["centres"][1]) % 2 != odd
        assert bool(book.broken(state)) == bool(broken) == (not book.reaches(state))
        assert [law for law in book.laws if law.value(puzzle.permutation(state))] == list(book.broken(state))


def test_the_cube_of_two_has_no_sign_law():
    """One quarter turn is odd on corners, and there is nothing else to be odd together with it."""
    puzzle = load("cube:2")
    assert [law.type for law in law_book(puzzle).laws] == ["twist"]
    assert parity(puzzle.follow("R").pieces) == 1 and law_book(puzzle).reaches(puzzle.follow("R"))


def by_hand(puzzle, **turned):
    twists = dict.fromkeys(puzzle.slots, 0) | turned
    return replace(puzzle.solved, twists=tuple(twists[slot] for slot in puzzle.slots))


def test_turned_centres():
    """One centre by 90° alone is impossible, by 180° possible, +90° with -90° possible (OEIS A080661, read, computed)."""
    for name in ("cube:3", "cube:3,centres=marked"):
        puzzle = load(name)
        reaches = law_book(puzzle).reaches
        for a, b in permutations("UDFBLR", 2):
            assert not reaches(by_hand(puzzle, **{a: 1})) and not reaches(by_hand(puzzle, **{a: 3}))
            assert reaches(by_hand(puzzle, **{a: 2})) and reaches(by_hand(puzzle, **{a: 1, b: 3}))
            assert not reaches(by_hand(puzzle, **{a: 1, b: 2}))


def test_without_visible_centres_a_lone_swap_is_reachable():
    """Idea: Bergvall 2010; computed. With them it never is."""
    for name, reachable in (("cube:3", False), ("cube:3,centres=none", True)):
        puzzle = load(name)
        pieces = list(range(len(puzzle.slots)))
        pieces[8], pieces[9] = 9, 8
        assert law_book(puzzle).reaches(replace(puzzle.solved, pieces=tuple(pieces))) == reachable


@pytest.mark.parametrize("name", NAMES)
def test_order_and_membership_agree_with_sympy(name):
    puzzle = load(name)
    book, rng = law_book(puzzle), np.random.default_rng(4)
    other = PermutationGroup([Permutation(g.tolist()) for g in puzzle.generators])
    assert other.order() == book.order
    states = [puzzle.arrangement(random_product(puzzle.generators, rng)) for _ in range(3)]
    states += [random_assembly(puzzle, rng) for _ in range(6)]
    for law in book.laws:  # and such as break few laws
        states.append(next(s for s in iter(lambda: random_assembly(puzzle, rng), None) if law not in book.broken(s)))
    for state in states:
        assert book.reaches(state) == other.contains(Permutation(puzzle.permutation(state).tolist()))


@gap.needs_gap
def test_order_and_membership_agree_with_gap():
    rng = np.random.default_rng(5)
    lines, expected = [], []
    for name in ("cube:2", "cube:3", "cube:3,centres=none", "shape-mod:prism8"):
        puzzle, book = load(name), law_book(load(name))
        lines.append(f'g := {gap.group(puzzle.generators)};; Print(Size(g), "\\n");')
        expected.append(str(book.order))
        states = [random_product(puzzle.generators, rng) for _ in range(5)]
        states += [puzzle.permutation(random_assembly(puzzle, rng)) for _ in range(60)]
        lines.append(f'Print(List({gap.permutations(states)}, p -> p in g), "\\n");')
        answers = ", ".join("true" if book.reaches(puzzle.arrangement(p)) else "false" for p in states)
        assert "true" in answers and "false" in answers
        expected.append(f"[ {answers} ]")
    assert gap.gap("\n".join(lines)) == expected


SUBSETS = ["R", "R U", "R2 U", "R2 U2", "U D R2 L2 F2 B2", "U D", "R U F", "R2 L2 U2 D2 F2 B2", "R L' U2", "U2 D R F2"]


@pytest.mark.parametrize("turns", SUBSETS)
def test_laws_of_any_turns_are_all_characters_that_vanish_on_them_and_each_is_needed(turns):
    """Against every element of the product of signs and twist sums that the generators' values span."""
    puzzle, rng = copy_of("cube:3", turns), np.random.default_rng(6)
    parts = sectors(puzzle, puzzle.generators)
    every = measures(parts)
    moduli = [c.modulus for c in every]
    reached = span([measure(every, g) for g in puzzle.generators], moduli)
    laws = laws_of(parts, list(puzzle.generators), [])
    for _ in range(20):
        image = random_product(puzzle.generators, rng)
        assert not any(law.value(image) for law in laws)
    whole = everything(moduli)
    assert count_kept(laws, every, whole) == len(reached)
    for left_out in laws:
        assert count_kept([law for law in laws if law is not left_out], every, whole) > len(reached)
    assert all(0 < w < law.modulus for law in laws for w in law.weights)


def count_kept(laws, every, elements):
    """How many rows of coordinate values satisfy all of the laws."""
    kept = np.ones(len(elements), dtype=bool)
    for law in laws:
        weights = np.zeros(len(every), dtype=int)
        for part, weight in zip(law.parts, law.weights, strict=True):
            weights[every.index(part)] = weight
        kept &= elements @ weights % law.modulus == 0
    return kept.sum()


@pytest.mark.parametrize("name", [*NAMES, "shape-mod:prism8,paint=FR+FL+BR+BL", "shape-mod:cube,shift=0/0/0"])
def test_a_law_is_seen_when_no_exchange_of_lookalikes_changes_it(name):
    puzzle = load(name)
    book, hidden = law_book(puzzle), lookalikes(puzzle).generators()
    for law in book.laws:
        assert law.seen == (not any(law.value(k) for k in hidden))
    every = measures(book.sectors)
    moduli = [c.modulus for c in every]
    both = span([measure(every, g) for g in (*puzzle.generators, *hidden)], moduli)
    assert np.prod(moduli) == len(both) * book.seen_index
    assert count_kept([law for law in book.laws if law.seen], every, everything(moduli)) == len(both)


@pytest.mark.parametrize(
    "name, seen",
    [
        ("cube:3,centres=none,turns=R+U", True),
        ("cube:3,centres=marked,turns=R+U", True),
        ("cube:3,turns=R+U", False),
        ("shape-mod:prism8,paint=FR+FL+BR+BL,turns=U", False),
    ],
)
def test_that_pieces_stay_in_their_orbits_is_seen_where_no_lookalikes_leave_theirs(name, seen):
    """A centre that no turn of this copy turns can be turned by a hand, and twins that stay apart exchanged: nobody sees it."""
    puzzle = load(name)
    (law,) = (law for law in law_book(puzzle).laws if law.type == "orbit")
    values = {law.value(k) for k in lookalikes(puzzle).generators()}
    assert values <= {0, 1} and law.seen == seen == (1 not in values)


def test_when_all_looks_alike_there_is_one_appearance():
    book = law_book(load("shape-mod:cube,shift=0/0/0"))
    assert (book.appearances, book.seen_index) == (1, 1) and not any(law.seen for law in book.laws)


def test_the_index_of_a_copy_counts_over_its_own_orbits_and_over_the_widest():
    """R alone: a ring of four corners, one of four edges, a centre; 4 arrangements of 4! · 4! · 4 over its own orbits."""
    book = law_book(copy_of("cube:3,centres=marked", "R"))
    assert (book.order, book.assembly_order, book.index) == (4, 24 * 24 * 4, 24 * 6 * 4)
    assert book.index_wide == law_book(load("cube:3")).assembly_order // 4


@pytest.mark.parametrize("turns", ["R U", "R2 L2 U2 D2 F2 B2", "R2 U2", "U D R2 L2 F2 B2"])
def test_the_certificate_holds_where_sums_do_not_explain_all(turns):
    puzzle = copy_of("cube:3", turns)
    book = law_book(puzzle)
    other = PermutationGroup([Permutation(g.tolist()) for g in puzzle.generators])
    assert book.order == other.order() == book.allowed and book.complete and book.unexplained == 1
    rng = np.random.default_rng(9)
    for _ in range(10):
        assert book.reaches(puzzle.arrangement(random_product(puzzle.generators, rng)))
    for _ in range(40):
        state = puzzle.arrangement(wander(book, rng))
        reached = other.contains(Permutation(puzzle.permutation(state).tolist()))
        assert book.reaches(state) == reached and not (reached and any(law.value(puzzle.permutation(state)) for law in book.laws))


def wander(book, rng):
    """A random assembly over the turns' own orbits: what is true of one label of a slot is true of all."""
    puzzle = book.puzzle
    image = np.empty(puzzle.degree, dtype=int)
    for sector in book.sectors:
        twist, bases = sector.kind.twist, puzzle.base_label[list(sector.slots)]
        for base, labels, j in zip(bases, sector.labels, rng.permutation(len(bases)), strict=True):
            turned = rng.choice(sector.labels[j]) - bases[j] - (labels[0] - base)
            image[base : base + twist] = bases[j] + (np.arange(twist) + turned) % twist
    return image


def test_two_turns_reach_one_in_six_of_the_ways_to_place_the_corners():
    """R and U move their six corners as PGL(2, 5), which has 120 of 720 elements (Joyner 2008; memory; SymPy agrees)."""
    puzzle = copy_of("cube:3", "R U")
    (corners,) = (s for s in sectors(puzzle, puzzle.generators) if s.twist == 3)
    index = {slot: i for i, slot in enumerate(corners.slots)}
    moved = [[index[int(g[label] // 3)] for label in corners.labels[:, 0]] for g in puzzle.generators]
    assert PermutationGroup([Permutation(images) for images in moved]).order() == 120
    book = law_book(puzzle)
    (law,) = [law for law in book.laws if law.name == "programme of corners like UFL"]
    assert book.complete and law.factor == 6


def test_half_turns_reach_as_much_as_published():
    """663552 arrangements of corners and edges by half turns (OEIS A080627, read, computed)."""
    puzzle = load("cube:3")
    halves = [turn.permutation[:48] for name, turn in puzzle.turns.items() if name.endswith("2")]
    assert StabiliserChain.from_generators(halves, 48).order == 663552


def test_every_arrangement_of_the_cube_of_two_is_reached_that_keeps_the_twist_law():
    """All 7! · 3^7 ways to put seven corners beside a fixed one, walked by R, U and F: three classes of 3674160 each.

    3674160: OEIS A075152, read, computed. The classes are those of the sum of twists.
    """
    puzzle = load("cube:2")
    fixed = puzzle.slot("DBL")
    slots = [b for b in range(8) if b != fixed]
    orders = list(permutations(range(7)))
    number = {order: i for i, order in enumerate(orders)}
    twists = everything([3] * 7)
    weights = 3 ** np.arange(6, -1, -1)
    steps = []
    for name in "RUF":
        turn = puzzle.turns[name].permutation
        goes = [(slots.index(int(turn[3 * b]) // 3), int(turn[3 * b]) % 3) for b in slots]
        source = np.argsort([target for target, _ in goes])
        gained = np.array([goes[b][1] for b in source])
        by_order = np.array([number[tuple(order[b] for b in source)] for order in orders])
        by_twist = (twists[:, source] + gained) % 3 @ weights
        steps.append((by_order, by_twist))
    sums = twists.sum(axis=1) % 3
    reached = np.full((len(orders), len(twists)), -1, dtype=np.int8)
    for twist_sum in range(3):
        edge = np.array([0]), np.array([twist_sum])
        assert sums[twist_sum] == twist_sum and reached[edge] == -1
        reached[edge] = twist_sum
        while len(edge[0]):
            found = []
            for by_order, by_twist in steps:
                order, twist = by_order[edge[0]], by_twist[edge[1]]
                new = reached[order, twist] < 0
                found.append((order[new], twist[new]))
                reached[found[-1]] = twist_sum
            edge = tuple(map(np.concatenate, zip(*found, strict=True)))
        assert (reached == twist_sum).sum() == 3674160
    assert (reached == sums).all()


def test_once_the_last_layers_edges_are_placed_none_one_or_all_of_its_corners_are():
    """Common practice, by all 4! · 3^4 ways to put the last layer's corners in when everything else is in place."""
    puzzle = load("cube:3")
    last = [b for b, slot in enumerate(puzzle.slots) if len(slot) == 3 and "U" in slot]
    placings, images = [], []
    for order, twists in product(permutations(last), product(range(3), repeat=4)):
        pieces, turned = list(puzzle.solved.pieces), list(puzzle.solved.twists)
        for b, piece, twist in zip(last, order, twists, strict=True):
            pieces[b], turned[b] = piece, twist
        placings.append(sum(p == b for b, p in zip(last, order, strict=True)))
        images.append(puzzle.permutation(replace(puzzle.solved, pieces=tuple(pieces), twists=tuple(turned))))
    reached = law_book(puzzle).chain.contains_many(images)
    assert set(np.array(placings)[reached]) == {0, 1, 4} and set(placings) == {0, 1, 2, 4}
    assert reached.sum() == 12 * 27
    assert [law_book(puzzle).reaches(puzzle.arrangement(image)) for image in images[::7]] == reached[::7].tolist()


def test_a_book_is_made_once():
    assert law_book(load("cube:3")) is law_book(load("cube:3"))


def test_where_shapes_are_too_many_arrangements_are_counted_at_home(monkeypatch):
    """A box of 1 by 2 by 4 in each of its outlines; and if nobody went through these, in the one at home."""
    book = law_book(load("cuboid:1x2x4,turns=all"))
    assert (book.order, book.places) == (book.places * book.proof.order, 2 * book.shapes)
    monkeypatch.setattr(laws_of_a_puzzle, "count_of_shapes", lambda puzzle: None)
    unknown = replace(book)
    assert (unknown.shapes, unknown.places, unknown.order) == (None, 1, book.proof.order)
