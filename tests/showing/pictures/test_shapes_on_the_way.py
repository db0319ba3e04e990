"""Pictures after the turns that change a box's shape."""

import matplotlib.pyplot as plt

from oddswap.puzzles.catalogue import load
from oddswap.showing.pictures.shapes_on_the_way import draw_shapes_on_the_way, shape_changes

WAY = "R2 U' 2F2 R2 U' LL2 U R2 2F2 U R2"


def test_a_picture_stands_after_each_turn_that_changes_the_outline_and_after_no_other():
    """Of this way, the first and last turn keep the box closed; the last picture is the closed box again."""
    box = load("cuboid:3x4x5,turns=all")
    changes = shape_changes(box, box.solved, WAY)
    numbers = [number for number, _, _ in changes]
    assert 1 not in numbers and 11 not in numbers and numbers[0] == 2 and numbers[-1] == 10
    names = WAY.split()
    assert all(turn.name == names[number - 1] for number, turn, _ in changes)
    assert [box.closed(after) for _, _, after in changes] == [False] * (len(changes) - 1) + [True]
    figure = draw_shapes_on_the_way(box, box.solved, WAY)
    words = [text.get_text() for text in figure.axes[0].texts]
    assert sum(word.startswith("after turn") for word in words) == len(changes)
    assert any("do not push" in word for word in words)
    plt.close(figure)
