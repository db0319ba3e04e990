"""Walks from shape to shape: turn by turn with buttons, and what the law of the closed box says where the shape is home again.

A turn that the shape does not allow has a button that cannot be pressed. An exercise: to count shapes.
"""

from __future__ import annotations

import ipywidgets as widgets

from oddswap.lessons.machinery.exercises import written_number
from oddswap.puzzles.base.shape_tree import STAGES, around_home
from oddswap.puzzles.base.shapes import Shaped
from oddswap.puzzles.boxes.box import BoxPuzzle
from oddswap.puzzles.boxes.lifting import lowered
from oddswap.puzzles.catalogue import kept_in_the_box, load
from oddswap.reasoning.laws.law_book import law_book
from oddswap.showing.ink.notes import Note, kindly
from oddswap.showing.ink.widgets import Sheet, png, undisturbed
from oddswap.showing.pictures.shape_maps import LONGEST, Told, draw_walk
from oddswap.values.grammar import counted
from oddswap.values.permutation import sign
from oddswap.values.position import Arrangement


def law_at_home(box: BoxPuzzle, state: Arrangement) -> str:
    """What the laws of the turns that keep the outline say of a box that is closed again, or why they say nothing.

    >>> from oddswap import load
    >>> box = load("cuboid:1x3x3,turns=all")
    >>> [law_at_home(box, box.follow(moves)) for moves in ("U2", "B F' U2 F B'", "U")]
    ['1 flipped, corners odd: law kept', '1 flipped, corners even: law BROKEN', 'not at home: no law']
    """
    closed = kept_in_the_box(box)
    seen = lowered(closed, box, state)
    if seen is None:
        return "as no half turn leaves it: no law" if box.closed(state) else "not at home: no law"
    corners = [slot for slot in seen.pieces if closed.kind_of[slot].family == "corners"]
    first = min(corners)
    order = "even" if sign([piece - first for piece in corners]) > 0 else "odd"
    laws = law_book(closed)
    verdict = ("law BROKEN" if laws.broken(seen) else "law kept") if laws.laws else "no law"
    return f"{sum(seen.twists)} flipped, corners {order}: {verdict}"


class Walk(Sheet):
    """A button for each turn; the last turns of the walk beneath, with what ``told`` says wherever it comes home."""

    def __init__(self, puzzle: Shaped, told: Told | None):
        self.puzzle, self.told, self.path = puzzle, told, ()
        self.buttons = {name: widgets.Button(description=name, layout={"width": "62px"}) for name in puzzle.turns}
        self.back, self.again = (widgets.Button(description=words) for words in ("One turn back", "Home, start again"))
        for name, button in self.buttons.items():
            button.on_click(lambda _, name=name: self._walked((*self.path, name)))
        self.back.on_click(lambda _: self._walked(self.path[:-1]))
        self.again.on_click(lambda _: self._walked(()))
        self._picture = widgets.Image(
            format="png", layout={"max_width": "100%", "object_fit": "contain", "align_self": "flex-start"}
        )
        self._words = widgets.HTML()
        turns = widgets.Box([*self.buttons.values()], layout={"flex_flow": "row wrap", "max_width": "620px"})
        super().__init__([turns, widgets.HBox([self.back, self.again]), self._picture, self._words])
        self._walked(())

    @undisturbed()
    def _walked(self, path: tuple[str, ...]) -> None:
        self.path = path
        allowed = {turn.name for turn in self.puzzle.legal(self.state)}
        for name, button in self.buttons.items():
            button.disabled = name not in allowed
        before = self.puzzle.follow(" ".join(path[:-LONGEST]))
        figure = draw_walk(self.puzzle, " ".join(path[-LONGEST:]), before, told=self.told)
        self._picture.value, self._picture.layout.width = png(figure, 110), f"{85 * figure.get_figwidth():.0f}px"
        self._words.value = Note(self.words)._repr_html_()

    @property
    def state(self) -> Arrangement:
        return self.puzzle.follow(" ".join(self.path))

    @property
    def words(self) -> str:
        """The turns so far, how many can be made now, and what is said of the arrangement."""
        way, possible = " ".join(self.path) or "no turn yet", counted(len(self.puzzle.legal(self.state)), "turns")
        return f"{way}. {possible} can be made here" + (f". {self.told(self.puzzle, self.state)}" if self.told else "")

    def __repr__(self) -> str:
        return self.words


def walk(puzzle: Shaped, told: Told | None = None) -> Walk:
    """A walk from home to take by clicking on turns; ``told`` says something of the puzzle and its arrangement.

    >>> from oddswap import lessons
    >>> lessons.walk("cuboid:1x3x3,turns=all", lessons.law_at_home)
    no turn yet. 12 turns can be made here. 0 flipped, corners even: law kept
    """
    return Walk(puzzle, told)


@kindly
def check_shapes(answer: object, name: str) -> Note:
    """Whether somebody counted the shapes that the turns of a puzzle lead to.

    >>> check_shapes("4", "cuboid:1x2x5,turns=all")
    Yes: 4 shapes, of which 2 are one turn from home.
    """
    given, shapes = written_number(answer, "70."), around_home(load(name), STAGES[0])
    if given == len(shapes):
        return Note(f"Yes: {len(shapes)} shapes, of which {shapes.levels[1]} are one turn from home.")
    hint = "Is one missing that needs two turns?" if given < len(shapes) else "Is one there twice, in other colours?"
    return Note(f"Not yet. Make every turn from every shape until nothing new comes, home included. {hint}")
