"""The fork: its numbers are those of going through all, and what is drawn is what was counted."""

from pathlib import Path

import pytest
from matplotlib.colors import same_color
from matplotlib.patches import FancyArrowPatch, Rectangle

from oddswap.describing.changes import changed
from oddswap.describing.sights import covered
from oddswap.describing.tickets import read_ticket
from oddswap.lessons.pictures.fork import BAR, REACHED, Left, fork, ways_left
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.verdicts.completions import completions
from oddswap.reasoning.verdicts.diagnosis import judged
from oddswap.reasoning.verdicts.views import views
from oddswap.values.grammar import read_number

FOLDER = Path(__file__).parents[3] / "notebooks" / "tickets" / "half_seen"
TWO_FLIPPED = ["flip UF", "flip UR"]


def branches(name: str, *corners: int):
    ticket = read_ticket(FOLDER / f"{name}.toml")
    puzzle = ticket.puzzle
    return puzzle, ticket.appearance, puzzle.appearance(changed(puzzle, TWO_FLIPPED)), [views(puzzle)[i] for i in corners]


@pytest.mark.parametrize(
    ("name", "slots"),
    [
        ("cube:3", ["UF", "UR", "UB"]),
        ("cube:2", ["UFR", "UBL"]),
        ("shape-mod:prism8", ["UF", "FL", "FR"]),
        ("cuboid:2x2x3,turns=half", ["UFR", "UFL", "UBR"]),
        ("tiles:2x3,letters=AABCD", ["r1c1", "r1c2", "r2c1"]),
    ],
)
def test_ways_are_those_that_going_through_all_finds(name, slots):
    puzzle = load(name)
    wholes = completions(puzzle, covered(puzzle, slots), 500)
    reached = sum(judged(puzzle, whole).verdict in ("ordinary", "lookalike") for whole in wholes)
    assert ways_left(puzzle, covered(puzzle, slots)) == (reached, len(wholes))


def test_what_is_decided():
    assert [Left(*pair).verdict[:11] for pair in ((1, 2), (2, 2), (0, 3))] == ["still mixed", "decided: tu", "decided: no"]


@pytest.mark.parametrize(
    ("name", "corners", "numbers"),
    [
        ("13_cube_two_layers_done", (1, 3), [(7776, 93312), (1, 2), (1, 1)]),
        ("13_cube_two_layers_done", (4,), [(7776, 93312), (2, 24)]),
        ("14_octagon_two_layers_done", (1, 3), [(15552, 93312), (2, 4), (1, 2)]),
    ],
)
def test_the_bars_are_filled_to_the_share_that_turning_leads_to(name, corners, numbers):
    """4! 3^4 3! 2^3 = 93 312 by elementary counting; one in 12 for the cube (Bandelow 1982)."""
    puzzle, seen, whole, chosen = branches(name, *corners)
    ax = fork(puzzle, seen, whole, chosen).axes[0]
    boxes = [patch for patch in ax.patches if isinstance(patch, Rectangle) and patch.get_height() == pytest.approx(BAR)]
    rows: dict[tuple, list] = {}
    for box in boxes:
        left = [one for one in rows if one[1] == box.get_y()]
        rows.setdefault(left[0] if left else (box.get_x(), box.get_y()), []).append(box)
    texts = " ".join(text.get_text().replace("\n", " ") for text in ax.texts)
    for (possible, total), bar in zip(numbers, rows.values(), strict=True):
        filled = sum(same_color(box.get_facecolor(), REACHED) for box in bar)
        assert filled * total == possible * len(bar) and f"leads to {read_number(possible)} of them" in texts
    assert len([patch for patch in ax.patches if isinstance(patch, FancyArrowPatch)]) == len(corners)


@pytest.mark.parametrize("name", ["13_cube_two_layers_done", "14_octagon_two_layers_done", "15_box_from_one_corner"])
def test_words_stay_apart_and_on_the_sheet(name):
    ticket = read_ticket(FOLDER / f"{name}.toml")
    whole = completions(ticket.puzzle, ticket.appearance, 100_000 if "box" in name else 0)
    shown = whole[0] if whole else ticket.puzzle.appearance(changed(ticket.puzzle, TWO_FLIPPED))
    figure = fork(ticket.puzzle, ticket.appearance, shown, views(ticket.puzzle)[:2])
    figure.canvas.draw()
    boxes = [text.get_window_extent() for text in figure.axes[0].texts if len(text.get_text()) > 3]
    for i, box in enumerate(boxes):
        assert figure.bbox.contains(box.x0, box.y0) and figure.bbox.contains(box.x1, box.y1)
        assert not any(box.overlaps(other) for other in boxes[i + 1 :])
