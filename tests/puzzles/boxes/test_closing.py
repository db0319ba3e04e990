"""Which quarter turns close, against the middles of the cells in integers."""

from itertools import product

import numpy as np

from oddswap.puzzles.boxes.outlines import leaves_the_outline, why_not

FACES = {"R": 0, "U": 1, "F": 2}
BOXES = list(product(range(1, 6), repeat=3))


def turned(sides, axis):
    """The middles of the cells of the box in half layers, before and after a quarter turn about an axis."""
    cells = np.array(list(product(*(range(1 - n, n, 2) for n in sides))))
    a, b = (i for i in range(3) if i != axis)
    after = cells.copy()
    after[:, a], after[:, b] = cells[:, b], -cells[:, a]
    return cells, after


def test_a_quarter_turn_closes_when_cells_come_to_stand_on_lines_of_cells():
    """Middles are even or odd along each axis, as the side is odd or even."""
    for sides, (face, axis) in product(BOXES, FACES.items()):
        before, after = turned(sides, axis)
        closes = (before[0] % 2 == after % 2).all()
        assert (why_not(face, dict(zip("RUF", sides, strict=True))) == "") == closes


def test_the_outline_is_left_when_a_quarter_turn_that_closes_brings_a_cell_where_none_was():
    for sides in BOXES:
        leaving = set()
        for face, axis in FACES.items():
            before, after = turned(sides, axis)
            if (before[0] % 2 == after % 2).all() and set(map(tuple, before)) != set(map(tuple, after)):
                leaving.add(face)
        assert leaves_the_outline("all", sides) == bool(leaving)
        assert not any(leaves_the_outline(turns, sides) for turns in ("half", "box", "R2+U2+F2"))
        for face in FACES:
            assert leaves_the_outline(f"U2+{face}'", sides) == (face in leaving)
