"""*Which puzzle is it?*: a puzzle chosen by its picture, how a box is held, and the turns that this copy makes."""

from collections.abc import Callable, Iterable

import ipywidgets as widgets

from oddswap.desk.picture_parts import Chooser
from oddswap.errors import OddswapError
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import load

PUZZLES = ("cube:3", "cube:2", "cube:4", "shape-mod:prism8", "shape-mod:cube,axis=U,degrees=45", "cube:3,centres=marked")
PUZZLES += ("cuboid:2x3x4", "cuboid:3x3x4", "tetrahedron", "dodecahedron", "corner-cube", "tiles:4x4")
ACROSS = {"up to down": 1, "left to right": 0, "front to back": 2}
"""Which number of a cuboid's size belongs to each direction."""


class WhichPuzzle(widgets.Accordion):
    """The widget. ``chosen`` is called with another puzzle, ``limited`` with the same one whose turns are others.

    ``refused`` is called with a sentence where the ticked turns make no puzzle.
    """

    def __init__(
        self,
        names: Iterable[str],
        chosen: Callable[[Puzzle], None],
        limited: Callable[[Puzzle], None],
        refused: Callable[[OddswapError], None],
    ):
        self._chosen, self._limited, self._refused, self._quiet = chosen, limited, refused, False
        self.chooser = Chooser(names)
        self.tallest = widgets.Dropdown(
            options=list(ACROSS), description="Tallest, as you hold it:", style={"description_width": "initial"}
        )
        self.turns = widgets.HBox(layout={"flex_flow": "row wrap"})
        asked = widgets.HTML("Which turns does this copy make?")
        inside = widgets.VBox([self.chooser, self.tallest, asked, self.turns])
        super().__init__([inside], titles=["Which puzzle is it?"], selected_index=0)
        self._lay_ticks()
        self.chooser.observe(lambda _: self._changed(), "value")
        self.tallest.observe(lambda _: self._changed(), "value")

    @property
    def puzzle(self) -> Puzzle:
        """The puzzle that is chosen, with all its turns."""
        name = self.chooser.value
        if self._can_lie:
            *sizes, longest = sorted(map(int, name.removeprefix("cuboid:").split("x")))
            sizes.insert(ACROSS[self.tallest.value], longest)
            name = f"cuboid:{'x'.join(map(str, sizes))}"
        return load(name)

    @property
    def _can_lie(self) -> bool:
        """Whether it is a box that may be held another way than it is named."""
        return self.chooser.value.startswith("cuboid:") and "," not in self.chooser.value

    def show(self, name: str) -> None:
        """Mark a puzzle as the one chosen, or none where its picture is not among them, and call nobody."""
        self._quiet = True
        self.chooser.value = name if name in [known for known, *_ in self.chooser.options] else ""
        self._quiet = False
        self._lay_ticks()

    def _changed(self) -> None:
        if self.chooser.value and not self._quiet:
            self._lay_ticks()
            self._chosen(self.puzzle)

    def _lay_ticks(self) -> None:
        names = tickable(self.puzzle) if self.chooser.value else []
        box = {"value": True, "indent": False, "layout": {"width": "5em"}}
        self.turns.children = [widgets.Checkbox(description=turn, **box) for turn in names]
        for tick in self.turns.children:
            tick.observe(lambda _: self._ticked(), "value")
        self.tallest.layout.display = None if self._can_lie else "none"

    def _ticked(self) -> None:
        names = [tick.description for tick in self.turns.children if tick.value]
        puzzle = self.puzzle
        try:
            if len(names) < len(self.turns.children):
                puzzle = load(f"{puzzle.name},turns={'+'.join(names)}")
        except OddswapError as error:
            self._refused(error)
            return
        self._limited(puzzle)


def tickable(puzzle: Puzzle) -> list[str]:
    """The turns by slab, half turns apart; nothing where a puzzle takes no list of turns."""
    if puzzle.blank is not None or not puzzle.alphabet.is_box:
        return []
    return [name for name, turn in puzzle.turns.items() if not name.endswith("'") or turn.step.order != 4]
