"""The prints, read back from the SVG file: how often each colour is there, what is written, what is hatched."""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path

import numpy as np
import pytest
from matplotlib.collections import PolyCollection
from matplotlib.colors import to_hex
from matplotlib.figure import Figure
from matplotlib.patches import FancyBboxPatch

from oddswap.describing.sights import every_look
from oddswap.describing.tickets import read_ticket
from oddswap.errors import UnknownColour, UnknownSlot
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.answers import answer
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.laws.lookalikes import lookalikes
from oddswap.reasoning.verdicts.diagnosis import diagnose, judged
from oddswap.reasoning.verdicts.views import after_view, views
from oddswap.showing.ink.canvas import save
from oddswap.showing.ink.painting import box_of
from oddswap.showing.ink.palette import BODY, HIGHLIGHT, LESSON, PAPER, UNKNOWN, colours_for
from oddswap.showing.ink.scene import scene
from oddswap.showing.pages.folders import write_answer
from oddswap.showing.pictures.prints import bystander, draw_next_view, draw_prints, photographer, shaft
from oddswap.values.position import Appearance
from oddswap.words.table import reader_of


def fills(figure, path):
    """How many shapes of each colour the SVG of a figure has."""
    text = save(figure, path / "figure.svg").read_text("utf-8")
    return Counter(colour.upper() for colour in re.findall(r'style="[^"]*fill: (#[0-9a-f]{6})', text))


def written(figure):
    return Counter(text.get_text() for text in figure.axes[0].texts)


@pytest.mark.parametrize(("name", "each"), [("cube:2", 4), ("cube:3", 9), ("shape-mod:cube,axis=URF,degrees=60", None)])
def test_the_two_prints_show_every_sticker_of_a_solved_cube_once(tmp_path, name, each):
    puzzle = load(name)
    shown = fills(draw_prints(puzzle, puzzle.solved), tmp_path)
    stickers = Counter(LESSON[face.facet] for body in puzzle.geometry.bodies for face in body.faces if face.facet is not None)
    assert {colour: shown[colour] for colour in LESSON.values()} == stickers
    assert each is None or set(stickers.values()) == {each}


def test_a_scrambled_cube_still_shows_nine_of_each(tmp_path):
    puzzle = load("cube:3")
    shown = fills(draw_prints(puzzle, puzzle.follow("R U2 F' L D R' B2 U")), tmp_path)
    assert [shown[LESSON[face]] for face in "UDFBLR"] == [9] * 6


def test_own_colours_come_with_a_key_that_names_the_lessons_colours(tmp_path):
    puzzle = load("cube:3")
    own = dict(zip("UDFBLR", ["#101010", "#202020", "#303030", "#404040", "#505050", "#606060"], strict=True))
    shown = fills(draw_prints(puzzle, puzzle.solved, colours=own), tmp_path)
    for face, colour in own.items():
        assert shown[colour] == 9 + 1
        assert shown[LESSON[face]] == 1


def test_letters_name_each_colour_once_for_every_sticker():
    puzzle = load("cube:3")
    texts = written(draw_prints(puzzle, puzzle.solved, letters=True))
    assert [texts[face] for face in "UDFBLR"] == [9] * 6
    assert not set("UDFBLR") & set(written(draw_prints(puzzle, puzzle.solved)))


def test_what_is_not_known_is_neutral_with_a_question_mark(tmp_path):
    puzzle = load("cube:3")
    sights = list(puzzle.appearance(puzzle.solved).sights)
    sights[puzzle.slot("UFR")] = frozenset()
    figure = draw_prints(puzzle, Appearance(puzzle.name, tuple(sights)))
    assert written(figure)["?"] == 3
    assert fills(figure, tmp_path)[UNKNOWN] == 3


def test_captions_say_where_from_and_can_be_left_out():
    puzzle = load("cube:3")
    assert {"from the front right, above", "the same, from the back left, below"} <= set(
        written(draw_prints(puzzle, puzzle.solved))
    )
    assert set(written(draw_prints(puzzle, puzzle.solved, colours={"U": "pink"}, caption=False))) == {""}


def test_the_x_ray_hatches_the_lookalikes_and_only_those():
    """The lookalikes of the octagonal prism with its corner facets alike, as derived in the table of shapes."""
    puzzle = load("shape-mod:prism8,paint=FR+FL+BR+BL")
    assert len(lookalikes(puzzle).twins) == 3
    texts = written(draw_prints(puzzle, puzzle.solved, xray=True))
    assert texts["has a twin that looks the same"] == 1
    assert texts["can be turned without a trace"] == 1
    assert texts["has a twin, and can be turned without a trace"] == 1
    chosen = written(draw_prints(puzzle, puzzle.solved, xray=["FL", puzzle.slot("UF")]))
    assert "has a twin, and can be turned without a trace" in chosen and "has a twin that looks the same" not in chosen


def test_hatching_lies_on_the_hatched_stickers():
    puzzle = load("shape-mod:prism8")

    def black(**options):
        figure = draw_prints(puzzle, puzzle.solved, **options)
        return sum((c.get_facecolors() == (0, 0, 0, 1)).all(axis=1).sum() for c in figure.axes[0].collections[:2])

    assert black() == black(xray=["UF"]) == 0
    assert black(xray=["FL"]) > 5


def test_highlighted_pieces_are_outlined_in_the_colour_for_it(tmp_path):
    puzzle = load("cube:3")
    shown = fills(draw_prints(puzzle, puzzle.solved, highlight=["UFR", "DB"]), tmp_path)
    assert shown[HIGHLIGHT] == 3 + 2
    assert shown[BODY] == 54 - 5


@pytest.mark.parametrize(("name", "prints"), [("cube:3", 2), ("shape-mod:cube,axis=URF,degrees=60", 3)])
def test_a_third_print_comes_where_two_leave_stickers_hidden(tmp_path, name, prints):
    puzzle = load(name)
    figure = draw_prints(puzzle, puzzle.follow("R U2 F' L D R' B2 U"))
    assert fills(figure, tmp_path)[PAPER] == prints


def test_it_draws_on_axes_that_are_given():
    ax = Figure().add_subplot()
    puzzle = load("cube:2")
    assert draw_prints(puzzle, puzzle.solved, ax=ax) is ax.figure
    assert len(ax.collections) == 2


def test_words_from_a_visitor_are_never_read_as_mathematics(tmp_path):
    puzzle = load("cube:3")
    with pytest.raises(UnknownColour):
        draw_prints(puzzle, puzzle.solved, colours={"U": "$\\frac{1}{2}$"})
    with pytest.raises(UnknownSlot):
        draw_prints(puzzle, puzzle.solved, highlight=["$U$"])


@pytest.mark.parametrize("name", ["cube:3", "shape-mod:prism8", "shape-mod:prism12", "shape-mod:cube,axis=U,degrees=45"])
def test_the_puzzle_stays_within_its_print(name):
    puzzle = load(name)
    figure = draw_prints(puzzle, puzzle.follow("R U2 F' L D R' B2 U"))
    ax = figure.axes[0]
    backdrops = [patch.get_xy() for patch in ax.patches if patch.get_zorder() % 10 == pytest.approx(0.2)]
    for collection, frame in zip(ax.collections, backdrops, strict=False):
        points = np.concatenate([path.vertices for path in collection.get_paths()])
        sides, gaps = np.diff(frame[:5], axis=0), points[:, None] - frame[:4]
        assert (sides[:, 0] * gaps[..., 1] - sides[:, 1] * gaps[..., 0] > 0).all()


def test_colours_of_facets_that_share_them_are_drawn_alike(tmp_path):
    puzzle = load("shape-mod:prism8,paint=FR+FL+BR+BL")
    shown = fills(draw_prints(puzzle, puzzle.solved), tmp_path)
    assert shown[colours_for(puzzle)["FR"]] >= 12


@pytest.mark.parametrize(
    ("name", "letters"), [("cube:7", 6 * 49), ("dodecahedron", 12 * 11), ("octahedron", 8 * 9), ("cube:5,centres=marked", 6 * 25)]
)
def test_letters_find_room_on_small_stickers_and_beside_marks(name, letters):
    puzzle = load(name)
    texts = written(draw_prints(puzzle, puzzle.solved, letters=True, caption=False))
    facets = puzzle.geometry.facets
    assert sum(texts[facet] for facet in facets) == letters
    assert len({texts[facet] for facet in facets}) == 1


@pytest.mark.parametrize("name", ["cube:4", "dodecahedron", "cube:5,centres=marked", "shape-mod:cube,axis=U,degrees=45"])
def test_each_letter_stands_whole_on_a_sticker_of_its_colour(name):
    """The corners of each letter's box are looked up in the picture: the last polygon laid there has the letter's colour."""
    puzzle = load(name)
    moves = " ".join(list(puzzle.turns)[:: max(1, len(puzzle.turns) // 5)])
    ax = draw_prints(puzzle, puzzle.follow(moves), letters=True, caption=False).axes[0]
    colours = colours_for(puzzle)
    found = 0
    for text in (t for t in ax.texts if t.get_text() in puzzle.geometry.paints.values()):
        zorder = text.get_zorder() - 0.1
        (picture,) = [c for c in ax.collections if c.get_zorder() == pytest.approx(zorder)]
        for corner in box_of(np.array(text.get_position()), text.get_text(), text.get_size()):
            (last, *_) = [i for i, path in reversed(list(enumerate(picture.get_paths()))) if path.contains_point(corner)]
            assert to_hex(picture.get_facecolor()[last]).upper() == colours[text.get_text()]
        found += 1
    assert found > 20


FOLDER = Path(__file__).parents[3] / "notebooks" / "tickets" / "half_seen"
SOLIDS = ["cube:3", "shape-mod:prism8", "cuboid:2x3x4", "tetrahedron", "octahedron", "corner-cube"]


def tickets():
    return {path.stem: read_ticket(path) for path in sorted(FOLDER.glob("*.toml"))}


@pytest.mark.parametrize("name", SOLIDS)
def test_the_photographer_sees_the_facets_of_the_view_and_the_bystander_sees_the_arrow(name):
    """A facet is seen where the eye lies beyond its plane. Seen end on, an arrow of length 1 would have length 0."""
    puzzle = load(name)
    for view in views(puzzle):
        eye, aside = photographer(puzzle, view).eye, bystander(puzzle, view)
        for facet in view.facets:
            far = max((f.vertices @ puzzle.geometry.facets[facet]).max() for b in puzzle.geometry.bodies for f in b.faces)
            assert puzzle.geometry.facets[facet] @ eye > far
        arrow = shaft(puzzle, view)
        seen = aside.project(arrow[[0, -1]])
        assert np.linalg.norm(seen[0] - seen[1]) > 0.6 * np.linalg.norm(arrow[0] - arrow[-1])
        assert aside.direction @ view.direction > 0.4, "the photographer is on the bystander's side of the puzzle"


def test_no_part_of_the_puzzle_reaches_to_the_arrows_tip():
    for name in SOLIDS:
        puzzle = load(name)
        points = np.concatenate([face.vertices for body in puzzle.geometry.bodies for face in body.faces])
        for view in views(puzzle):
            assert (points @ view.direction).max() < (shaft(puzzle, view) @ view.direction).min()


@pytest.mark.parametrize("name", SOLIDS)
def test_both_prints_with_their_question_marks_and_words_on_the_sheet(name):
    puzzle = load(name)
    nothing = Appearance(name, tuple(every_look(puzzle, b) for b in range(len(puzzle.slots))))
    first, *_, last = views(puzzle)
    known = after_view(puzzle, first, nothing, puzzle.appearance(puzzle.solved))
    figure = draw_next_view(puzzle, known, last)
    figure.canvas.draw()
    (ax,) = figure.axes
    texts = [text for text in ax.texts]
    said = {" ".join(text.get_text().split()) for text in texts}
    assert {"stand here", "what the photograph will show", last.words[:1].upper() + last.words[1:], "?"} <= said
    for text in texts:
        box = text.get_window_extent()
        assert figure.bbox.contains(box.x0, box.y0) and figure.bbox.contains(box.x1, box.y1)
    assert sum(isinstance(patch, FancyBboxPatch) for patch in ax.patches) == 2
    panels = len(scene(puzzle, known, photographer(puzzle, last)).open().panels)
    assert panels in [len(found.get_paths()) for found in ax.collections if isinstance(found, PolyCollection)]


def test_our_letters_cannot_be_told_yet_and_ask_for_a_photograph():
    """Two layers done and one edge upside down: 4! 3^4 corners and 3! 2^3 edges are open, one in 12 of them can be."""
    typed = {name: ticket for name, ticket in tickets().items() if name[:2] in ("13", "14", "15")}
    cube, prism, box = found = [judged(ticket.puzzle, ticket.appearance) for ticket in typed.values()]
    assert {diagnosis.verdict for diagnosis in found} == {"cannot tell yet"} and "one in 6" in box.notes[2]
    ticket = tickets()["15_box_from_one_corner"]
    found = diagnose(ticket.puzzle, ticket.appearance)
    assert found.asked_view.words == found.ask_next[0] and "D" in found.asked_view.facets
    assert "one in 12" in cube.notes[2] and "no turning leads to it" in cube.notes[1]
    assert "false parity" in prism.notes[1]


def test_an_answer_comes_with_the_picture_and_the_reply_refers_to_it(tmp_path):
    ticket = tickets()["13_cube_two_layers_done"]
    written = write_answer(answer(ticket.puzzle, ticket.appearance, Budget(5)), tmp_path, reader_of(ticket))
    assert {path.name for path in written} == {"answer.md", "answer.html", "reply.md", "proof.json", "seen.png", "next_view.png"}
    texts = {path.suffix + path.stem: path.read_text("utf-8") for path in written if path.suffix != ".png"}
    assert "The picture that comes with this" in texts[".mdreply"] and "(next_view.png)" in texts[".mdanswer"]
    assert 'img alt="one photograph from the corner' in texts[".htmlanswer"]
    assert (tmp_path / "answer.html").stat().st_size < 500_000
    ticket = read_ticket(FOLDER.parent / "11_small_cube_held_anyhow.toml")
    later = write_answer(answer(ticket.puzzle, ticket.appearance, Budget(20)), tmp_path)
    assert "next_view.png" not in {path.name for path in tmp_path.iterdir()} and (tmp_path / "reply.md") in later
    assert "The picture that comes" not in (tmp_path / "reply.md").read_text("utf-8")
