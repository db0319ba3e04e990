"""The same sight on several puzzles, each with the verdict that a person would get from elsewhere."""

import pytest
from matplotlib.colors import to_hex

from oddswap.describing.changes import changed
from oddswap.errors import BadOption
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.opening.ways_map import ways_map
from oddswap.reasoning.search import kept_files
from oddswap.showing.ink.palette import HIGHLIGHT
from oddswap.showing.pictures.side_by_side import MOST, draw_verdicts, draw_ways, draw_xrays, lookalikes_counted


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
