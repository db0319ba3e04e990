"""The fork: its numbers are those of going through all, and what is drawn is what was counted.

Exercises about what is half seen: every right answer is accepted, a hint says what was overlooked, nonsense is told kindly.
"""

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from matplotlib.colors import same_color
from matplotlib.patches import FancyArrowPatch, Rectangle

from oddswap.describing.changes import changed
from oddswap.describing.sights import covered
from oddswap.describing.tickets import read_ticket
from oddswap.lessons.half_a_picture import BAR, REACHED, Left, check_open, check_photograph, draw_fork, ways_left
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.verdicts.diagnosis import judged
from oddswap.reasoning.verdicts.explanations import completions
from oddswap.reasoning.verdicts.views import views
from oddswap.values.grammar import read_number

FOLDER = Path(__file__).parents[2] / "notebooks" / "tickets" / "half_seen"
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
    ax = draw_fork(puzzle, seen, whole, chosen).axes[0]
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
    figure = draw_fork(ticket.puzzle, ticket.appearance, shown, views(ticket.puzzle)[:2])
    figure.canvas.draw()
    boxes = [text.get_window_extent() for text in figure.axes[0].texts if len(text.get_text()) > 3]
    for i, box in enumerate(boxes):
        assert figure.bbox.contains(box.x0, box.y0) and figure.bbox.contains(box.x1, box.y1)
        assert not any(box.overlaps(other) for other in boxes[i + 1 :])


EDGES = ["UR", "UB", "UL"]


def right(note) -> bool:
    return note.text.startswith("Yes")


def test_a_photograph_decides_if_it_shows_of_each_edge_what_it_must():
    """Edges in front above and at the back below: four colours, all different, so one side of each tells all.

    A photograph that shows both sides of one edge shows nothing of the other, which may be flipped.
    """
    cube = load("cube:3")
    found = {"".join(view.facets): check_photograph("".join(view.facets), ["UF", "DB"], "cube:3") for view in views(cube)}
    for corner, note in found.items():
        sides_in_sight = [len(set(edge) & set(corner)) for edge in ("UF", "DB")]
        assert right(note) == (sides_in_sight == [1, 1]), corner
    assert right(check_photograph("lbu", ["UF", "DB"], "cube:3")), "sides in any order, large or small"


def test_the_hint_on_a_photograph_names_what_is_out_of_sight():
    note = check_photograph("UFR", EDGES, "cube:3")
    assert not right(note) and "too little is seen of" in note.text and "UB" in note.text and "UL" in note.text


def test_five_sides_leave_it_open_now_and_then():
    assert right(check_open("R D F", ["UFR", "UBL"], "cube:3")), "DR, BR and DB show one side each, in the colours D, R and B"
    assert not right(check_open("R U", ["UFR", "UBL"], "cube:3"))
    for moves in ("R D F", "R U", "U2 F B"):
        assert not right(check_open(moves, ["UFR", "DBL"], "cube:3")), "all six sides of the plain cube tell all"


CHECKS = [lambda answer: check_photograph(answer, ["UF"], "cube:3"), lambda answer: check_open(answer, ["UFR"], "cube:3")]


@pytest.mark.parametrize("check", CHECKS)
def test_an_empty_answer_is_neutral(check):
    assert check("  ").text.startswith("Nothing written yet") and check(None).text.startswith("Nothing written yet")


@pytest.mark.parametrize("check", CHECKS)
@settings(max_examples=25)
@given(st.one_of(st.none(), st.text("UDFBLR2'* 19", max_size=12), st.text(max_size=12)))
def test_nonsense_gets_a_kind_sentence(check, answer):
    assert check(answer).text
