"""Lookalikes: found as the table of shapes says, unseen in every arrangement, and first sight against all explanations."""

from dataclasses import replace
from itertools import combinations, permutations, product
from math import factorial, prod

import numpy as np
import pytest

from oddswap.describing.changes import changed
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.groups.stabiliser_chain import StabiliserChain, enumerate_group
from oddswap.reasoning.laws.lookalikes import (
    first_sight,
    hand_generators,
    kind_generators,
    lookalikes,
    surplus,
    whole_kinds,
    within,
)
from oddswap.reasoning.laws.sectors import sectors
from oddswap.values.orbits import orbit_labels
from oddswap.values.position import Appearance
from tests.common.published import cases as published_cases
from tests.reasoning.handmade import handmade
from tests.reasoning.judge import anyhow, tampered
from tests.reasoning.random_puzzles import random_puzzles

SHAPES = published_cases("shapes", "puzzle", "hidden", "twins")
NAMES = [row[0] for row in SHAPES] + [
    "shape-mod:cube,paint=L+R",
    "shape-mod:cube,paint=U+D/F+B+L+R",
    "shape-mod:cube,shift=0/0/0",
    "shape-mod:prism6",
]


@pytest.mark.parametrize("name, hidden, twins", SHAPES)
def test_hidden_turns_and_twins_are_found(name, hidden, twins):
    puzzle = load(name)
    alike = lookalikes(puzzle)
    found = {puzzle.slots[p]: f.hidden for f in alike.families for p in f.pieces if f.hidden > 1}
    assert found == hidden
    assert {puzzle.slots[p] for p in alike.hidden_turns} == set(hidden)
    assert sorted(sorted(puzzle.slots[p] for p in pieces) for pieces in alike.twins) == sorted(map(sorted, twins))


@pytest.mark.parametrize("shift", ["0.05/0.1/0.16", "0.03/-0.07/0.13"])
def test_off_centre_in_one_colour_every_piece_has_its_own_shape(shift):
    puzzle = load(f"shape-mod:cube,shift={shift}")
    alike = lookalikes(puzzle)
    assert alike.twins == () and {puzzle.kind_of[p].family for p in alike.hidden_turns} == {"centres"}
    assert all(len(f.pieces) == 1 for f in alike.families)


@pytest.mark.parametrize("name", NAMES)
def test_every_piece_belongs_to_one_family(name):
    puzzle = load(name)
    alike = lookalikes(puzzle)
    assert sorted(p for f in alike.families for p in f.pieces) == list(range(len(puzzle.slots)))
    assert all(alike.family_of[p] is f for f in alike.families for p in f.pieces)


@pytest.mark.parametrize("name", NAMES)
def test_the_order_of_k(name):
    """The product of C_h ≀ S_k over the families, and what their relabellings generate."""
    puzzle = load(name)
    alike = lookalikes(puzzle)
    assert alike.order == prod(f.hidden ** len(f.pieces) * factorial(len(f.pieces)) for f in alike.families)
    generators = alike.generators()
    assert StabiliserChain.from_generators(generators, puzzle.degree).order == alike.order
    for among in (frozenset(), frozenset({16, 17}), frozenset({0, 1, 16, 20})):
        some = frozenset(p for p in among if p < len(puzzle.slots))
        parts = [(f.hidden, len(some.intersection(f.pieces))) for f in alike.families]
        part = StabiliserChain.from_generators(alike.generators(some), puzzle.degree)
        assert part.order == prod(h**k * factorial(k) for h, k in parts)


@pytest.mark.parametrize("name", NAMES)
def test_relabellings_of_k_are_never_seen_and_others_are(name):
    puzzle, rng = load(name), np.random.default_rng(1)
    alike = lookalikes(puzzle)
    for _ in range(5):
        image = puzzle.permutation(anyhow(puzzle, rng))
        look = puzzle.appearance(puzzle.arrangement(image))
        for k in alike.generators():
            assert puzzle.appearance(puzzle.arrangement(image[k])) == look
    for kind in puzzle.kinds:
        for p in kind.places:
            for e in range(1, kind.twist):
                unseen = puzzle.appearance(puzzle.arrangement(alike.relabelling({p: (p, e)})))
                hidden = e % alike.family_of[p].step == 0
                assert (unseen == puzzle.appearance(puzzle.solved)) == hidden
        for p, q in combinations(kind.places, 2):
            ways = {
                puzzle.appearance(puzzle.arrangement(alike.relabelling({p: (q, e), q: (p, f)})))
                for e in range(kind.twist)
                for f in range(kind.twist)
            }
            assert (puzzle.appearance(puzzle.solved) in ways) == (alike.family_of[p] is alike.family_of[q])


def test_twins_that_look_alike_only_when_turned():
    """With U and F in one colour the corners UFL and UFR are mirror images, but the edges UL and FL look alike flipped
    or not as their second faces show, and UF shows one colour twice."""
    puzzle = load("shape-mod:cube,paint=U+F")
    alike = lookalikes(puzzle)
    twins = {frozenset(puzzle.slots[p] for p in pieces) for pieces in alike.twins}
    assert twins == {frozenset({"UL", "FL"}), frozenset({"UR", "FR"})}
    assert [puzzle.slots[p] for p in alike.hidden_turns if puzzle.kind_of[p].twist == 2] == ["UF"]
    for pieces in alike.twins:
        for p, q in permutations(pieces, 2):
            swapped = puzzle.arrangement(alike.exchange(p, q))
            assert puzzle.appearance(swapped) == puzzle.appearance(puzzle.solved) and swapped != puzzle.solved
            assert alike.offset(p, q) == -alike.offset(q, p) % 2


@pytest.mark.parametrize("name", ["cube:2", "cube:3", "shape-mod:prism8,cut=0.3333", "shape-mod:cube,axis=U,degrees=45"])
def test_first_sight_is_all_explanations_that_displace_the_fewest(name):
    """Against every explanation of the appearance: all relabellings in K, tried one by one."""
    puzzle, rng = load(name), np.random.default_rng(2)
    alike = lookalikes(puzzle)
    every = enumerate_group(alike.generators(), puzzle.degree) if alike.order > 1 else [np.arange(puzzle.degree)]
    states = [puzzle.solved, tampered(puzzle, rng, 0, 1), tampered(puzzle, rng, 0, 3), anyhow(puzzle, rng)]
    for state in states:
        image = puzzle.permutation(state)
        explanations = [puzzle.arrangement(image[k]) for k in every]
        fewest = min(len(e.displaced()) for e in explanations)
        best = {e for e in explanations if len(e.displaced()) == fewest}
        first, displaced = first_sight(puzzle, puzzle.appearance(state))
        assert first in best and displaced == {first.pieces[b] for b in first.displaced()}
        movable = alike.generators(displaced)
        group = enumerate_group(movable, puzzle.degree) if movable else [np.arange(puzzle.degree)]
        assert {puzzle.arrangement(puzzle.permutation(first)[k]) for k in group} == best


def test_first_sight_leaves_twins_at_home_where_it_can():
    """Painted corner facets: two corners of the top that have changed places are not seen to be displaced."""
    puzzle = load("shape-mod:prism8,paint=FR+FL+BR+BL")
    first, displaced = first_sight(puzzle, puzzle.appearance(changed(puzzle, ["swap UFL UFR"])))
    assert first == puzzle.solved and not displaced
    first, displaced = first_sight(puzzle, puzzle.appearance(changed(puzzle, ["cycle UFL UFR DBR"])))
    assert len(first.displaced()) == 2 and puzzle.slot("DBR") in displaced


def test_first_sight_finds_a_piece_whose_place_a_twin_has_taken():
    """A B A: of the tiles that look like A the last stands where B belongs, and B stands last."""
    puzzle = load("tiles:2x3,letters=ABACD")
    moved = changed(puzzle, ["swap r1c2 r1c3"])
    assert first_sight(puzzle, puzzle.appearance(moved)) == (moved, {puzzle.slot("r1c2"), puzzle.slot("r1c3")})


def turned_twins():
    """Two pieces that change places, turned there and back, of which one looks as the other does when turned."""
    for twist, step in ((4, 2), (6, 2), (6, 3)):
        way = np.arange(twist)
        for by, shift in product(range(twist), range(step)):
            move = np.concatenate((twist + (way + by) % twist, (way - by) % twist))
            yield handmade([(2, twist)], [move], [*(way % step), *((way + shift) % step)])


def test_lookalikes_that_keep_every_label_in_its_sector(cases):
    """Of all relabellings that nobody sees, enumerated, those are left that keep each label in its orbit under the turns."""
    split = 0
    for puzzle in [*turned_twins(), *(puzzle for puzzle, _ in random_puzzles(cases[::2]))]:
        orbit = orbit_labels(puzzle.generators, puzzle.degree)
        every = enumerate_group(lookalikes(puzzle).generators(), puzzle.degree)
        kept = {image.tobytes() for image in every if (orbit[image] == orbit).all()}
        own = within(lookalikes(puzzle), sectors(puzzle, puzzle.generators))
        found = enumerate_group(own.generators(), puzzle.degree) if own.generators() else [np.arange(puzzle.degree)]
        assert {image.tobytes() for image in found} == kept and own.order == len(kept)
        split += 1 < len(kept) < len(every)
    assert split > 2


def looks(puzzle, *changes):
    return list(puzzle.appearance(changed(puzzle, changes)).sights)


def test_of_what_no_assembly_shows_there_is_no_explanation():
    puzzle = load("cube:3")
    sights = looks(puzzle)
    sights[puzzle.slot("UF")] = looks(puzzle, "swap UF UR")[puzzle.slot("UF")]
    twice = Appearance("cube:3", tuple(sights))
    assert first_sight(puzzle, twice) is None
    assert surplus(puzzle, twice) == ((puzzle.slot("UR"),), (puzzle.slot("UF"),))


def test_surplus_counts_certain_sights_only_and_lookalikes_together():
    puzzle = load("shape-mod:prism8,paint=FR+FL+BR+BL")
    assert surplus(puzzle, puzzle.appearance(changed(puzzle, ["swap UFL UFR", "flip FL"]))) == ((), ())
    sights = looks(puzzle)
    sights[puzzle.slot("UF")] = sights[puzzle.slot("FL")]
    assert surplus(puzzle, Appearance(puzzle.name, tuple(sights))) == ((puzzle.slot("FL"),), (puzzle.slot("UF"),))
    sights[puzzle.slot("UF")] |= {int(puzzle.looks[puzzle.base_label[puzzle.slot("UF")]])}
    assert surplus(puzzle, Appearance(puzzle.name, tuple(sights))) == ((), (puzzle.slot("UF"),))
    top, bottom = ([puzzle.slot(f"{layer}{side}") for side in ("FL", "FR", "BL", "BR")] for layer in "UD")
    assert [sorted(pieces) for pieces in lookalikes(puzzle).twins if set(pieces) & {*top, *bottom}] == [
        sorted(top),
        sorted(bottom),
    ]
    sights = looks(puzzle)
    sights[bottom[2]] = sights[top[3]]
    assert surplus(puzzle, Appearance(puzzle.name, tuple(sights))) == ((min(top),), (min(bottom),))


@pytest.mark.parametrize("name", NAMES)
def test_put_together_anyhow_no_piece_is_seen_too_often_or_never(name):
    puzzle, rng = load(name), np.random.default_rng(3)
    assert all(surplus(puzzle, puzzle.appearance(anyhow(puzzle, rng))) == ((), ()) for _ in range(5))


def test_lookalikes_are_found_once():
    puzzle = load("cube:3")
    assert lookalikes(puzzle) is lookalikes(puzzle) is not lookalikes(replace(puzzle, name="a copy"))


@pytest.mark.parametrize("name", ["tiles:2x2", "tiles:2x3", "cube:2", "tetrahedron", "corner-cube"])
def test_hands_put_every_piece_anywhere_any_way_round(name):
    """The order of C_m ≀ S_n for each kind of n pieces with m ways round, by a chain; the blank is no tile."""
    puzzle = load(name)
    counts = [(len(set(kind.places) - puzzle.void), kind.twist) for kind in puzzle.kinds]
    expected = prod(twist**count * factorial(count) for count, twist in counts)
    for generators in (hand_generators(puzzle, whole_kinds(puzzle)), kind_generators(puzzle)):
        assert StabiliserChain.from_generators(generators, puzzle.degree).order == expected
