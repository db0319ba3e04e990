"""Laws in words and in LaTeX: the sentences that visitors read, and that nothing of a law is lost in them."""

import re

import numpy as np
import pytest

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.characters import CharacterLaw, laws_of, pairing_laws
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.sectors import measures, sectors
from oddswap.words import name_of
from tests.reasoning.laws.assembled import element, plain, sectors_of

SIGNS = "The corners and the edges are always rearranged either both evenly or both oddly."
FLIPS = "The number of flipped edges is always even."
TWISTS = "The twists of the corners, each counted clockwise as seen from outside, always add up to a multiple of 3."
CENTRES = (
    "The quarter turns of the centres U, D, F, B, L and R add up to an even number exactly when the corners "
    "are rearranged evenly."
)
NAMES = {
    SIGNS: "sign of corners and edges",
    FLIPS: "flips of edges",
    TWISTS: "twists of corners",
    CENTRES: "sign of corners and quarter turns of centres U, D, F, B, L and R",
}


@pytest.mark.parametrize(
    "name, sentences",
    [
        ("cube:2", [TWISTS]),
        ("cube:3", [SIGNS, FLIPS, TWISTS, CENTRES]),
        ("cube:3,centres=none", [FLIPS, TWISTS]),
        ("shape-mod:prism8", [SIGNS, TWISTS, FLIPS, CENTRES]),
    ],
)
def test_sentences(name, sentences):
    laws = law_book(load(name)).laws
    assert [law.statement for law in laws] == sentences
    assert [law.name for law in laws] == [NAMES[sentence] for sentence in sentences]


def made_of(*sequences):
    """The laws of turns that always go together, as each sequence says."""
    puzzle = load("cube:3")
    generators = [puzzle.permutation(puzzle.follow(text)) for text in sequences]
    parts = sectors(puzzle, generators)
    return parts, laws_of(parts, generators, [])


COUPLED = [("U D",), ("U D'",), ("U2 R", "F R'"), ("U D2 F", "L2 R2"), ("R U R' U'",), ("R", "U2", "F2 B"), ("U R", "F L2")]


@pytest.mark.parametrize("sequences", COUPLED)
def test_every_law_is_one_plain_sentence(sequences):
    for law in made_of(*sequences)[1]:
        sentence = law.statement
        assert re.fullmatch(r"[A-Z0-9][^.\n]*\.", sentence) and "  " not in sentence
        assert law.name and "\n" not in law.name
        for part in law.parts:
            own = name_of(part.sector).split()
            assert own[-1] in re.split(r"[\s,.]+", sentence), "each part is named as its slot is, in capitals"


@pytest.mark.parametrize("sequences", COUPLED)
def test_weights_are_told(sequences):
    for law in made_of(*sequences)[1]:
        told = sorted(int(w) for w in re.findall(r"(\d+) times", law.statement))
        assert law.modulus == 2 or told == sorted(w for w in law.weights if w != 1)


@pytest.mark.parametrize("sequences", [(), *COUPLED])
def test_latex_says_the_same_congruence(sequences):
    laws = made_of(*sequences)[1] if sequences else law_book(load("shape-mod:prism8")).laws
    for law in laws:
        text = law.latex
        left, modulus = re.fullmatch(r"(.*) \\equiv 0 \\pmod\{(\d+)\}", text).groups()
        assert text.count("{") == text.count("}")
        terms = left.split(" + ")
        pattern = r"(?:(\d+) )?\\(varepsilon|tau)_\{\\text\{([^{}]*)\}\}"
        found = [re.fullmatch(pattern, term).groups() for term in terms]
        letters = {"sign": "varepsilon", "twist": "tau"}
        assert int(modulus) == law.modulus
        assert sorted((int(w or 1), letter, name) for w, letter, name in found) == sorted(
            (w, letters[part.what], name_of(part.sector)) for part, w in zip(law.parts, law.weights, strict=True)
        )


def test_a_coupling_of_two_centres():
    """U and D' together: the centres turn by opposite amounts, which add up to a full circle."""
    sentences = [law.statement for law in made_of("U D'")[1]]
    assert any("quarter turns of the centres U and D" in s and "multiple of 4" in s for s in sentences)
    sentences = [law.statement for law in made_of("U D")[1]]
    assert any(re.search("3 times the quarter turns of the centre [UD]", s) and "multiple of 4" in s for s in sentences)


def test_two_signs_that_go_with_a_sum_are_said_to_go_together():
    corners, edges, flips = (
        next(c for c in measures(law_book(load("cube:3")).sectors) if (c.what, c.sector.kind.family) == wanted)
        for wanted in (("sign", "corners"), ("sign", "edges"), ("twist", "edges"))
    )
    law = CharacterLaw((corners, edges, flips), (1, 1, 1), 2, True)
    assert law.statement == (
        "The flips of the edges add up to an even number exactly when the corners and the edges are rearranged both evenly "
        "or both oddly."
    )


def test_some_twists_are_counted_the_other_way_where_they_are():
    """A cycle of three that goes with two twists: both one way round, or one each way."""
    parts = sectors_of((3, 1), (1, 3), (1, 3))
    for also, apart, other_way in ((1, 2, False), (0, 1, True)):
        together = element(parts, plain([1, 2, 0]), ([0], [1]), ([0], [also]))
        alone = element(parts, plain(range(3)), ([0], [1]), ([0], [apart]))
        (law,) = pairing_laws(parts, [together, alone], [])
        assert len(law.twists) == 2 and (len(set(law.twist_weights)) > 1) == other_way
        assert ("some of them counted the other way" in law.statement) == other_way
    parts = sectors(load("cube:3"), [load("cube:3").turns[t].permutation for t in ("R2", "U2", "F2")])
    names = [name_of(part) for part in parts]
    assert len(set(names)) == len(names)
    assert np.all([any(slot in name for slot in load("cube:3").slots) for name in names])


def test_what_sums_do_not_say_is_said_by_its_cause():
    """A programme in full, a ring in its order, and which pieces decide all the rest."""
    names = ("rings:4+4", "graph:2+2", "loop:7,window=6", "cube:3,turns=R")
    laws = [law_book(load(name)).laws[-1] for name in names]
    assert [law.statement for law in laws] == [
        "Let the six beads be players. Everybody plays everybody once, in five rounds of three games. "
        "There are six such programmes, and the turns always keep this one: 1 plays 2, 3 plays 6 and 4 plays 5; "
        "1 plays 3, 2 plays 4 and 5 plays 6; 1 plays 4, 2 plays 6 and 3 plays 5; 1 plays 5, 2 plays 3 and 4 plays 6; "
        "1 plays 6, 2 plays 5 and 3 plays 4.",
        "The 5 pieces go round as one body. Their order round the ring never changes: west, a1, a2, b2 and b1. "
        "So the place of one decides where all the others are.",
        "The 7 beads go round, or over, as one body. Their order round the ring never changes: 1, 2, 3, 4, 5, 6 and 7. "
        "So the places of two neighbours decide where all the others are.",
        "Where UFR goes decides all the rest of the corners like UFR, the edges like UR and the centre R. It has 4 choices, "
        "and then nothing else can move. This is one in 16 of what the laws before this one allow.",
    ]
    assert [law.name for law in laws] == [
        "programme of beads",
        "ring of pieces",
        "ring of beads",
        "group of corners like UFR, edges like UR and centre R",
    ]


def test_of_a_kind_that_stays_whole_no_sets_are_told():
    """By hand: quarter turns of U and D and half turns of the rest mix all corners, and keep four edges in the middle."""
    (law,) = (law for law in law_book(load("cube:3,turns=U+D+F2+B2+L2+R2")).laws if law.type == "orbit")
    assert "the edges stay in sets of 8 and 4" in law.statement and "corners stay" not in law.statement
    assert "the corners can be only one way round in each place" in law.statement
    (law,) = (law for law in law_book(load("cuboid:3x3x2,turns=half")).laws if law.type == "orbit")
    assert "the centres stay where they are" in law.statement and "sets of 1" not in law.statement
