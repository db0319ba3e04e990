"""Which explanations can be reached, and the smallest hidden changes, against all of K and the whole enumerated group."""

from collections import Counter
from itertools import combinations

import numpy as np
import pytest

from oddswap.describing.changes import changed
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.groups.stabiliser_chain import StabiliserChain
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.law_kinds import OrbitLaw
from oddswap.reasoning.laws.lookalikes import lookalikes
from oddswap.reasoning.laws.sectors import keeps
from oddswap.reasoning.verdicts import mending
from oddswap.reasoning.verdicts.diagnosis import diagnose, judged
from oddswap.reasoning.verdicts.exchanges import Atom, relabelled
from oddswap.reasoning.verdicts.findings import TooManyExchanged
from oddswap.reasoning.verdicts.first_looks import looks_at
from oddswap.reasoning.verdicts.mending import Undecided, into_orbits, is_reachable, of_size, smallest_mendings
from tests.reasoning.enumerated import assemblies, relabellings, renamed
from tests.reasoning.handmade import any_assembly, any_looks, any_move, handmade, kinds_of

SHAPES = [
    *[[(4, 1)], [(3, 2)], [(4, 1), (3, 1)], [(3, 1), (3, 1)], [(4, 2)], [(3, 3)], [(4, 1), (2, 3)], [(3, 1), (1, 3), (1, 3)]],
    *[[(3, 3), (1, 3)], [(2, 3), (2, 3)], [(5, 1)], [(5, 1), (3, 1)], [(2, 4), (2, 2)], [(1, 6), (2, 3)], [(4, 1), (4, 1)]],
    *[[(3, 2), (4, 1)], [(4, 1), (1, 3), (1, 3)], [(6, 1)]],
]
NAMES = [
    *["loop:4,window=4,beads=aabb", "loop:5,window=5,beads=aabbc", "loop:6,window=6,beads=2+2+2", "loop:6,window=5,beads=3+3"],
    *["rings:4+4,cross=1,beads=3+3", "rings:4+4,cross=2,beads=2+2+2", "rings:4+4,cross=1,beads=4+2"],
]


class Brute:
    """A puzzle with its whole group, and K element by element."""

    def __init__(self, puzzle):
        every = assemblies(puzzle)
        self.puzzle, self.book = puzzle, law_book(puzzle)
        self.group = {row.tobytes() for row in every.rows[every.reached]}

    def reachable(self, state, pieces=None):
        return any(state[k].tobytes() in self.group for k in relabellings(self.puzzle, pieces))

    def smallest(self, state, free, within):
        """How few pieces must be renamed so that renaming the free ones does the rest, and which ones do."""
        if self.reachable(state, free):
            return {frozenset()}
        found = {}
        for k in sorted(relabellings(self.puzzle, within), key=lambda k: len(renamed(self.puzzle, k))):
            pieces = renamed(self.puzzle, k)
            if found and len(pieces) > min(found):
                break
            if self.reachable(state[k], free):
                found.setdefault(len(pieces), set()).add(pieces)
        return found[min(found)] if found else set()


def anything(seed):
    """A small puzzle with lookalikes, or None where they or the assemblies are too many to try all."""
    rng = np.random.default_rng(seed)
    shapes = SHAPES[seed % len(SHAPES)]
    kinds = kinds_of(shapes)
    puzzle = handmade(shapes, [any_move(kinds, rng) for _ in range(rng.integers(1, 4))], any_looks(kinds, rng))
    fits = law_book(puzzle).assembly_order <= 3000 and 1 < lookalikes(puzzle).order <= 1000
    return (Brute(puzzle), rng) if fits else None


def test_lookalikes_within_the_orbits_are_all_of_k_that_keep_them():
    """Against K one by one; families of one piece and of several, with hidden turns and without."""
    split = Counter()
    for seed in (*range(0, 140, 4), 246, 282, 337, 401, 462, 480):  # the last ones: turns split twins with hidden turns
        if made := anything(seed):
            book = made[0].book
            kept = sum(keeps(book.sectors, k) for k in relabellings(book.puzzle))
            found = StabiliserChain.from_generators(book.hidden.generators(), book.puzzle.degree).order
            assert found == book.hidden.order == kept
            split[kept == lookalikes(book.puzzle).order, any(f.hidden > 1 < len(f.pieces) for f in book.hidden.families)] += 1
    assert len(split) == 4


def states_of(brute, rng, count):
    """Half of them put in at random, half reached and then renamed by lookalikes at random."""
    every, hidden = assemblies(brute.puzzle), relabellings(brute.puzzle)
    for i in range(count):
        if i % 2:
            yield any_assembly(brute.puzzle.kinds, rng)
        else:
            reached = every.rows[every.reached]
            yield reached[rng.integers(len(reached))][hidden[rng.integers(len(hidden))]]


def check(brute, state, pieces, free, within):
    """Whether the package agrees; the number of pieces to be changed."""
    for some in (None, pieces):
        assert is_reachable(brute.book, state, some) == brute.reachable(state, some)
    expected = brute.smallest(state, free, within)
    found = smallest_mendings(brute.book, state, free, within)
    assert {frozenset(p for atom in chosen for p in atom.pieces) for chosen in found} == expected
    for chosen in found:
        mended = state[relabelled(lookalikes(brute.puzzle), chosen)]
        assert is_reachable(brute.book, mended, free) and brute.puzzle.appearance(
            brute.puzzle.arrangement(mended)
        ) == brute.puzzle.appearance(brute.puzzle.arrangement(state))
    return len(min(expected, key=len)) if expected else None


def some_of(count, rng, chance):
    return frozenset(i for i in range(count) if rng.random() < chance)


@pytest.mark.parametrize("first", range(0, 140, 10))
def test_any_small_puzzle_agrees_with_all_of_k_and_the_whole_group(first):
    made = [anything(seed) for seed in range(first, first + 10)]
    assert any(made)
    for brute, rng in filter(None, made):
        slots = len(brute.puzzle.slots)
        for i, state in enumerate(states_of(brute, rng, 4)):
            free, within = (some_of(slots, rng, 0.3), None) if i % 2 else (frozenset(), some_of(slots, rng, 0.8))
            check(brute, state, some_of(slots, rng, 0.5), free, within)


@pytest.fixture(params=["walked", "taken apart"])
def classes(request, monkeypatch):
    """Classes walked one by one, or told apart factor by factor."""
    mending.factors.cache_clear()
    monkeypatch.setattr(mending, "FEW", 99 if request.param == "walked" else 0)
    yield
    mending.factors.cache_clear()


@pytest.mark.usefixtures("classes")
@pytest.mark.parametrize("name", NAMES)
def test_groups_that_are_not_normal_agree_with_all_of_k_and_the_whole_group(name):
    brute, rng = Brute(load(name)), np.random.default_rng(2)
    assert not brute.book.additive
    sizes = Counter()
    for state in states_of(brute, rng, 12):
        slots = len(brute.puzzle.slots)
        free = some_of(slots, rng, 0.2)
        sizes[check(brute, state, some_of(slots, rng, 0.5), free, None)] += 1
    assert len(sizes) > 1


def test_the_cases_take_no_piece_and_many_and_cannot_be_mended():
    sizes = Counter()
    for seed in range(0, 110, 2):
        if made := anything(seed):
            brute, rng = made
            for state in states_of(brute, rng, 2):
                expected = brute.smallest(state, frozenset(), None)
                sizes[len(min(expected, key=len)) if expected else None] += 1
    assert {None, 0, 1, 2, 3}.issubset(sizes)


def test_where_turns_split_a_kind_every_swap_is_judged_by_all_of_k():
    """The free pieces and what is seen first are the package's own; the culprits are all the smallest renamings of all.

    The orbit law is only broken for good: what looks right is in its orbit, and what looks wrong is free to be named so that
    it is, too, if anything is.
    """
    told = Counter()
    for brute, _ in filter(None, map(anything, range(0, 200, 2))):
        split = any(isinstance(law, OrbitLaw) for law in brute.book.laws)
        for kind in brute.puzzle.kinds if split else ():
            for swap in map(" ".join, combinations(kind.slots, 2)):
                seen = brute.puzzle.appearance(changed(brute.puzzle, [f"swap {swap}"]))
                found, look = judged(brute.puzzle, seen), next(looks_at(brute.book, seen))
                expected = brute.smallest(look.permutation, look.free, None)
                named = {frozenset(map(brute.puzzle.slot, culprit.pieces)) for culprit in found.culprits}
                assert named == expected - {frozenset()}
                assert (found.verdict == "ordinary", found.verdict == "not by turning") == (expected > named, not expected)
                told[found.verdict, len(named), any(isinstance(law, OrbitLaw) for law in found.broken)] += 1
    assert set(told) > {("lookalike", 1, False), ("lookalike", 2, False), ("not by turning", 0, True)}
    assert not any(orbit for verdict, _, orbit in told if verdict == "lookalike")


def turned_out(puzzle, seed, count=10):
    """Scrambled with this copy's turns, and then a few pieces turned or exchanged by hand."""
    rng = np.random.default_rng(seed)
    for _ in range(count):
        state = puzzle.solved
        for name in rng.choice(list(puzzle.turns), size=6):
            state = puzzle.arrangement(puzzle.turns[name].permutation[puzzle.permutation(state)])
        kind = puzzle.kinds[rng.integers(len(puzzle.kinds))]
        slots = [kind.slots[i] for i in rng.permutation(len(kind.slots))[:2]]
        yield changed(puzzle, [f"swap {' '.join(slots)}"] if len(slots) > 1 else [f"turn {slots[0]} half"], state)


@pytest.mark.parametrize(
    "name, reached",
    [
        ("cube:2,turns=half", {False}),
        ("cube:2,turns=R2+U2", {False}),
        ("cuboid:1x2x2", {True}),
        ("cuboid:2x2x3,turns=half", {True, False}),
        *((name, {True, False}) for name in NAMES if "cross=1" not in name),
        *((name, {True}) for name in NAMES if "cross=1" in name),
    ],
)
def test_verdicts_of_puzzles_whose_quantities_do_not_add(name, reached):
    """By what the whole group and all of K say; half turns never swap two corners, the box of 1 by 2 by 2 does, and
    two beads of two rings that cross once have twins that make up for any swap."""
    puzzle = load(name)
    brute, told = Brute(puzzle), set()
    for state in turned_out(puzzle, 5, 30):
        found = diagnose(puzzle, puzzle.appearance(state))
        reachable = brute.reachable(puzzle.permutation(state))
        told.add(reachable)
        assert (found.verdict in ("ordinary", "lookalike")) == reachable
        for arrangement in [found.explanation] * reachable + [culprit.arrangement for culprit in found.culprits]:
            assert puzzle.appearance(arrangement) == puzzle.appearance(state)
            assert puzzle.permutation(arrangement).tobytes() in brute.group
        assert bool(found.culprits) == (found.verdict == "lookalike")
    assert told == reached


def test_labels_that_left_their_orbits_are_matched_to_twins_of_theirs():
    """Half turns keep the centres of two faces in one orbit each; a plain cube's centres never leave, its marked twins may."""
    for name in ("shape-mod:prism8,paint=FR+FL+BR+BL,turns=half", "loop:6,window=3,beads=3+3"):
        puzzle, rng = load(name), np.random.default_rng(6)
        book, alike = law_book(puzzle), lookalikes(puzzle)
        for _ in range(20):
            state = puzzle.generators[rng.integers(len(puzzle.generators))]
            for k in alike.generators():
                state = state[k] if rng.random() < 0.5 else state
            sorted_in = into_orbits(book, state)
            assert keeps(book.sectors, sorted_in)
            assert puzzle.appearance(puzzle.arrangement(sorted_in)) == puzzle.appearance(puzzle.arrangement(state))


def test_a_piece_that_no_twin_can_stand_for_stays_out_of_its_orbit():
    puzzle = load("cube:2,turns=half")
    image = puzzle.permutation(changed(puzzle, ["swap UFR UFL"]))
    assert into_orbits(law_book(puzzle), image) is None and not is_reachable(law_book(puzzle), image)
    assert smallest_mendings(law_book(puzzle), image) == ()


def test_what_would_take_too_many_tries_is_said(monkeypatch):
    """A mending of three pieces, with as many tries as there are pieces."""
    found = Counter()
    monkeypatch.setattr(mending, "TRIES", 1)
    for seed in range(40):
        if made := anything(seed):
            brute, rng = made
            for state in states_of(brute, rng, 2):
                try:
                    smallest_mendings(brute.book, state)
                    found["given"] += 1
                except Undecided as error:
                    assert "1 tries" in str(error) and brute.reachable(state)
                    found["undecided"] += 1
    assert set(found) == {"given", "undecided"}


def test_what_has_too_many_classes_to_walk_is_said(monkeypatch):
    monkeypatch.setattr(mending, "COSETS", 2)
    puzzle = load("loop:6,window=6,beads=4+2")
    with pytest.raises(Undecided, match="more than 2 classes of lookalikes: name fewer turns or fewer twins"):
        is_reachable(law_book(puzzle), puzzle.permutation(changed(puzzle, ["swap 1 2"])))


@pytest.mark.parametrize("size", range(6))
def test_sets_of_a_size_are_all_sets_of_atoms_apart(size):
    rng = np.random.default_rng(size)
    atoms = [Atom(tuple(rng.choice(6, size=int(rng.integers(1, 4)), replace=False).tolist()), (), ((i, i, i),)) for i in range(9)]
    expected = {
        chosen
        for bits in range(2**9)
        for chosen in [tuple(atom for i, atom in enumerate(atoms) if bits >> i & 1)]
        for pieces in [[p for atom in chosen for p in atom.pieces]]
        if len(pieces) == len(set(pieces)) == size
    }
    found = list(of_size(atoms, size))
    assert len(found) == len(set(found)) and set(found) == expected


@pytest.mark.parametrize(("name", "moves"), [("cube:5,turns=F'+R2", "R2 F2"), ("cube:4,turns=half", "2R2 D2 L2")])
def test_where_the_smallest_exchange_takes_too_long_another_is_given(name, moves):
    """A few turns of a large cube: some forty pieces are free, and most of them are twins."""
    puzzle = load(name)
    seen = puzzle.appearance(puzzle.follow(moves))
    found = judged(puzzle, seen)
    assert found.verdict == "ordinary" and puzzle.appearance(found.explanation).sights == seen.sights
    assert law_book(puzzle).reaches(found.explanation)


@pytest.mark.parametrize("name", ["loop:6,window=5,beads=3+3", "rings:4+4,cross=1,beads=3+3"])
def test_too_many_lookalikes_to_try_are_still_a_lookalike_without_a_culprit(name, monkeypatch):
    """Whether all of K mends it is known without trying; which of its members does is not, once the tries are used up."""
    brute, told = Brute(load(name)), Counter()
    puzzle = brute.puzzle
    for state in states_of(brute, np.random.default_rng(2), 14):
        seen = puzzle.appearance(puzzle.arrangement(state))
        within_reach = diagnose(puzzle, seen)
        with monkeypatch.context() as patched:
            patched.setattr(mending, "TRIES", 1)
            found = diagnose(puzzle, seen)
        told[found.verdict] += 1
        assert (found.verdict == "not by turning") != brute.reachable(state)
        assert (found.verdict, found.broken) == (within_reach.verdict, within_reach.broken)
        if found.explanation:
            assert puzzle.permutation(found.explanation).tobytes() in brute.group and puzzle.appearance(found.explanation) == seen
        if found.verdict == "lookalike" and not found.culprits:
            assert within_reach.culprits and found.findings == (TooManyExchanged(1),) and found.explanation is None
            told["without a culprit"] += 1
    assert told["without a culprit"] and told["ordinary"] and told["not by turning"] + told["lookalike"] > told["ordinary"]
