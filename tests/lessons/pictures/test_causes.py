"""The picture of the four causes: in the diagnosis's own order and words, and true to the puzzle that it shows."""

import numpy as np
import pytest
from matplotlib.collections import PolyCollection
from matplotlib.colors import to_hex

from oddswap.describing.changes import changed
from oddswap.lessons.pictures.causes import CAUSES, LIFT, draw_causes, lifted_out
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.verdicts import diagnosis
from oddswap.showing.ink.camera import cameras
from oddswap.showing.ink.palette import HIGHLIGHT
from oddswap.showing.ink.scene import scene

PRISM, CUBE = load("shape-mod:prism8"), load("cube:3")


def polygons(figure) -> list[int]:
    """How many polygons each collection of a picture has, in the order in which they were laid on."""
    return [len(c.get_paths()) for c in figure.axes[0].collections if isinstance(c, PolyCollection)]


def test_the_cards_bear_the_verdicts_in_the_order_of_the_diagnosis():
    words = [text.get_text() for text in draw_causes(PRISM, changed(PRISM, ["flip UF"])).axes[0].texts]
    order = [diagnosis.ORDINARY, diagnosis.LOOKALIKE, diagnosis.OTHER_TURNS, diagnosis.NOT_BY_TURNING]
    assert [word for word in words if word[:1].isdigit()] == [f"{i}  {v}" for i, v in enumerate(order, 1)]
    assert [verdict for verdict, _ in CAUSES] == order


def test_words_stay_on_their_cards():
    figure = draw_causes(PRISM, PRISM.solved)
    figure.canvas.draw()
    ax = figure.axes[0]
    papers = [p.get_window_extent() for p in ax.patches]
    for text in ax.texts:
        box = text.get_window_extent()
        assert any(p.contains(box.x0, box.y0) and p.contains(box.x1, box.y1) for p in papers), text.get_text()


def test_only_a_puzzle_with_lookalikes_is_hatched_on_the_second_card():
    """The order of pictures: large, first card and its arrow, second, third and its arrow, the rest and the piece."""
    for puzzle, hatched in ((PRISM, True), (load("shape-mod:prism8,cut=0.3333"), True), (load("cube:2"), False)):
        large, _, _, second, *_ = polygons(draw_causes(puzzle, puzzle.solved))
        assert (second > large) == hatched


def test_the_pieces_that_the_text_speaks_of_are_outlined_on_the_large_picture_alone():
    figure = draw_causes(CUBE, CUBE.solved, highlight=["UF"])
    outlined = [any(to_hex(f).upper() == HIGHLIGHT for f in c.get_facecolor()) for c in figure.axes[0].collections]
    assert outlined[0] and not any(outlined[1:])


@pytest.mark.parametrize("slot", ["UFR", "UF", "F"])
def test_a_piece_is_lifted_straight_out_and_the_rest_stays(slot):
    number = CUBE.slot(slot)
    seen = scene(CUBE, CUBE.solved, cameras(CUBE)[0])
    rest, piece = lifted_out(seen, number)
    assert [p for p in seen.panels if p.slot != number] == list(rest.panels)
    own = [p for p in seen.panels if p.slot == number]
    steps = np.concatenate([b.vertices - a.vertices for a, b in zip(own, piece.panels, strict=True)])
    assert np.allclose(steps, steps[0]) and np.linalg.norm(steps[0]) == pytest.approx(LIFT)
    assert steps[0] @ seen.camera.direction > 0, "towards the eye, so that it hides what it is laid over"
