"""Pictures beside each other keep their size, do not overlap, and have their words beneath."""

import numpy as np
import pytest
from matplotlib.colors import to_hex

from oddswap.describing.changes import changed
from oddswap.errors import BadOption
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.opening.ways_map import ways_map
from oddswap.reasoning.search import kept_files
from oddswap.reasoning.verdicts.diagnosis import diagnose
from oddswap.showing.ink.canvas import INCHES
from oddswap.showing.ink.flat import draw_flat, placed
from oddswap.showing.ink.palette import HIGHLIGHT, PAPER
from oddswap.showing.pictures.beside import (
    LIFTED,
    MOST,
    NUMBER,
    SEEN,
    draw_board_and_strings,
    draw_boards,
    draw_explanations,
    draw_lifted,
    draw_lifted_letters,
    draw_verdicts,
    draw_ways,
    draw_xrays,
    lookalikes_counted,
)
from oddswap.showing.pictures.strings import board_strings

BOARD = load("tiles:3x3")


def boxes(figure):
    return {ax.get_label(): ax.get_position() for ax in figure.axes}


def test_each_picture_is_as_large_as_alone():
    drawn = {"as it lies": draw_flat, "its strings": board_strings}
    figure = draw_board_and_strings(BOARD, BOARD.solved)
    width, height = figure.get_size_inches()
    for words, draw in drawn.items():
        box, alone = boxes(figure)[words], draw(BOARD, BOARD.solved)
        assert (box.width * width, box.height * height) == pytest.approx(tuple(alone.get_size_inches()))
    assert boxes(figure)["as it lies"].x1 == pytest.approx(boxes(figure)["its strings"].x0)


def test_words_stand_beneath_the_middle_of_their_picture():
    figure = draw_boards({"one": (BOARD, BOARD.solved), "other": (BOARD, BOARD.follow("r3c2"))})
    page = next(ax for ax in figure.axes if ax.get_label() == "words")
    for text in page.texts:
        box = boxes(figure)[text.get_text()]
        x, y = (at / size for at, size in zip(text.get_position(), figure.get_size_inches() / INCHES, strict=True))
        assert x == pytest.approx((box.x0 + box.x1) / 2) and y < box.y0


def test_an_outlined_slot_is_outlined_on_each():
    plain, marked = (draw_boards({"a": (BOARD, BOARD.solved), "b": (BOARD, BOARD.solved)}, highlight=h) for h in ((), ["r1c1"]))
    alone = draw_flat(BOARD, BOARD.solved, highlight=["r1c1"])

    def edges(ax):
        return [tuple(c.get_edgecolor()[0]) for c in ax.collections if len(c.get_edgecolor())]

    for ax in marked.axes[:2]:
        assert edges(ax) == edges(alone.axes[0])
    assert edges(plain.axes[0]) != edges(alone.axes[0])


TRAY = load("tiles:3x3,letters=WORKSHOP")
BOTH = changed(TRAY, ["swap r2c2 r2c3", "swap r1c2 r3c1"])


def numbers(puzzle, figure):
    """The number that stands in each slot, where its letter is lifted."""
    spot, found = placed(puzzle.flat)[0], {}
    for text in figure.axes[0].texts:
        for slot, middle in zip(puzzle.slots, puzzle.flat.positions, strict=True):
            if np.allclose(text.get_position(), spot.place(middle + NUMBER)):
                found[slot] = text.get_text()
    return found


def bare(figure):
    """The edges of the pieces whose letters are lifted."""
    return [to_hex(c.get_edgecolor()[0]).upper() for c in figure.axes[0].collections if c.get_zorder() == 4]


@pytest.mark.parametrize(
    ("name", "changes", "beneath"),
    [
        ("tiles:3x3,letters=WORKSHOP", [], {"r1c2": "2", "r3c1": "7"}),
        ("tiles:3x3,letters=WORKSHOP", ["swap r1c2 r3c1"], {"r1c2": "7", "r3c1": "2"}),
        ("tiles:3x3,letters=WORKSHOP", ["cycle r1c1 r1c2 r3c1"], {"r3c1": "2", "r1c1": "7"}),
        ("loop:7,window=4,beads=abcdeff", ["swap 6 7"], {"6": "7", "7": "6"}),
        ("tiles:3x3", ["swap r1c1 r1c2"], {}),
    ],
)
def test_only_twins_are_lifted_and_the_number_is_that_of_their_own_slot(name, changes, beneath):
    puzzle = load(name)
    assert numbers(puzzle, draw_lifted(puzzle, changed(puzzle, changes))) == beneath


def test_a_lifted_piece_is_outlined_if_it_is_not_at_home():
    assert bare(draw_lifted(TRAY, BOTH)) == [HIGHLIGHT, HIGHLIGHT]
    assert HIGHLIGHT not in bare(draw_lifted(TRAY, changed(TRAY, ["swap r2c2 r2c3"])))
    assert len(bare(draw_lifted(TRAY, TRAY.solved))) == 2


def test_every_letter_is_still_there():
    """Lifted letters stand beside their numbers; the tray reads as before."""
    written = sorted(text.get_text() for text in draw_lifted(TRAY, BOTH).axes[0].texts if text.get_zorder() != 3.4)
    assert written == ["2", "7", "O", "O"]


def test_beside_it_stands_what_seems_so_with_what_seems_out_of_place():
    figure = draw_lifted_letters(TRAY, BOTH)
    seen, lifted = (next(ax for ax in figure.axes if ax.get_label() == words) for words in (SEEN, LIFTED))
    alone = draw_flat(TRAY, BOTH, letters=True, highlight=["r2c2", "r2c3"]).axes[0]

    def outlined(ax):
        return [to_hex(c.get_edgecolor()[0]).upper() == HIGHLIGHT for c in ax.collections if c.get_zorder() == 3.0]

    assert outlined(seen) == outlined(alone) and sum(outlined(seen)) == 2
    assert sum(outlined(lifted)) == 4


def test_the_explanations_of_one_appearance_read_the_same():
    found = diagnose(TRAY, TRAY.appearance(changed(TRAY, ["swap r2c2 r2c3"])))
    assert found.explanation == BOTH
    figure = draw_explanations(TRAY, {"one": found.first, "other": found.explanation})
    letters = [sorted(t.get_text() for t in ax.texts if t.get_text().isalpha()) for ax in figure.axes[:2]]
    assert letters[0] == letters[1]
    assert [to_hex(c.get_facecolor()[0]).upper() for c in figure.axes[0].collections if c.get_zorder() == 4] == [PAPER, PAPER]


def words(figure) -> list[str]:
    return [text.get_text() for text in figure.axes[0].texts]


def test_each_card_bears_its_verdict():
    """A lone flip: common practice on the cube; where an edge has a hidden half turn, computed independently."""
    puzzles = [load(name) for name in ("cube:3", "shape-mod:prism8", "shape-mod:prism8,cut=0.3333")]
    figure = draw_verdicts((puzzle, changed(puzzle, ["flip UF"])) for puzzle in puzzles)
    assert words(figure)[1::2] == ["not by turning", "lookalike", "not by turning"]
    assert [word.replace("\n", " ") for word in words(figure)[::2]] == [puzzle.title for puzzle in puzzles]


def test_the_number_of_flips_decides_on_the_cube():
    cube = load("cube:3")
    edges = ["UF", "UR", "UB", "UL"]
    figure = draw_verdicts((cube, changed(cube, [f"flip {e}" for e in edges[:n]])) for n in range(5))
    assert words(figure)[1::2] == ["ordinary", "not by turning", "ordinary", "not by turning", "ordinary"]


def test_outlined_pieces_are_outlined_on_every_card():
    cube = load("cube:3")
    plain, outlined = (draw_verdicts([(cube, cube.solved)] * 2, highlight=slots) for slots in ([], ["UF"]))
    for figure, expected in ((plain, False), (outlined, True)):
        for collection in figure.axes[0].collections:
            assert any(to_hex(face).upper() == HIGHLIGHT for face in collection.get_facecolor()) == expected


def test_words_stay_on_their_cards():
    puzzle = load("shape-mod:cube,axis=U,degrees=45")
    figure = draw_verdicts([(puzzle, puzzle.solved)])
    figure.canvas.draw()
    ax = figure.axes[0]
    paper, backdrop = (patch.get_window_extent() for patch in ax.patches)
    for text in ax.texts:
        box = text.get_window_extent()
        assert paper.contains(box.x0, box.y0) and paper.contains(box.x1, box.y1) and box.y1 <= backdrop.y0 + 1


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


@pytest.fixture(autouse=True)
def place(monkeypatch, tmp_path):
    monkeypatch.setenv(kept_files.VARIABLE, str(tmp_path))


def test_each_family_has_its_picture_its_length_and_an_excursion_that_closes_the_box():
    found = ways_map(load("cuboid:2x3x4"), 9)
    (ax,) = draw_ways(found).axes
    texts = [text.get_text() for text in ax.texts]
    moves = [way.moves for way in found.ways if way.moves]
    assert {f"in {len(each)} turns" for each in moves} | {"in 10 turns or more"} == {t for t in texts if t.startswith("in ")}
    for each in moves:
        written = " ".join(each)
        assert sum(text.endswith(f"\n{written}") for text in texts) == 1
        assert (found.box.outlines(written)[-1] == found.box.filled).all()
    assert sum(to_hex(c).upper() == HIGHLIGHT for c in edges(ax)) >= 2 * len(found.ways)


def edges(ax):
    return [colour for collection in ax.collections for colour in collection.get_edgecolor()]


def test_the_shortest_come_first_and_no_more_than_have_room():
    found = ways_map(load("cuboid:3x4x5"), 2)
    (ax,) = draw_ways(found).axes
    assert len(found.ways) > MOST and sum(text.get_text().startswith("in ") for text in ax.texts) == MOST


def test_all_writing_stays_on_the_sheet():
    figure = draw_ways(ways_map(load("cuboid:2x3x4"), 12))
    figure.canvas.draw()
    (ax,) = figure.axes
    box = ax.get_window_extent()
    for text in ax.texts:
        extent = text.get_window_extent()
        assert box.x0 <= extent.x0 and extent.x1 <= box.x1 and box.y0 <= extent.y0 and extent.y1 <= box.y1


def test_nothing_to_draw_is_said():
    with pytest.raises(BadOption, match="no families to draw"):
        draw_ways(ways_map(load("cuboid:2x2x4")))
