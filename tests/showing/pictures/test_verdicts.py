"""The same sight on several puzzles, each with the verdict that a person would get from elsewhere."""

from matplotlib.colors import to_hex

from oddswap.describing.changes import changed
from oddswap.puzzles.catalogue import load
from oddswap.showing.ink.palette import HIGHLIGHT
from oddswap.showing.pictures.verdicts import draw_verdicts


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
