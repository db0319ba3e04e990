"""Pairing laws against whole enumerations of what turns do to pairs, and against positions that no character tells apart."""

import re
from itertools import combinations, permutations

import numpy as np
import pytest

from oddswap.describing.changes import changed
from oddswap.puzzles.catalogue import load, with_turns
from oddswap.reasoning.laws.characters import Pairing, count_characters, pairing_laws, rotation_of, unsaid
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.sectors import measures
from oddswap.words.laws import law_latex
from tests.common.walking import all_states
from tests.reasoning.enumerated import assemblies, joined
from tests.reasoning.laws.assembled import any_action, element, plain, sectors_of

PAIRS = [({0, 1}, {2, 3}), ({0, 2}, {1, 3}), ({0, 3}, {1, 2})]


def moved(order):
    """Where each of the three ways to pair four things goes, when thing i goes to ``order[i]``; for three, where each goes."""
    if len(order) == 3:
        return list(order)
    return [PAIRS.index(next(q for q in PAIRS if {order[i] for i in p[0]} in q)) for p in PAIRS]


@pytest.mark.parametrize("shape", [(4, 1), (3, 1), (4, 3), (3, 2)])
def test_what_is_done_to_pairs_is_x_to_sx_plus_t(shape):
    """Against sets of pairs, for every rearrangement."""
    (sector,) = parts = sectors_of(shape)
    rng = np.random.default_rng(1)
    for order in permutations(range(shape[0])):
        twisted = element(parts, (order, rng.integers(shape[1], size=shape[0])))
        s, t = rotation_of(sector, twisted)
        assert s in (1, -1) and t in (0, 1, 2)
        assert [(s * x + t) % 3 for x in range(3)] == moved(order)
        rounds = {(0, 1, 2): 0, (1, 2, 0): 1, (2, 0, 1): 2}
        assert Pairing(sector, "pairing", 4).value(twisted) == rounds.get(tuple(moved(order)), 3)


def test_first_one_then_the_other():
    """t(gh) = s(h) t(g) + t(h): fails when the order is the other way round."""
    (sector,) = parts = sectors_of((4, 1))
    wrong = 0
    for a, b in combinations(list(permutations(range(4))), 2):
        g, h = (element(parts, plain(order)) for order in (a, b))
        (s_g, t_g), (s_h, t_h) = rotation_of(sector, g), rotation_of(sector, h)
        assert rotation_of(sector, h[g]) == (s_g * s_h, (s_h * t_g + t_h) % 3)
        wrong += rotation_of(sector, g[h]) != (s_g * s_h, (s_h * t_g + t_h) % 3)
    assert wrong


SHAPES = [
    [(4, 1), (4, 1)],
    [(4, 1), (3, 1)],
    [(3, 1), (3, 1), (3, 1)],
    [(4, 1), (1, 3)],
    [(4, 3), (2, 3)],
    [(3, 1), (5, 3)],
    [(4, 1), (4, 1), (1, 6)],
]


def tied(parts):
    return [c for c in measures(parts) if c.what == "twist" and c.modulus % 3 == 0]


def in_pairs(parts, permutation):
    """What is done to the pairs of each small sector, and to each twist sum mod 3, on three points each."""
    points = []
    for sector in parts:
        order = [sector.place[int(permutation[label])][0] for label in sector.labels[:, 0]]
        if len(order) in (3, 4):
            points += [len(points) // 3 * 3 + x for x in moved(order)]
    for c in tied(parts):
        turned = sum(c.sector.place[int(permutation[label])][1] for label in c.sector.labels[:, 0]) % 3
        points += [len(points) // 3 * 3 + (x + turned) % 3 for x in range(3)]
    return tuple(points)


def related(parts, rng):
    """Generators that do related things to the sectors, so that there are laws: the same, or what signs and turns tie."""
    rows = []
    for _ in range(2):
        base = rng.permutation(3)
        s, t = (1 if (base[1] - base[0]) % 3 == 1 else -1), int(base[0])
        actions = []
        for sector in parts:
            n, m = len(sector.slots), sector.twist
            slots = base if n == 3 else rng.permutation(n)
            if n == 4:
                slots = next(order for order in permutations(range(4)) if moved(order) == base.tolist())
            twists = rng.integers(m, size=n) if m % 3 else np.array([t if s == 1 else 0] + [0] * (n - 1))
            actions.append((slots, twists))
        rows.append(element(parts, *actions))
    return rows


@pytest.mark.parametrize("seed", range(70))
def test_pairing_laws_and_characters_say_all_about_pairs(seed):
    """What turns do to pairs and twists mod 3 is a group of order |all| / (characters · 3^laws), and random ones too."""
    rng = np.random.default_rng(seed)
    parts = sectors_of(*SHAPES[seed % len(SHAPES)])
    generators = related(parts, rng)
    if seed % 3 == 0:
        generators = [element(parts, *(any_action(rng, len(s.slots), s.twist) for s in parts)) for _ in generators]
    small = [s for s in parts if len(s.slots) in (3, 4)]
    closure = all_states([in_pairs(parts, g) for g in generators])
    laws = pairing_laws(parts, generators, [])
    signs = {tuple(rotation_of(s, g)[0] for s in small) for g in all_elements(generators)}
    characters = 2 ** len(small) // len(signs) * 3 ** relations_mod_3(parts, generators)
    assert len(closure) * characters * 3 ** len(laws) == 6 ** len(small) * 3 ** len(tied(parts))
    for g in all_elements(generators):
        assert not any(law.value(g) for law in laws)
    for law in laws:
        g = next(g for g in planted(parts, law, rng) if keeps_signs(small, g, signs))
        assert law.value(g) in (1, 2)


def test_half_a_turn_of_what_turns_by_sixths_leaves_thirds_alone():
    """A cycle of three slots goes with two sixths of another piece's turn; three sixths more are nothing mod 3, one sixth is."""
    parts = sectors_of((3, 1), (1, 6))
    cycle, still = plain([1, 2, 0]), plain(range(3))
    tied, half, sixth = (element(parts, slots, ([0], [turn])) for slots, turn in ((cycle, 2), (still, 3), (still, 1)))
    gone_round = element(parts, cycle, ([0], [0]))
    for unseen, seen in (([], True), ([half], True), ([sixth], False), ([half, sixth], False), ([gone_round], False)):
        (law,) = pairing_laws(parts, [tied], unseen)
        assert law.seen == seen and not law.value(tied) and not law.value(half) and law.value(sixth)


def test_quarters_of_a_turn_have_no_say_in_what_goes_round_by_thirds():
    """Four quarters are nothing, four thirds are one: what goes round beside a quarter turn is tied to no sum mod 3."""
    parts = sectors_of((3, 1), (1, 4))
    together = element(parts, plain([1, 2, 0]), ([0], [1]))
    assert pairing_laws(parts, [together], []) == ()
    (law,) = pairing_laws(parts, [element(parts, plain(range(3)), ([0], [1]))], [])
    assert not law.twists and law.even and not law.shift


def test_pairing_laws_leave_nothing_unsaid():
    """Where characters and pairs say all, of 96 times 6 assemblies 96 are reached."""
    puzzle = load("cube:2,turns=half")
    image = law_book(puzzle).image
    assert len(pairing(puzzle)) == 1 and unsaid(image) == 1
    assert unsaid(image) * 3 * count_characters(image.parts, list(image.generators)) == image.whole_order // image.order


def all_elements(generators):
    return [np.array(row) for row in all_states([tuple(g.tolist()) for g in generators])][:400]


def relations_mod_3(parts, generators):
    """How many independent sums of twists mod 3 vanish: counted as characters of these twists alone."""
    alone = [s for s in parts if s.twist % 3 == 0]
    total = count_characters(tuple(alone), generators) if alone else 1
    count = 0
    while total % 3 == 0:
        total, count = total // 3, count + 1
    return count


def planted(parts, law, rng):
    """Elements that rotate the pairs of one of the law's sectors and leave all else alone."""
    for sector in law.sectors:
        ring = [1, 2, 0, *range(3, len(sector.slots))]
        actions = [plain(ring if s is sector else range(len(s.slots))) for s in parts]
        yield element(parts, *actions)


def keeps_signs(small, g, signs):
    return tuple(rotation_of(s, g)[0] for s in small) in signs


PUZZLES = [
    "cube:2,turns=half",
    "cube:3,turns=half",
    "cube:3,turns=R2+U2",
    "cuboid:2x3x4",
    "cuboid:2x3x3,turns=half",
    "corner-cube",
    "loop:4,window=4",
    "cube:2,turns=R",
]


def pairing(puzzle):
    return [law for law in law_book(puzzle).laws if law.type == "pairing"]


@pytest.mark.parametrize("name", PUZZLES)
def test_random_products_keep_them_and_planted_violations_break_them(name):
    puzzle, rng = load(name), np.random.default_rng(3)
    laws = pairing(puzzle)
    assert laws and all((law.type, law.modulus) == ("pairing", 3) for law in laws)
    for _ in range(40):
        image = np.arange(puzzle.degree)
        for i in rng.integers(len(puzzle.generators), size=30):
            image = puzzle.generators[i][image]
        assert not any(law.value(image) for law in laws)
        for law in laws:
            slots = [puzzle.slots[slot] for slot in law.sectors[int(rng.integers(len(law.sectors)))].slots]
            cycled = changed(puzzle, [f"cycle {' '.join(slots[:3])}"], puzzle.arrangement(image))
            assert law in law_book(puzzle).broken(cycled) or law_book(puzzle).broken(cycled)[0].type == "orbit"
            assert not law_book(puzzle).reaches(cycled)


def test_the_corner_cube_ties_pairs_of_corners_to_twists_of_the_others():
    """The four corners that move and the four that only turn in place.

    Without this law twisting one of the latter would seem possible, as no character counts it: 3 × as many assemblies.
    """
    puzzle = load("corner-cube")
    book = law_book(puzzle)
    (law,) = pairing(puzzle)
    assert {puzzle.slots[s] for sector in law.sectors for s in sector.slots} == {"UFL", "UBR", "DFR", "DBL"}
    assert {puzzle.slots[s] for c in law.twists for s in c.sector.slots} == {"UFR", "UBL", "DFL", "DBR"}
    assert len(set(law.twist_weights)) == 1, "the same for all four, by symmetry"
    twisted = changed(puzzle, ["turn UFR cw"])
    assert book.broken(twisted) == (law,) and not book.reaches(twisted)
    assert book.complete and count_characters(book.sectors, puzzle.generators) == book.index // 3
    assert book.reaches(changed(puzzle, ["turn UFR cw", "turn UBL ccw"]))
    assert book.reaches(changed(puzzle, ["turn UFR cw", "cycle UFL UBR DFR"])) != book.reaches(
        changed(puzzle, ["turn UFR ccw", "cycle UFL UBR DFR"])
    )


def test_half_turns_tie_the_two_sets_of_corners_together():
    """Half turns keep the corners in two sets of four, and how these fall into pairs goes together (common practice).

    Without the law 3 × as many assemblies would seem possible: of 96 · 6 over the turns' orbits only 96 are reached.
    """
    puzzle = load("cube:2,turns=half")
    (law,) = pairing(puzzle)
    sets = [{puzzle.slots[s] for s in sector.slots} for sector in law.sectors]
    assert sorted(map(sorted, sets)) == [["DBL", "DFR", "UBR", "UFL"], ["DBR", "DFL", "UBL", "UFR"]]
    every = assemblies(puzzle)
    book = law_book(puzzle)
    others = [other for other in book.laws if other is not law]
    missed = [row for row in every.rows if not any(other.value(row) for other in others)]
    assert len(missed) == 3 * every.reached.sum()
    assert sum(not law.value(row) for row in missed) == every.reached.sum()


@pytest.mark.parametrize(
    "name, what",
    [
        ("corner-cube", "pairing of corners like UFL and twists of corners UFR, UBL, DFL and DBR"),
        ("cube:2,turns=half", "pairing of corners like UFL and corners like UFR"),
    ],
)
def test_they_are_told_in_words(name, what):
    (law,) = pairing(load(name))
    assert law.name == what and law.statement.endswith(".") and "fall into two pairs" in law.statement


@pytest.mark.parametrize("name", ["loop:4,window=4", "loop:4,window=3", "cube:2,turns=R", "cube:3,turns=R"])
def test_a_law_on_one_set_of_four_names_the_pairs_that_every_turn_keeps(name):
    puzzle = load(name)
    alone = [law for law in pairing(puzzle) if len(law.sectors) == 1]
    assert alone
    slot_of = np.repeat(np.arange(len(puzzle.slots)), [kind.twist for kind in puzzle.kind_of])
    for law in alone:
        first, second = law.statement.partition(": ")[2].removesuffix(".").split(", and ")
        pairs = {frozenset(puzzle.slot(slot) for slot in pair.split(" with ")) for pair in (first, second)}
        assert frozenset().union(*pairs) == set(law.sectors[0].slots)
        for generator in puzzle.generators:
            goes = slot_of[generator[puzzle.base_label]]
            assert {frozenset(int(goes[slot]) for slot in pair) for pair in pairs} == pairs


@pytest.mark.parametrize("name, factor", [("graph:2+1+2", 6), ("rings:4+4,cross=1", 6)])
def test_an_unexpected_group_on_six_is_no_pairing_law_but_one_of_its_own(name, factor):
    """Order 120 of 720: PGL(2, 5) on six points (Wilson, J. Combin. Theory B 16 (1974) 86-96)."""
    book = law_book(load(name))
    assert ([law.type for law in book.laws], book.complete, book.index) == (["other"], True, factor)
    assert book.order == book.allowed == 120 * book.places and book.assembly_order == 720 * book.places


PAINTED = "shape-mod:prism8,paint=FR+FL+BR+BL,turns=U"


@pytest.mark.parametrize("name", [PAINTED, "cuboid:2x3x4", "cube:3,turns=half", "corner-cube"])
def test_a_pairing_law_is_seen_unless_lookalikes_change_it(name):
    """A law is hidden exactly if some exchange of lookalikes in its sectors breaks it or turns its pairs about."""
    puzzle = load(name)
    book = law_book(puzzle)
    for law in pairing(puzzle):
        touched = [k for k in book.hidden.generators() if any(rotation_of(s, k) != (1, 0) for s in law.sectors)]
        assert law.seen == (not touched and not any(law.value(k) for k in book.hidden.generators()))


@pytest.mark.parametrize("name", ["loop:4,window=4", "cube:2,turns=R"])
def test_the_congruence_as_it_is_written_says_which_rearrangements_keep_the_pairs(name):
    """For each of the 24 ways to rearrange four things, with s and t put in."""
    (law,) = (law for law in pairing(load(name)) if len(law.sectors) == 1)
    left = re.sub(r"_\{\\text\{[^{}]*\}\}|\\left|\\right", "", law_latex(law).partition(r" \equiv 0 \pmod{3}")[0])
    (sector,), kept = law.sectors, 0
    for order in permutations(range(4)):
        image = np.arange(sector.labels.max() + 1)
        image[sector.labels] = sector.labels[list(order)]
        s, t = rotation_of(sector, image)
        value = eval(re.sub(r"(\d) ([st])", r"\1*\2", left), {"s": s, "t": t})
        assert (value % 3 == 0) == (law.value(image) == 0)
        kept += value % 3 == 0
    assert kept == 8, "two pairs are kept by the symmetries of a square"


def test_two_threes_are_told_as_going_together_and_three_as_settling_the_last():
    parts, cycle, still = sectors_of((3, 1), (3, 1), (3, 1)), plain([1, 2, 0]), plain(range(3))
    one, two, three = (f"which way round the three pieces {i} follow each other" for i in range(3))
    for turns, told in (
        (
            [(cycle, cycle, still), (still, still, cycle)],
            f"{one}, and {two}: these two always change together, so one settles the other.",
        ),
        ([(cycle, still, cycle), (still, cycle, cycle)], f"{one}, {two} and {three}: of these, all but one settle the last."),
    ):
        (law,) = pairing_laws(parts, [element(parts, *turn) for turn in turns], [])
        assert law.statement == "W" + told[1:]


def test_sectors_are_orbits_of_slots_on_which_something_happens():
    puzzle = with_turns(load("corner-cube"), "UFR")
    for law in pairing(puzzle):
        assert len(law.sectors) == 1 and [puzzle.slots[c.sector.slots[0]] for c in law.twists] == ["UFR"]
    assert len(pairing(puzzle)) == 2
    assert len(set(joined(puzzle.degree, puzzle.generators).tolist())) > len(puzzle.kinds)
