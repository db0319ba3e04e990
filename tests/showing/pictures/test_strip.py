"""Strips: the right pictures in the right order, with arrows that turn as the moves do; and one move, large."""

import matplotlib.pyplot as plt
import numpy as np
import pytest
from matplotlib.colors import to_hex

from oddswap.puzzles.base.space import turn_matrix
from oddswap.puzzles.catalogue import load
from oddswap.showing.ink.arrows import arc, ribbon
from oddswap.showing.ink.camera import cameras
from oddswap.showing.ink.palette import ARROW, colours_for, mix
from oddswap.showing.pictures.strip import (
    FRAME,
    GUTTER,
    MARGIN,
    draw_move,
    draw_shapes_on_the_way,
    draw_strip,
    draw_turns,
    made_by,
    shape_changes,
)

CUBE = load("cube:3")
SEQUENCES = ["R U R' U'", "Rw U2 M' x F", "x y2 R z' E S", "[R: U] (F D2)2"]


def texts(figure):
    return [text.get_text() for text in figure.axes[0].texts if text.get_text()]


@pytest.mark.parametrize("moves", SEQUENCES)
def test_the_turns_of_the_pictures_together_are_the_sequence(moves):
    puzzle = load("cube:3,centres=marked")
    steps = puzzle.read(moves).steps
    made, _ = made_by(puzzle, steps)
    image = puzzle.permutation(puzzle.solved)
    for turn in (turn for turns in made for turn in turns):
        image = turn.permutation[image]
    assert len(made) == len(steps)
    assert puzzle.arrangement(image) == puzzle.follow(moves)


@pytest.mark.parametrize("name", ["cube:2", "cube:3,centres=none"])
def test_where_nothing_fixes_the_holding_the_pictures_leave_it_out(name):
    puzzle = load(name)
    made, note = made_by(puzzle, puzzle.read("R x U").steps)
    assert [[turn.name for turn in turns] for turns in made] == [["R"], [], ["F"]]
    assert "holding" in note


def test_names_and_numbers_stand_by_the_pictures():
    puzzle = load("cube:3")
    assert texts(draw_strip(puzzle, puzzle.solved, "R U2 F'")) == ["1", "R", "2", "U2", "3", "F'", "result"]


def test_names_as_the_core_sees_them_stand_by_where_they_differ():
    """From the definitions of the notation: Rw turns L for the core and then the holding by x, which brings F to U."""
    puzzle = load("cube:3")
    words = texts(draw_strip(puzzle, puzzle.solved, "Rw U x"))
    assert words[:7] == ["1", "Rw", "core: L", "2", "U", "core: F", "3"]
    assert words[7:] == ["x", "the whole puzzle", "result", words[-1]] and "stay with the core" in words[-1]


@pytest.mark.parametrize(("moves", "pictures"), [("", 1), ("R", 2), ("R U R' U' R U R' U'", 9)])
def test_there_is_a_picture_for_each_move_and_one_for_the_result(moves, pictures):
    puzzle = load("cube:2")
    ax = draw_strip(puzzle, puzzle.solved, moves).axes[0]
    stickers = [c for c in ax.collections if len(c.get_paths()) > 10]
    assert len(stickers) == pictures


def test_the_highlight_follows_the_piece():
    """R takes the piece at FR to UR, and U takes that to UF: of its two stickers both show each time."""
    puzzle = load("cube:3")
    figure = draw_strip(puzzle, puzzle.solved, "R U", highlight=["FR"])
    pictures = [c for c in figure.axes[0].collections if len(c.get_paths()) > 10]
    magenta = [(np.abs(c.get_facecolors()[:, :3] - (181 / 255, 0, 107 / 255)).max(axis=1) < 0.01).sum() for c in pictures]
    assert magenta == [2, 2, 2]


def test_the_x_ray_follows_the_piece():
    """U leaves the piece at FR in sight and R takes it to UR, where it shows two stickers; the edges of the top never hatch."""
    puzzle = load("shape-mod:prism8")

    def hatched(**options):
        figure = draw_strip(puzzle, puzzle.solved, "U R", **options)
        pictures = [c for c in figure.axes[0].collections if len(c.get_paths()) > 10]
        return [len(c.get_paths()) for c in pictures]

    plain, shown = hatched(), hatched(xray=["FR"])
    assert all(more > fewer + 5 for more, fewer in zip(shown, plain, strict=True))
    assert hatched(xray=["UF"]) == plain


@pytest.mark.parametrize("name", ["cube:3", "shape-mod:prism8", "shape-mod:cube,axis=U,degrees=45"])
def test_arrows_run_the_way_the_slab_turns(name):
    puzzle = load(name)
    for turn in puzzle.turns.values():
        for camera in cameras(puzzle):
            points = arc(puzzle, puzzle.solved, turn, camera)
            step = turn_matrix(turn.axis, np.sign(turn.angle) * 0.01)
            forward = points[:-1] @ step.T - points[:-1]
            assert ((points[1:] - points[:-1]) * forward).sum(axis=1).min() > 0


@pytest.mark.parametrize("name", ["cube:3", "shape-mod:prism8", "shape-mod:cube,axis=U,degrees=45", "shape-mod:prism3"])
def test_arrows_and_pieces_stay_within_their_pictures(name):
    puzzle = load(name)
    moves = " ".join(puzzle.turns)
    ax = draw_strip(puzzle, puzzle.follow("R U2 F' L D R' B2 U"), moves, per_row=1).axes[0]
    left, right = MARGIN + GUTTER, MARGIN + GUTTER + FRAME
    for collection in ax.collections:
        points = np.concatenate([path.vertices for path in collection.get_paths()])
        assert left < points[:, 0].min() and points[:, 0].max() < right
        assert np.ptp(points[:, 1]) < FRAME


def test_half_turns_have_longer_arrows():
    puzzle, camera = load("cube:3"), cameras(load("cube:3"))[0]

    def length(move):
        return np.linalg.norm(np.diff(arc(puzzle, puzzle.solved, puzzle.turns[move], camera), axis=0), axis=1).sum()

    assert length("U2") > 1.3 * length("U") == pytest.approx(1.3 * length("U'"))


def test_an_arrow_ends_in_its_tip():
    shape = ribbon(np.array([[0.0, 0.0], [0.5, 0.0], [1.0, 0.0]]), 0.1)
    assert shape[:, 0].max() == pytest.approx(1.0)
    assert shape[shape[:, 0].argmax()] == pytest.approx([1.0, 0.0])
    assert np.ptp(shape[:, 1]) > 0.2


@pytest.mark.parametrize(
    ("name", "moves", "words"),
    [
        ("tiles:3x3", "r3c2-r3c3 r2c2", ["r3c2", "r2c2"]),
        ("graph:2+1+2", "c2 c1-c2", ["c2", "c1"]),
        ("loop:9", "push2 swing'", ["push2", "swing"]),
        ("rings:4+4,cross=1", "(a b')2", ["a", "b'", "a", "b'"]),
    ],
)
def test_puzzles_without_a_solid_have_strips_too(name, moves, words):
    puzzle = load(name)
    figure = draw_strip(puzzle, puzzle.solved, moves)
    names = [text.get_text() for text in figure.axes[0].texts if text.get_size() == 10.5]
    assert names == [*words, "result"]
    frames = [p for p in figure.axes[0].patches if p.get_width() == p.get_height() == FRAME]
    assert len(frames) == len(words) + 1


def test_flat_strips_stay_within_their_pictures_and_show_what_comes_out():
    for name, moves in (("tiles:2x5", "r2c4 r1c4"), ("rings:12+12+12", "a b' c"), ("loop:20", "push swing push'")):
        puzzle = load(name)
        ax = draw_strip(puzzle, puzzle.solved, moves, per_row=1).axes[0]
        left, right = MARGIN + GUTTER, MARGIN + GUTTER + FRAME
        for collection in ax.collections:
            for path in collection.get_paths():
                assert left < path.vertices[:, 0].min() and path.vertices[:, 0].max() < right
        last = [t for t in ax.texts if t.get_text().isdigit() and t.get_position()[1] < MARGIN + FRAME + 0.3]
        words = sorted(t.get_text() for t in last if t.get_size() != 7)
        assert words == sorted(token.text for token in puzzle.flat.tokens if token)


def test_pieces_that_stay_are_paler():
    puzzle = load("tiles:2x2")
    ax = draw_strip(puzzle, puzzle.solved, "r2c1").axes[0]
    faces = [tuple(c.get_facecolor()[0].round(3)) for c in ax.collections if c.get_zorder() == 3.0]
    first, result = faces[:3], faces[3:]
    assert first[2] in result and first[0] not in result and first[1] not in result


def inks(figure) -> list[set[str]]:
    """The colours of each collection."""
    return [{to_hex(face).upper() for face in c.get_facecolor()} for c in figure.axes[0].collections]


def test_both_points_of_view_of_the_prints_are_named():
    words = [text.get_text() for text in draw_move(CUBE, CUBE.solved).axes[0].texts]
    assert words == [camera.words for camera in cameras(CUBE)]


def test_at_rest_nothing_is_faded_and_nothing_turns():
    first, second = inks(draw_move(CUBE, CUBE.solved))
    stickers = set(colours_for(CUBE).values())
    assert stickers <= first | second


@pytest.mark.parametrize("name", ["R", "U'", "D2", "B"])
def test_a_turn_has_an_arrow_in_each_picture_and_the_rest_is_faded(name):
    figure = draw_move(CUBE, CUBE.solved, [CUBE.turns[name]])
    pictures, arrows = inks(figure)[::2], inks(figure)[1::2]
    assert len(pictures) == len(arrows) == 2
    assert all(ARROW in colours for colours in arrows)
    faded = {mix(colour, "#FFFFFF", 0.62) for colour in colours_for(CUBE).values()}
    assert all(faded & colours for colours in pictures)


def test_the_visitors_colours_are_used():
    first, second = inks(draw_move(CUBE, CUBE.solved, colours={"U": "#123456"}))
    assert "#123456" in first | second


def test_another_move_is_another_picture():
    one, other = (
        np.concatenate([p.vertices for p in draw_move(CUBE, CUBE.solved, [CUBE.turns[t]]).axes[0].collections[0].get_paths()])
        for t in ("R", "R'")
    )
    assert one.shape != other.shape or not np.allclose(one, other)


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


@pytest.mark.parametrize(
    "name, moves, drawn",
    [
        ("cube:2", "R U x2 R'", ["U", "R", "x2"]),
        ("cube:3", "M' y R2", ["R", "M'"]),
        ("cuboid:2x2x3", "U2 F' U2", ["U2", "F"]),
        ("cube:3,turns=half", "R2 U2", ["U2", "R2"]),
    ],
)
def test_each_turn_that_is_named_has_its_picture(name, moves, drawn):
    """Half turns of boxes, middle layers, and whole-puzzle rotations where these move pieces, too."""
    figure = draw_turns(load(name), moves)
    texts = [text.get_text() for text in figure.axes[0].texts]
    assert [text for text in texts if text in {"U", "R", "x2", "M'", "y", "U2", "F", "R2", "x", "M"}] == drawn
    plt.close(figure)
