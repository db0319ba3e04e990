"""The image of the turns and its cosets, against every assembly of small puzzles sorted into classes by walking alone."""

import numpy as np
import pytest

from oddswap.puzzles.catalogue import load, with_turns
from oddswap.reasoning.laws.image import LawImage, coset_names, walk
from oddswap.reasoning.laws.law_book import law_book
from tests.common.walking import all_states
from tests.reasoning.enumerated import assemblies, same_partition
from tests.reasoning.handmade import any_looks, any_move, handmade, kinds_of
from tests.reasoning.laws.assembled import any_action, element, sectors_of

SMALLEST = [
    *["cube:2,turns=half", "cube:2,turns=R2+U2", "cube:2,turns=R", "cuboid:1x2x2", "cuboid:1x2x3", "cuboid:1x3x3"],
    *["loop:4,window=4", "loop:4,window=4,beads=aabb", "loop:5,window=5,beads=aabbc", "loop:6,window=6,beads=3+3"],
    *["rings:3+3,cross=1", "rings:4+4,cross=1", "rings:4+4,cross=1,beads=3+3", "rings:4+4,cross=2,beads=2+2+2"],
    *["tiles:2x2", "tiles:2x3", "tiles:2x3,letters=aabcd", "graph:0+1+1", "graph:1+1+1", "corner-cube of one corner"],
]
SMALL = [
    *["cube:3,turns=R2+L2", "cube:3,turns=R", "shape-mod:prism8,turns=R2+F2", "tetrahedron of two corners", "cuboid:1x2x4"],
    "shape-mod:prism8,paint=FR+FL+BR+BL,turns=U",
]
PARTS = {"tetrahedron of two corners": ("tetrahedron,tips=no", "DFL+DLR"), "corner-cube of one corner": ("corner-cube", "UFR")}


HELD = {"cube:2,turns=half": 6, "cube:2,turns=R2+U2": 1}
"""Of the 24 rotations of a cube four keep its corners, black and white as on a chessboard with two sides marked, where half turns
do; and half turns of three axes are the same in every holding, of two are not."""


def small(name):
    return with_turns(load(PARTS[name][0]), PARTS[name][1]) if name in PARTS else load(name)


def check_classes(puzzle):
    """Whether what the laws predict is what walking finds; the blank, if any, is at home."""
    book, every = law_book(puzzle), assemblies(puzzle)
    places = (1 if puzzle.steady else len(puzzle.slots)) * HELD.get(puzzle.name, 1)
    assert len(every.rows) * places == book.assembly_order
    assert len(set(every.classes.tolist())) == book.index
    assert every.reached.sum() * places == book.order
    assert len(set(every.seen_classes.tolist())) == book.seen_index
    assert len(set(every.seen[every.reached].tolist())) * places == book.appearances
    return book, every


@pytest.mark.parametrize("name", [*SMALLEST, *SMALL])
def test_classes_found_by_walking_are_those_that_the_laws_predict(name):
    book, every = check_classes(small(name))
    some = np.random.default_rng(1).permutation(len(every.rows))[:600]
    assert same_partition([book.class_of(row) for row in every.rows[some]], every.classes[some].tolist())
    for row, reached in zip(every.rows[some], every.reached[some], strict=True):
        assert book.reaches_permutation(row) == reached


@pytest.mark.parametrize("name", SMALLEST)
def test_laws_allow_as_many_assemblies_as_break_none_and_are_complete_if_all_are_reached(name):
    book, every = law_book(small(name)), assemblies(small(name))
    kept = np.array([not book.broken_at(row) for row in every.rows])
    assert kept.sum() * book.places * HELD.get(name, 1) == book.allowed and kept[every.reached].all()
    assert book.complete and book.unexplained == 1 and (kept == every.reached).all()


SHAPES = [
    *[[(4, 1)], [(3, 2)], [(4, 1), (3, 1)], [(3, 1), (3, 1)], [(4, 2)], [(3, 3)], [(4, 1), (2, 3)], [(3, 1), (1, 3), (1, 3)]],
    *[[(5, 1)], [(3, 3), (1, 3)], [(2, 3), (2, 3)], [(5, 1), (3, 1)], [(2, 4), (2, 2)], [(4, 1), (4, 1)], [(1, 9), (3, 1)]],
]


@pytest.mark.parametrize("seed", range(90))
def test_classes_of_any_small_puzzle(seed):
    """One to three moves of one or two kinds, with twins and hidden turns: most have laws of several types."""
    rng = np.random.default_rng(seed)
    shapes = SHAPES[seed % len(SHAPES)]
    kinds = kinds_of(shapes)
    puzzle = handmade(shapes, [any_move(kinds, rng) for _ in range(rng.integers(1, 4))], any_looks(kinds, rng))
    book, every = check_classes(puzzle)
    some = rng.permutation(len(every.rows))[:100]
    assert same_partition([book.class_of(row) for row in every.rows[some]], every.classes[some].tolist())
    assert [not book.broken_at(row) for row in every.rows[some]] == every.reached[some].tolist()


def test_any_small_puzzle_has_every_type_of_law_and_none():
    types = set()
    for seed in range(90):
        rng = np.random.default_rng(seed)
        kinds = kinds_of(SHAPES[seed % len(SHAPES)])
        puzzle = handmade(SHAPES[seed % len(SHAPES)], [any_move(kinds, rng) for _ in range(rng.integers(1, 4))])
        types.update(law.type for law in law_book(puzzle).laws)
        assert law_book(puzzle).complete
    assert types == {"sign", "twist", "mixed", "pairing", "orbit", "other"}


def test_where_the_group_is_not_normal_seen_classes_are_no_quotient():
    """A loop of four whose window is four makes the symmetries of a square, which are not normal in S₄.

    With two and two beads alike they are seen in 2 classes; were the group normal there would be |A| / |GK| of them.
    """
    every = assemblies(load("loop:4,window=4,beads=aabb"))
    group = {tuple(row) for row in every.rows[every.reached].tolist()}
    assert len(group) == 8
    conjugates = {tuple(np.argsort(h)[g][h].tolist()) for g in np.array(list(group)) for h in every.rows}
    assert len(conjugates) > 8
    product = {tuple(g[k]) for g in np.array(list(group)) for k in every.rows[every.seen == every.seen[0]]}
    assert 24 % len(product) and law_book(load("loop:4,window=4,beads=aabb")).seen_index == 2


def random_parts(seed):
    rng = np.random.default_rng(seed)
    shapes = [(4, 1), (3, 2), (5, 3), (2, 2), (1, 4), (6, 1)]
    parts = sectors_of(*(shapes[i] for i in sorted(rng.choice(len(shapes), size=2, replace=False))))
    generators = [element(parts, *(any_action(rng, len(s.slots), s.twist) for s in parts)) for _ in range(2)]
    return parts, generators, rng


@pytest.mark.parametrize("seed", range(12))
def test_the_image_has_as_many_elements_as_its_closure(seed):
    parts, generators, rng = random_parts(seed)
    image = LawImage(parts, tuple(generators))
    closure = all_states([tuple(image.of(g).tolist()) for g in generators])
    assert image.order == len(closure) and image.chain.proved
    assert image.whole_order % image.order == 0
    assert all(len(s.slots) <= 4 for s in image.small) and all(len(c.sector.slots) > 4 for c in image.rest)
    for _ in range(20):
        a, b = (element(parts, *(any_action(rng, len(s.slots), s.twist) for s in parts)) for _ in range(2))
        assert (image.of(b)[image.of(a)] == image.of(b[a])).all(), "first a, then b"


@pytest.mark.parametrize("seed", range(12))
def test_cosets_have_equal_names_if_they_are_equal(seed):
    parts, generators, rng = random_parts(seed)
    image = LawImage(parts, tuple(generators))
    group = all_states([tuple(image.of(g).tolist()) for g in generators])

    def coset(permutation):
        return coset_names(image.chain.levels, image.of(permutation)[None])

    for _ in range(40):
        a = element(parts, *(any_action(rng, len(s.slots), s.twist) for s in parts))
        word = generators[rng.integers(2)][generators[rng.integers(2)]]
        b = element(parts, *(any_action(rng, len(s.slots), s.twist) for s in parts))
        assert coset(a) == coset(word[a]), "a, then anything in the image"
        between = image.of(b)[np.argsort(image.of(a))]
        assert (coset(a) == coset(b)) == (tuple(between.tolist()) in group)


@pytest.mark.parametrize("seed", range(12))
def test_many_cosets_are_named_as_one_is(seed):
    parts, generators, rng = random_parts(seed)
    image = LawImage(parts, tuple(generators))
    rows = [image.of(element(parts, *(any_action(rng, len(s.slots), s.twist) for s in parts))) for _ in range(9)]
    levels = image.chain.levels
    assert coset_names(levels, np.array(rows)) == [coset_names(levels, row[None])[0] for row in rows]


def test_a_walk_stops_at_its_limit():
    image = LawImage(sectors_of((4, 1)), ())
    still = np.arange(4)
    steps = [np.array([1, 0, 2, 3]), np.array([1, 2, 3, 0])]
    assert [len(list(walk(image.chain.levels, still, steps, limit))) for limit in (1, 5, 24, 100)] == [1, 5, 24, 24]
    assert [len(list(walk(image.chain.levels, still, steps[:1], limit))) for limit in (1, 100)] == [1, 2]
    assert len(list(walk(image.chain.levels, still, [], 100))) == 1
