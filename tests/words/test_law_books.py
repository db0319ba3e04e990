"""The words of a proof by structure, on puzzles whose kinds are known."""

from math import factorial

import numpy as np
import pytest

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.groups.stabiliser_chain import StabiliserChain
from oddswap.reasoning.laws.sectors import sectors
from oddswap.reasoning.laws.structure import certify
from oddswap.words.answers import proof_lines
from oddswap.words.law_books import proof_sentences
from tests.reasoning.known_groups import symmetric
from tests.reasoning.laws.assembled import element, plain, sectors_of


def proof(name):
    puzzle = load(name)
    order = StabiliserChain.from_generators(puzzle.generators, puzzle.degree).order
    return certify(sectors(puzzle, puzzle.generators), puzzle.generators, order)


def test_each_step_is_said_with_its_source():
    """Corners with 3 ways round, edges with 2, six turning centres; 5 is the only prime from 5 to 5, and 7 that from 7 to 9."""
    alternating, independent, twists, rest = proof_sentences(proof("cube:3"))
    assert "corners and edges" in alternating and "(5 of 8, 7 of 12)" in alternating and "Wielandt 1964" in alternating
    assert "Goursat 1889" in independent
    assert "twists of the corners and edges" in twists
    assert "signs, twist sums and all that moves of the smaller kinds" in rest and " 4096 values" in rest


def test_nothing_is_said_of_what_is_not_there():
    """One kind, without twists; and with them."""
    parts = sectors_of((9, 1))
    words = list(proof_sentences(certify(parts, [np.array(g) for g in symmetric(9)], factorial(9))))
    assert len(words) == 2 and "each kind" not in words[0] and "(5 of 9)" in words[0]
    assert "what is left: signs. Together these take 2 values" in words[1]
    assert len(list(proof_sentences(proof("cube:2")))) == 3


@pytest.mark.parametrize("name", ["tetrahedron", "corner-cube"])
def test_small_kinds_alone_are_counted_by_a_chain(name):
    certificate = proof(name)
    assert certificate.large == () and certificate.kernel_order == 1
    said = "A stabiliser chain on all labels counts exactly as many arrangements as the laws allow."
    assert list(proof_sentences(certificate)) == [said]


def test_many_kinds_are_counted_not_named():
    """The box of 7 by 7 by 5: how many kinds of eight slots, read off its sectors."""
    certificate = proof("cuboid:5x7x7")
    assert len(certificate.large) > 4
    assert f"pieces of {len(certificate.large)} kinds" in next(proof_sentences(certificate))


def test_order_is_the_product_of_its_factors():
    parts = sectors_of((8, 3), (4, 1))
    gens = [element(parts, plain(g), plain(range(4))) for g in symmetric(8)]
    gens += [element(parts, plain(range(8)), plain(g)) for g in symmetric(4)]
    gens.append(element(parts, (range(8), [1, 2, 0, 0, 0, 0, 0, 0]), plain(range(4))))
    certificate = certify(parts, gens, factorial(8) * 3**7 * 24)
    assert (certificate.kernel_order, certificate.image.order) == (factorial(8) // 2 * 3**7, 2 * 24)
    assert certificate.order == factorial(8) * 3**7 * 24
    assert [len(sector.slots) for sector in certificate.small] == [4]


@pytest.mark.parametrize("name, held", [("cube:2,turns=R+U", True), ("cube:2,turns=half", False), ("cube:3,turns=R+U", False)])
def test_what_is_counted_in_one_holding_is_said_to_be(name, held):
    """R and U of a cube without centres: where else it is held, other turns are allowed."""
    puzzle, said = load(name), " arrangements in one holding"
    answered = " ".join(proof_lines(puzzle.answer("flip UF" if "cube:3" in name else "twist UFL cw")))
    assert (said in str(puzzle.laws)) == (said in answered) == held
