"""The photograph to ask for next: the arrow comes from where it is to be taken, and beside it stands what it will show."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from matplotlib.collections import PolyCollection
from matplotlib.patches import FancyBboxPatch

from oddswap.describing.reading import read_ticket
from oddswap.describing.sights import every_look
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.answers import answer
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.verdicts.diagnosis import diagnose, judged
from oddswap.reasoning.verdicts.views import after_view, views
from oddswap.showing.ink.scene import scene
from oddswap.showing.pages.folders import write_answer
from oddswap.showing.pictures.next_view import bystander, draw_next_view, photographer, shaft
from oddswap.values.position import Appearance
from oddswap.words.table import reader_of

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
    cube, prism, box = found = [judged(ticket.puzzle, ticket.appearance) for ticket in tickets().values()]
    assert [name[:2] for name in tickets()] == ["13", "14", "15"]
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
