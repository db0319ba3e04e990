"""X-rays side by side say how many pieces of which sort can hide something."""

import pytest

from oddswap.puzzles.catalogue import load
from oddswap.showing.pictures.xrays import draw_xrays, lookalikes_counted


@pytest.mark.parametrize(
    ("name", "turns", "twins"),
    [
        ("shape-mod:prism8", "4 edges and 6 centres", "none"),
        ("shape-mod:prism8,cut=0.3333", "6 centres", "none"),
        ("shape-mod:prism8,paint=FR+FL+BR+BL", "4 edges and 6 centres", "8 corners and 4 edges"),
        ("shape-mod:cube,axis=U,degrees=45", "4 edges and 2 centres", "none"),
        ("cube:2", "none", "none"),
        ("cube:4", "none", "24 diagonal centres"),
    ],
)
def test_what_is_counted(name, turns, twins):
    """Octagonal prisms and the turned cube: computed independently, by comparing the pieces' coloured shapes."""
    assert lookalikes_counted(load(name)) == f"hidden turns: {turns}\ntwins: {twins}"


def test_each_card_has_its_headline_and_counts_and_the_key_stands_once():
    shapes = [("a prism", load("shape-mod:prism8")), ("a small cube", load("cube:2"))]
    words = [text.get_text() for text in draw_xrays(shapes).axes[0].texts]
    assert [words.count(head) for head, _ in shapes] == [1, 1]
    assert [words.count(lookalikes_counted(puzzle)) for _, puzzle in shapes] == [1, 1]
    assert words.count("can be turned without a trace") == 1
