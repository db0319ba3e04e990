"""Laws of rings, of programmes and of bases: by trying every assembly, against GAP and SymPy, and against published groups."""

from collections import Counter
from itertools import permutations, product
from math import factorial, gcd

import numpy as np
import pytest
from sympy.combinatorics import Permutation, PermutationGroup

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.groups.stabiliser_chain import StabiliserChain
from oddswap.reasoning.laws.image import LawImage
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.law_kinds import TeamLaw
from oddswap.reasoning.laws.lookalikes import hand_generators
from oddswap.reasoning.laws.rigid import BaseLaw, ProgrammeLaw, RingLaw, TogetherLaw, all_programmes, places_of, read_off, seated
from oddswap.reasoning.laws.sectors import sectors
from oddswap.reasoning.verdicts.diagnosis import diagnose
from oddswap.values.grammar import listed
from tests.common import gap
from tests.reasoning.handmade import handmade


def on_line(prime, *maps):
    """Maps x -> (a x + b) / (c x + d) of the numbers modulo a prime and infinity, which stands last, as permutations."""

    def image(a, b, c, d, x):
        up, low = (a, c) if x == prime else ((a * x + b) % prime, (c * x + d) % prime)
        return prime if low % prime == 0 else up * pow(low, -1, prime) % prime

    return [[image(*each, x) for x in range(prime + 1)] for each in maps]


def regular(*moves):
    """The group that permutations generate, acting on itself."""
    group = {tuple(range(len(moves[0])))}
    while (more := group | {tuple(move[i] for i in one) for one in group for move in moves}) != group:
        group = more
    order = sorted(group)
    return [[order.index(tuple(move[i] for i in one)) for one in order] for move in moves]


def cycle(count, *, over=False):
    return [np.roll(range(count), -1).tolist(), *([list(range(count))[::-1]] if over else [])]


def affine(prime, *factors):
    return [[(x + 1) % prime for x in range(prime)], *([f * x % prime for x in range(prime)] for f in factors)]


PGL25, PSL25 = on_line(5, (1, 1, 0, 1), (2, 0, 0, 1), (0, 1, 1, 0)), on_line(5, (1, 1, 0, 1), (4, 0, 0, 1), (0, -1, 1, 0))
QUATERNIONS = [[1, 2, 3, 0, 5, 6, 7, 4], [4, 7, 6, 5, 2, 1, 0, 3]]
GROUPS = {
    "circle of 5": (cycle(5), 5, RingLaw),
    "circle of 6": (cycle(6), 6, RingLaw),
    "circle of 9": (cycle(9), 9, RingLaw),
    "pentagon": (cycle(5, over=True), 10, RingLaw),
    "hexagon": (cycle(6, over=True), 12, RingLaw),
    "heptagon": (cycle(7, over=True), 14, RingLaw),
    "octagon": (cycle(8, over=True), 16, RingLaw),
    "nonagon": (cycle(9, over=True), 18, RingLaw),
    "PGL(2, 5)": (PGL25, 120, ProgrammeLaw),
    "PSL(2, 5)": (PSL25, 60, ProgrammeLaw),
    "AGL(1, 5)": (affine(5, 2), 20, BaseLaw),
    "AGL(1, 7)": (affine(7, 3), 42, BaseLaw),
    "7 : 3": (affine(7, 2), 21, BaseLaw),
    "PSL(2, 7) on lines": ([[1, 2, 3, 4, 5, 6, 0], [0, 1, 4, 6, 2, 5, 3]], 168, BaseLaw),
    "PSL(2, 7)": (on_line(7, (1, 1, 0, 1), (2, 0, 0, 1), (0, -1, 1, 0)), 168, BaseLaw),
    "PGL(2, 7)": (on_line(7, (1, 1, 0, 1), (3, 0, 0, 1), (0, -1, 1, 0)), 336, BaseLaw),
    "S3 by itself": (regular([1, 2, 0], [1, 0, 2]), 6, None),
    "quaternions": (QUATERNIONS, 8, None),
    "A4 by itself": (regular([1, 2, 0, 3], [1, 0, 3, 2]), 12, None),
    "PSL(2, 11)": (on_line(11, (1, 1, 0, 1), (4, 0, 0, 1), (0, -1, 1, 0)), 660, BaseLaw),
}
"""Transitive groups by name, with their orders as every book on groups has them, and the law that is due to each."""


def puzzle_of(moves, seed=None, twist=1):
    """One kind that is moved so; with a seed its slots are named at random, and with twists pieces are twisted at random."""
    count, rng = len(moves[0]), np.random.default_rng(seed)
    name = np.arange(count) if seed is None else rng.permutation(count)
    rows = [name[np.array(move)[np.argsort(name)]] for move in moves]
    turned = rng.integers(twist, size=(len(rows), count))
    made = [(twist * row[:, None] + (np.arange(twist) + t[:, None]) % twist).ravel() for row, t in zip(rows, turned, strict=True)]
    return handmade([(count, twist)], made)


@pytest.mark.parametrize("name", GROUPS)
def test_every_cause_has_its_law_and_the_walls_meet(name):
    moves, order, kind = GROUPS[name]
    other = PermutationGroup([Permutation(move) for move in moves])
    for seed in (None, 1, 2):
        book = law_book(puzzle_of(moves, seed))
        assert book.complete and book.order == other.order() == (order or other.order()) and book.unexplained == 1
        if kind:
            assert [type(law) for law in book.laws if law.type == "other"] == [kind]


@pytest.mark.parametrize("name", [name for name, (moves, *_) in GROUPS.items() if len(moves[0]) < 8])
def test_of_all_assemblies_those_that_keep_the_laws_are_the_group_and_no_turn_changes_what_laws_say(name):
    puzzle = puzzle_of(GROUPS[name][0], seed=3)
    book, count = law_book(puzzle), puzzle.degree
    group = PermutationGroup([Permutation(g.tolist()) for g in puzzle.generators])
    reached = {tuple(p.array_form) for p in group.elements}
    for way in permutations(range(count)):
        image = np.array(way)
        values = [law.value(image) for law in book.laws]
        assert (not any(values)) == (way in reached) == book.reaches_permutation(image)
        assert all([law.value(g[image]) for law in book.laws] == values for g in puzzle.generators)


def test_the_value_of_a_programme_tells_the_six_classes_apart_that_sifting_does():
    for moves in (PGL25, PSL25):
        puzzle = puzzle_of(moves, seed=5)
        book = law_book(puzzle)
        ways = np.array(list(permutations(range(6))))
        told = [tuple(law.value(way) for law in book.laws) for way in ways]
        assert len(set(zip(told, book.names_of(ways), strict=True))) == len(set(told)) == book.index


def test_the_six_programmes_are_moved_as_the_outer_automorphism_does():
    """An exchange of two players moves the programmes as three exchanges, a cycle of three as two, one of six as 1 + 2 + 3 (the
    outer automorphism of S_6: O. Hölder, Math. Ann. 46 (1895) 321-422; from memory), and no exchange keeps one."""
    plans = all_programmes()
    assert len(plans) == 6
    for way, cycles in [
        ([1, 0, 2, 3, 4, 5], [2, 2, 2]),
        ([1, 2, 0, 3, 4, 5], [3, 3]),
        ([1, 2, 3, 4, 5, 0], [3, 2, 1]),
        ([1, 2, 3, 0, 4, 5], [4, 1, 1]),
        ([1, 2, 3, 4, 0, 5], [5, 1]),
    ]:
        found = Permutation([plans.index(seated(plan, way)) for plan in plans]).full_cyclic_form
        assert sorted(map(len, found), reverse=True) == cycles


@gap.needs_gap
def test_the_stabiliser_of_a_programme_is_that_of_the_projective_line_by_gap():
    keeping = [way for way in permutations(range(6)) if seated(all_programmes()[0], way) == all_programmes()[0]]
    program = f'g := {gap.group(keeping)}; Print(Size(g), IsConjugate(SymmetricGroup(6), g, PGL(2,5)), Transitivity(g), "\\n");'
    assert gap.gap(program) == ["120true3"]


@gap.needs_gap
@pytest.mark.parametrize(
    "degree, order, choices", [(11, 7920, "11 × 10 × 9 × 8"), (12, 95040, "12 × 11 × 10 × 9 × 8"), (24, 244823040, "")]
)
def test_mathieu_groups_are_told_by_a_base(degree, order, choices):
    """Orders and sharp transitivity: J. H. Conway et al., ATLAS of Finite Groups (1985); generators are GAP's."""
    lines = gap.gap(f'for g in GeneratorsOfGroup(MathieuGroup({degree})) do Print(ListPerm(g, {degree}) - 1, "\\n"); od;')
    book = law_book(puzzle_of([eval(line) for line in lines], seed=1))  # GAP prints lists as Python does
    (law,) = [law for law in book.laws if isinstance(law, BaseLaw)]
    assert book.complete and book.order == order and isinstance(law, BaseLaw) and choices in law.statement
    assert np.prod([size for *_, size in law.base]) == order


def test_rings_are_told_in_their_order_and_by_one_or_two_places():
    for name, so in [("graph:2+2", "place of one decides"), ("loop:7,window=6", "places of two neighbours decide")]:
        puzzle = load(name)
        *_, law = law_book(puzzle).laws
        ring = [law.sector.names[row] for row in law.ring]
        assert listed(ring) in law.statement and so in law.statement
        beside = {frozenset(pair) for pair in zip(ring, [*ring[1:], ring[0]], strict=True)}
        for g in puzzle.generators:
            goes = dict(zip(law.sector.names, (law.sector.names[row] for row, _ in places_of(law.sector, g)), strict=True))
            assert {frozenset(goes[name] for name in pair) for pair in beside} == beside


@pytest.mark.parametrize("count, twist, over", [*product((5, 6, 7, 9), (1, 2, 3), (False, True))])
def test_rings_with_twists_and_by_hand(count, twist, over):
    """What a ring leaves of the twists is told by sums, or by a base; SymPy counts."""
    puzzle = puzzle_of(cycle(count, over=over), seed=count, twist=twist)
    book = law_book(puzzle)
    assert book.complete and book.order == PermutationGroup([Permutation(g.tolist()) for g in puzzle.generators]).order()
    assert [law.turned_over for law in book.laws if isinstance(law, RingLaw)] == [over]


def joined(*parts, twists=None, rng=None):
    """Moves of several kinds at once, as many of each kind; of pieces with twists, some are twisted at random or all alike."""
    twists = twists or [1] * len(parts)
    shapes, made = [(len(moves[0]), twist) for moves, twist in zip(parts, twists, strict=True)], []
    for row in zip(*parts, strict=True):
        images, start = [], 0
        for move, (count, twist) in zip(row, shapes, strict=True):
            turned = 0 if rng is None else rng.integers(twist, size=(count, 1) if rng.random() < 0.5 else 1)
            images.append(start + twist * np.array(move)[:, None] + (np.arange(twist) + turned) % twist)
            start += count * twist
        made.append(np.concatenate([image.ravel() for image in images]))
    return handmade(shapes, made)


@pytest.mark.parametrize("count, twist", [*product((2, 3, 4, 5, 6, 7), (2, 3, 4, 5))])
def test_pieces_that_turn_only_all_together(count, twist):
    """S_n × C_m, the slots' ways round counted from any: of m ** n n! assemblies m n! are left, by sums where these say so."""
    rng = np.random.default_rng(count * twist)
    offsets = rng.integers(twist, size=count)
    moves = []
    for _ in range(6):
        row = rng.permutation(count)
        turned = (rng.integers(twist) + offsets[row] - offsets) % twist
        moves.append((twist * row[:, None] + (np.arange(twist) + turned[:, None]) % twist).ravel())
    puzzle = handmade([(count, twist)], [move for move in moves if (move != np.arange(count * twist)).any()])
    book = law_book(puzzle)
    assert book.complete and book.order == PermutationGroup([Permutation(g.tolist()) for g in puzzle.generators]).order()
    together = [law for law in book.laws if isinstance(law, TogetherLaw)]
    if len(book.sectors) == 1 and book.sectors[0].twist == twist and book.order == twist * factorial(count):
        assert len(together) == (twist ** (count - 1) > gcd(count, twist))
    for law in together:
        for _ in range(20):
            one = puzzle.permutation(puzzle.solved)
            piece = int(rng.integers(count))
            one[piece * twist : (piece + 1) * twist] = piece * twist + (np.arange(twist) + 1) % twist
            assert law.value(one) and law in book.broken_at(one) and not law.value(moves[0])


def test_two_rings_that_go_together_are_pairs_and_the_pairs_a_ring():
    book = law_book(joined(cycle(7), cycle(7)))
    assert {type(law) for law in book.laws if not law.additive} == {TeamLaw, RingLaw} and book.complete and book.order == 7


def test_six_pieces_and_six_others_moved_by_the_outer_automorphism_are_tied_by_a_base():
    """Freely by themselves, both signs alike, and then 360 to one: no two pieces go together, and still one kind decides all."""
    plans = all_programmes()
    moves = [[1, 0, 2, 3, 4, 5], [1, 2, 3, 4, 5, 0]]
    book = law_book(joined(moves, [[plans.index(seated(plan, way)) for plan in plans] for way in moves]))
    assert (book.order, book.complete) == (720, True)
    assert Counter((type(law).__name__, getattr(law, "factor", 2)) for law in book.laws) == {
        ("CharacterLaw", 2): 1,
        ("BaseLaw", 360): 1,
    }
    (law,) = [law for law in book.laws if isinstance(law, BaseLaw)]
    assert len({id(sector) for sector, *_ in law.base}) >= 1 and np.prod([size for *_, size in law.base]) == 720


def test_a_base_speaks_only_of_what_is_tied():
    """A six that keeps a programme goes its own way; two rings of three and a five are tied to nothing else."""
    third = [[1, 2, 0], [0, 1, 2], [0, 1, 2]]
    free = [[0, 1, 2, 3, 4], [1, 2, 3, 4, 0], [1, 0, 2, 3, 4]]
    book = law_book(joined([PGL25[0], PGL25[1], PGL25[2]], third, free, [list(range(4)), [1, 2, 3, 0], [0, 1, 2, 3]]))
    assert book.complete
    for law in book.laws:
        if isinstance(law, BaseLaw):
            assert all(len(sector.slots) < 5 for sector in law.image.parts)
    assert sum(isinstance(law, ProgrammeLaw) for law in book.laws) == 1


def test_with_a_wrong_order_everything_is_kept_whole_and_allows_what_is_reached():
    """So a chain that chance left too small would be found out."""
    for name in ("rings:4+4", "cube:2,turns=R+U", "cube:3,turns=R+U2"):
        puzzle = load(name)
        image = LawImage(sectors(puzzle, puzzle.generators), tuple(puzzle.generators))
        assert read_off(image, 1).allowed == law_book(puzzle).proof.order < image.allowed


NAMES = ["cube:2,turns=R+U", "cube:3,turns=R+U", "cube:3,turns=R", "cube:4,turns=R+U", "cube:4,turns=R2+2U", "cube:5,turns=F'+R2"]
NAMES += [
    "cuboid:1x6x6",
    "cuboid:4x4x5,turns=B+R2",
    "graph:2+1+2",
    "graph:2+4",
    "rings:4+4",
    "loop:12,window=12",
    "loop:9,window=8",
]


@pytest.mark.parametrize("name", NAMES)
def test_no_turn_changes_what_a_law_of_this_sort_says_and_they_tell_what_sifting_tells(name):
    """From random assemblies over the turns' own orbits, and from such as differ little from what is reached."""
    puzzle, rng = load(name), np.random.default_rng(4)
    book = law_book(puzzle)
    chain = StabiliserChain.from_generators(puzzle.generators, puzzle.degree, seed=7).verify()
    assert book.complete and book.unexplained == 1 and chain.order == book.proof.order
    own = [law for law in book.laws if isinstance(law, TogetherLaw | RingLaw | ProgrammeLaw | BaseLaw)]
    hands, told = hand_generators(puzzle, book.sectors), set()
    for round in range(60):
        image = np.arange(puzzle.degree)
        for _ in range(30):
            image = puzzle.generators[rng.integers(len(puzzle.generators))][image]
        for _ in range(round % 4 if round < 50 else 40):
            image = hands[rng.integers(len(hands))][image]
        told.add(chain.contains(image))
        assert (not book.broken_at(image)) == chain.contains(image)
        if not any(isinstance(law, TeamLaw) and law.value(image) for law in book.laws):
            assert all(law.value(g[image]) == law.value(image) for law in own for g in puzzle.generators)
    assert own and told == {True, False}


STRUCTURED = [moves for moves, *_ in GROUPS.values()]


@pytest.mark.parametrize("seed", range(60))
def test_of_any_small_puzzle_of_odd_parts_the_laws_say_all(seed):
    """One to three kinds, each moved by members of a group of its own, together, and twisted: SymPy decides what is reached."""
    rng = np.random.default_rng(seed)
    parts = []
    for _ in range(rng.integers(1, 4)):
        group = PermutationGroup([Permutation(move) for move in STRUCTURED[rng.integers(len(STRUCTURED))]])
        elements = [p.array_form for p in group.generators]
        mixed = elements * 3
        for _ in range(8):
            i, j = rng.integers(len(mixed), size=2)
            mixed[i] = [mixed[j][x] for x in mixed[i]]
        parts.append(mixed)
    moves = [pair for pair in zip(*(mixed for mixed in parts), strict=False) if any(move != sorted(move) for move in pair)]
    puzzle = joined(*zip(*moves[:2], strict=True), twists=rng.choice([1, 1, 2, 3], size=len(parts)).tolist(), rng=rng)
    book, other = law_book(puzzle), PermutationGroup([Permutation(g.tolist()) for g in puzzle.generators])
    assert book.complete and book.unexplained == 1 and book.order == other.order() == book.allowed
    assert all(law.statement.endswith(".") and law.name for law in book.laws)
    hands = hand_generators(puzzle, book.sectors)
    for round in range(20):
        way = np.array(other.random().array_form)
        assert not book.broken_at(way)
        for _ in range(round % 4 if round < 15 else 20):
            way = hands[rng.integers(len(hands))][way]
        kept = other.contains(Permutation(way.tolist()))
        assert book.reaches_permutation(way) == (not book.broken_at(way)) == kept
        assert all((not book.broken_at(g[way])) == kept for g in puzzle.generators)


@pytest.mark.parametrize("name", ["rings:4+4,beads=2+1+1+1+1", "loop:6,window=6,beads=3+1+1+1", "loop:6,window=5,beads=2+2+1+1"])
def test_what_no_turning_leads_to_breaks_a_law_that_is_named(name):
    """Every way to lay the beads; where all its first-sight explanations break the one law, it is that law."""
    puzzle = load(name)
    (law,) = law_book(puzzle).laws
    verdicts = Counter()
    for way in permutations(range(6)):
        found = diagnose(puzzle, puzzle.appearance(puzzle.arrangement(np.array(way))))
        verdicts[found.verdict] += 1
        if found.verdict == "not by turning":
            assert found.broken == (law,)
    assert verdicts["not by turning"] and verdicts["ordinary"]
