"""The picture of the four causes: in the diagnosis's own order and words, and true to the puzzle that it shows.

Exercises check themselves by computing: every right answer is accepted, and a hint names the law that was overlooked.

The marks on the picture count flips as the mechanism does, and two sequences that people know flip just two upper edges.
"""

from itertools import combinations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from matplotlib.collections import PolyCollection
from matplotlib.colors import to_hex

from oddswap.describing.changes import changed
from oddswap.lessons.stuck_puzzles import CAUSES, DOT, LIFT, RING, check_changes, draw_causes, draw_flip_marks, lifted_out
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


EDGES = CUBE.kinds[1].slots


def test_every_pair_of_flipped_edges_can_be_turned_right():
    """Common practice: two flips come together, one never does."""
    for one, other in combinations(EDGES, 2):
        assert check_changes(f"flip {one}, flip {other}", {CUBE.name: "ordinary"}).text.startswith("Yes")
        assert "number of flipped edges" in check_changes(f"flip {one}", {CUBE.name: "ordinary"}).text


@pytest.mark.parametrize("edge", [edge for edge in EDGES if edge[0] in "UD"])
def test_a_flip_that_is_false_on_the_prism_and_true_on_the_cube(edge):
    wanted = {CUBE.name: "not by turning", PRISM.name: "lookalike"}
    assert check_changes(f"flip {edge}", wanted).text.startswith("Yes")


def test_a_flip_that_nobody_can_see_is_no_answer():
    assert "looks solved" in check_changes("flip FL", {PRISM.name: "lookalike"}).text


def test_a_hint_names_a_law_that_fits_what_is_asked_for():
    assert "both evenly or both oddly" in check_changes("swap UF UR", {CUBE.name: "ordinary"}).text
    assert "lookalikes can mend it" in check_changes("flip UF, flip UR", {PRISM.name: "lookalike"}).text
    assert "No law of this puzzle" in check_changes("swap UFR UFL", {"cube:2": "lookalike"}).text


def test_an_empty_answer_is_neutral():
    assert check_changes(" , ", {CUBE.name: "ordinary"}).text.startswith("Nothing written yet")


@given(st.one_of(st.none(), st.integers(), st.text(max_size=30), st.lists(st.text(max_size=3), max_size=2)))
def test_nonsense_gets_a_kind_sentence(answer):
    told = check_changes(answer, {CUBE.name: "ordinary"}).text
    assert told and not told.startswith("Yes") and "\n" not in told


def parted(turns) -> int:
    """How many dots lie in no ring, read from the picture."""
    lines = draw_flip_marks(CUBE, turns).axes[0].lines
    places = {size: {tuple(np.round(line.get_xydata()[0], 6)) for line in lines if line.get_ms() == size} for size in (RING, DOT)}
    assert len(places[RING]) == len(places[DOT]) == 12
    return len(places[DOT] - places[RING])


@pytest.mark.parametrize(("turns", "flips"), [("", 0), ("U", 0), ("F", 4), ("B2", 0), ("F R", 4), ("F U F'", 2), ("R L2 D", 0)])
def test_a_dot_lies_beside_its_ring_where_an_edge_is_flipped(turns, flips):
    state = CUBE.follow(turns)
    assert parted(turns) == flips == sum(state.twists[slot] for slot in CUBE.kinds[1].places)


@pytest.mark.parametrize("turns", ["F' L' U' L U F", "F R U R' U' F'"])
def test_the_sequence_of_common_practice_and_its_mirror_image_flip_two_upper_edges(turns):
    """The second is known by heart to many who solve cubes (common practice)."""
    state = CUBE.follow(turns)
    assert all(CUBE.slots[slot].startswith("U") for slot in state.displaced())
    assert sum(state.twists[slot] for slot in CUBE.kinds[1].places) == 2
