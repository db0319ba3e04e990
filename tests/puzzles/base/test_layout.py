from io import BytesIO

import numpy as np
import pytest
from matplotlib.collections import PolyCollection
from matplotlib.colors import to_hex
from matplotlib.figure import Figure
from matplotlib.image import imread

from oddswap.errors import BadOption, UnknownColour, UnknownSlot
from oddswap.puzzles.base.space import circle, on_circle, one_step_apart, rounded_box
from oddswap.puzzles.catalogue import load
from oddswap.showing.ink.flat import FIRST, HOLE, draw_flat, placed, token_colours
from oddswap.showing.ink.palette import BODY, HIGHLIGHT, PALETTE, UNKNOWN, contrast
from oddswap.showing.pictures.prints import draw_prints
from oddswap.values.position import Appearance

NAMES = ["loop:20", "loop:4,window=4", "rings:4+4,cross=1", "rings:12+12+12"]
NAMES += ["tiles:4x4", "tiles:3x3,letters=aabcdefg", "graph:2+1+2"]


def texts(figure):
    """What is written on the pieces, by place on the sheet."""
    return {tuple(np.round(t.get_position(), 6)): t.get_text() for t in figure.axes[0].texts}


def pieces(figure):
    """Face and edge of every piece, hole and shadow, by the middle of its outline."""
    found = {}
    for collection in figure.axes[0].collections:
        if isinstance(collection, PolyCollection) and collection.get_zorder() in (2.0, 3.0):
            for path, face in zip(collection.get_paths(), collection.get_facecolor(), strict=True):
                low, high = path.vertices.min(axis=0), path.vertices.max(axis=0)
                edge = to_hex(collection.get_edgecolor()[0]).upper()
                found[tuple(((low + high) / 2).round(6))] = (to_hex(face).upper(), edge)
    return found


def stripes(figure):
    return sum(len(c.get_paths()) for c in figure.axes[0].collections if c.get_zorder() == 3.1)


def in_slots(puzzle, figure, found):
    """What was found at the places of the slots, in their order: they lie on the sheet as in the layout, but for scale."""
    places = np.array(list(pieces(figure)))
    layout = puzzle.flat.positions
    scale = np.ptp(places, axis=0).max() / np.ptp(layout, axis=0).max()
    moved = (layout - layout.min(axis=0)) * scale + places.min(axis=0)
    nearest = [tuple(places[np.linalg.norm(places - at, axis=1).argmin()]) for at in moved]
    assert np.allclose(nearest, moved, atol=0.02)
    return [found.get(at) for at in nearest]


@pytest.mark.parametrize("name", NAMES)
def test_scrambled_states_show_each_piece_in_its_slot(name):
    puzzle = load(name)
    moves = {"loop": "push3 swing push swing" if name != "loop:4,window=4" else "push swing", "rings": "a b' a b"}
    moves |= {"tiles": f"{puzzle.slots[-2]} {puzzle.slots[-3]}", "graph": "c2 c1"}
    state = puzzle.follow(moves[name.partition(":")[0]])
    figure = draw_flat(puzzle, state)
    tokens = [puzzle.flat.tokens[p] for p in state.pieces]
    colours = token_colours(puzzle.flat)
    assert in_slots(puzzle, figure, texts(figure)) == [token and token.text for token in tokens]
    assert in_slots(puzzle, figure, pieces(figure)) == [(colours[t.paint] if t else HOLE.upper(), BODY) for t in tokens]


def test_colours_alone_tell_beads_apart_until_letters_are_asked_for():
    puzzle = load("rings:7+7,cross=2,beads=6+6")
    assert texts(draw_flat(puzzle, puzzle.solved)) == {}
    assert sorted(texts(draw_flat(puzzle, puzzle.solved, letters=True)).values()) == ["a"] * 6 + ["b"] * 6


def test_more_letters_than_colours_are_always_written():
    puzzle = load("loop:26,beads=abcdefghijklmnopqrstuvwxyz")
    assert len(texts(draw_flat(puzzle, puzzle.solved))) == 26


def test_words_read_well_on_their_colours():
    """WCAG 2.2, 1.4.3: 4.5 to 1."""
    puzzle = load("loop:26,beads=abcdefghijklmnopqrstuvwxyz")
    figure = draw_flat(puzzle, puzzle.solved)
    faces = pieces(figure)
    for text in figure.axes[0].texts:
        face, _ = faces[min(faces, key=lambda at: np.hypot(*np.subtract(at, text.get_position())))]
        assert contrast(to_hex(text.get_color()), face) >= 4.5


def test_only_twins_are_hatched_and_the_key_says_so():
    puzzle = load("tiles:3x3,letters=aabcdefg")
    figure = draw_flat(puzzle, puzzle.solved, xray=True)
    one = stripes(draw_flat(puzzle, puzzle.solved, xray=["r1c1"]))
    assert stripes(draw_flat(puzzle, puzzle.solved)) == 0
    assert stripes(figure) == 2 * one > 0
    assert "has a twin that looks the same" in texts(figure).values()
    assert "has a twin that looks the same" not in texts(draw_flat(puzzle, puzzle.solved)).values()


def test_highlighted_slots_are_outlined():
    puzzle = load("rings:4+4,cross=1")
    figure = draw_flat(puzzle, puzzle.follow("a"), highlight=["2", 4])
    edges = [edge for _, edge in in_slots(puzzle, figure, pieces(figure))]
    assert edges == [BODY, HIGHLIGHT, BODY, BODY, HIGHLIGHT, BODY]
    with pytest.raises(UnknownSlot):
        draw_flat(puzzle, puzzle.solved, highlight=["9"])


def test_what_is_not_known_and_what_cannot_be_are_marked():
    puzzle = load("tiles:3x3")
    sights = list(puzzle.appearance(puzzle.follow("r3c2")).sights)
    sights[:3] = frozenset(range(9)), frozenset(), frozenset({0, 1})
    figure = draw_flat(puzzle, Appearance(puzzle.name, tuple(sights)))
    shown = in_slots(puzzle, figure, texts(figure))
    assert shown == ["?", "!", "?", "4", "5", "6", "7", None, "8"]
    faces = [face for face, _ in in_slots(puzzle, figure, pieces(figure))]
    top = token_colours(puzzle.flat)["row 1"]
    assert faces[:3] == [UNKNOWN, UNKNOWN, top]
    assert faces[7] == HOLE.upper()


def test_an_appearance_is_drawn_as_the_arrangement_that_it_is_of():
    puzzle = load("loop:6,window=4,beads=aabbcd")
    state = puzzle.follow("push swing")
    one, other = (draw_flat(puzzle, shown, letters=True) for shown in (state, puzzle.appearance(state)))
    assert texts(one) == texts(other) and pieces(one) == pieces(other)


def test_paints_get_the_palette_or_the_colour_that_they_name(tmp_path):
    path = tmp_path / "named.toml"
    kinds = '[[kind]]\nname = "discs"\nslots = "1 2 3 4"\nlooks = { 1 = "gold", 2 = "dull", 3 = "own" }\n'
    path.write_text(f'[moves]\na = "(1 2 3 4)"\n{kinds}[colours]\nown = "#123456"\n')
    colours = token_colours(load(f"custom:{path}").flat)
    assert colours["gold"] == "#FFD700" and colours["own"] == "#123456"
    assert colours["dull"] == PALETTE[FIRST[0]]


def test_the_marks_of_a_twisted_piece_point_where_it_is_turned(tmp_path):
    path = tmp_path / "turned.toml"
    path.write_text('[moves]\na = "(1 1+1 1+2 1+3)"\n[[kind]]\nname = "dial"\nslots = "1 2"\ntwist = 4\n')
    puzzle = load(f"custom:{path}")
    for moves, way in (("", (0, 1)), ("a", (1, 0)), ("a2", (0, -1)), ("a'", (-1, 0))):
        figure = draw_flat(puzzle, puzzle.follow(moves))
        wedge = next(c for c in figure.axes[0].collections if c.get_zorder() == 3.3).get_paths()[0].vertices
        middle = max(pieces(figure), key=lambda at: at[1])
        tip = wedge[np.linalg.norm(wedge - middle, axis=1).argmax()] - middle
        assert tip / np.linalg.norm(tip) == pytest.approx(way, abs=1e-6)


def test_the_picture_itself_shows_the_hole_and_the_tile_beside_it():
    """Pixels: the middle of the hole, and of the tile a spot at the upper left that no word covers."""
    puzzle, held = load("tiles:2x2"), BytesIO()
    figure = draw_flat(puzzle, puzzle.solved)
    figure.savefig(held, format="png", dpi=figure.dpi)
    held.seek(0)
    picture = imread(held)
    tile, hole = sorted(pieces(figure), key=lambda at: (at[1], at[0]))[:2]

    def colour(x, y):
        across, up = figure.axes[0].transData.transform((x, y))
        return to_hex(picture[len(picture) - 1 - int(up), int(across)]).upper()

    assert colour(*hole) == HOLE.upper()
    assert colour(tile[0] - 0.17, tile[1] + 0.15) == token_colours(puzzle.flat)["row 2"]


def test_it_draws_on_axes_that_are_given():
    figure = Figure()
    ax = figure.add_subplot(1, 2, 1)
    assert draw_flat(load("loop:5"), load("loop:5").solved, ax=ax) is figure
    assert len(ax.texts) == 5


def test_a_solid_has_no_flat_picture():
    with pytest.raises(BadOption, match="draw its prints"):
        draw_flat(load("cube:2"), load("cube:2").solved)


def test_shapes_on_paper():
    assert on_circle([0.5, 0.75], 2, (1, 0)) == pytest.approx(np.array([[1, -2], [-1, 0]]))
    assert np.linalg.norm(circle(3) - (0, 0), axis=1) == pytest.approx(3)
    assert circle(1)[0] == pytest.approx(circle(1)[-1])
    box = rounded_box(4, 2, 0.5, (1, 1))
    assert np.ptp(box, axis=0) == pytest.approx((4, 2)) and box.mean(axis=0) == pytest.approx((1, 1))
    points, (line,) = one_step_apart(np.array([[0, 0], [0, 4], [3, 4]]), [np.array([[3.0, 3.0]])])
    assert points.tolist() == [[0, 0], [0, 4 / 3], [1, 4 / 3]] and line.tolist() == [[1, 1]]


def test_own_colours_are_by_paint_with_a_key():
    puzzle = load("rings:7+7,cross=2,beads=6+6")
    colours = token_colours(puzzle.flat, {"a": "#123456"})
    assert colours["a"] == "#123456" and colours["b"] in PALETTE.values()
    figure = draw_flat(puzzle, puzzle.solved, colours={"a": "#123456"})
    assert [face for face, _ in in_slots(puzzle, figure, pieces(figure))] == [colours[t.paint] for t in puzzle.flat.tokens]
    without = draw_flat(puzzle, puzzle.solved, colours={"a": "#123456"}, caption=False)
    assert "yours | in our lessons" in set(texts(figure).values()) - set(texts(without).values())
    assert [face for face, _ in in_slots(puzzle, without, pieces(without))] == [colours[t.paint] for t in puzzle.flat.tokens]
    with pytest.raises(UnknownColour, match="no `c` to colour: its colours are for a, b"):
        draw_flat(puzzle, puzzle.solved, colours={"c": "red"})


def test_the_prints_of_a_flat_puzzle_are_its_flat_picture():
    puzzle = load("tiles:3x3,letters=aabcdefg")
    options = {"letters": True, "xray": ["r1c1"], "highlight": ["r2c2"], "colours": {"letter a": "gold"}}
    one, other = draw_prints(puzzle, puzzle.solved, **options), draw_flat(puzzle, puzzle.solved, **options)
    assert texts(one) == texts(other) and pieces(one) == pieces(other) and stripes(one) == stripes(other) > 0


def test_where_a_layout_is_put_is_known_beforehand():
    puzzle = load("loop:20")
    spot, width, height = placed(puzzle.flat)
    figure = draw_flat(puzzle, puzzle.solved)
    assert (figure.axes[0].get_xlim()[1], figure.axes[0].get_ylim()[1]) == pytest.approx((width, height))
    written = {t.get_text(): t.get_position() for t in figure.axes[0].texts}
    for slot, at in zip(puzzle.slots, spot.place(puzzle.flat.positions), strict=True):
        assert written[slot] == pytest.approx(at)
