"""Swap two pieces by hand, see what is seen, read the verdict, and lift the letters of the twins."""

from __future__ import annotations

from collections.abc import Mapping

import ipywidgets as widgets
from matplotlib.figure import Figure

from oddswap.describing.changes import changed
from oddswap.errors import BadOption
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.verdicts.diagnosis import LOOKALIKE, ORDINARY, diagnose
from oddswap.showing.ink.flat import draw_flat
from oddswap.showing.ink.notes import Note
from oddswap.showing.ink.widgets import Sheet, png, undisturbed
from oddswap.showing.pictures.lifted import draw_lifted
from oddswap.values.grammar import capital


class TwinTable(Sheet):
    """``names`` of puzzles by the words that offer them; two slots to swap; a button that lifts the letters."""

    def __init__(self, names: Mapping[str, str]):
        self._names = dict(names)
        style = {"description_width": "5em"}
        self.which = widgets.Dropdown(options=list(self._names), description="Puzzle", style=style, layout={"width": "24em"})
        self.one, self.other = (
            widgets.Dropdown(description=words, style=style, layout={"width": "11em"}) for words in ("Swap", "with")
        )
        self.lift = widgets.ToggleButton(description="Lift the letters", layout={"width": "12em"})
        self._picture = widgets.Image(format="png", layout={"max_width": "100%", "align_self": "flex-start"})
        self._words = widgets.HTML()
        controls = widgets.HBox([self.one, self.other, self.lift])
        super().__init__([self.which, controls, self._picture, self._words])
        self._loading = False
        self.which.observe(lambda _: self._taken(), "value")
        for control in (self.one, self.other, self.lift):
            control.observe(lambda _: self._show(), "value")
        self._taken()

    @property
    def puzzle(self) -> Puzzle:
        return load(self._names[self.which.value])

    def _taken(self) -> None:
        """Another puzzle: its first two pieces are swapped."""
        self._loading = True
        slots = [slot for number, slot in enumerate(self.puzzle.slots) if number != self.puzzle.blank]
        self.one.options = self.other.options = slots
        self.one.value, self.other.value, self.lift.value = *slots[:2], False
        self._loading = False
        self._show()

    @undisturbed()
    def _show(self) -> None:
        if not self._loading:
            figure = draw_swapped(self.puzzle, self.one.value, self.other.value, lifted=self.lift.value)
            self._picture.value, self._picture.layout.width = png(figure, 110), f"{100 * figure.get_figwidth():.0f}px"
            self._words.value = Note(self.words)._repr_html_()

    @property
    def words(self) -> str:
        """What is seen, and the verdict."""
        return swap_words(self.puzzle, self.one.value, self.other.value)

    def __repr__(self) -> str:
        return f"{self.which.value}: swap {self.one.value} {self.other.value}\n{self.words}"


def draw_swapped(puzzle: Puzzle, one: str, other: str, *, lifted: bool) -> Figure:
    """The puzzle after that swap by hand; ``lifted``: as moves can have made it, if they can, with its letters lifted."""
    if one == other:
        return draw_flat(puzzle, puzzle.solved, letters=True)
    state = changed(puzzle, [f"swap {one} {other}"])
    if not lifted:
        return draw_flat(puzzle, state, letters=True, highlight=[one, other])
    found = diagnose(puzzle, puzzle.appearance(state))
    return draw_lifted(puzzle, found.explanation or state)


def swap_words(puzzle: Puzzle, one: str, other: str) -> str:
    """What a swap by hand looks like, and whether moves can make what looks so.

    >>> swap_words(load("loop:6,window=4"), "1", "2")
    'Verdict: ordinary. Here moves can make a swap of just two pieces.'
    """
    if one == other:
        return "Choose two different slots to swap."
    seen = puzzle.appearance(changed(puzzle, [f"swap {one} {other}"]))
    if seen == puzzle.appearance(puzzle.solved):
        return f"The pieces of {one} and {other} look the same. Nobody can see that they were swapped."
    found = diagnose(puzzle, seen)
    told = f"Verdict: {found.verdict}."
    if found.verdict == LOOKALIKE and not found.culprits:
        return f"{told} {capital(found.notes[-1])}."
    if found.verdict == LOOKALIKE:
        ways = len(found.culprits)
        many = "" if ways == 1 else f" (That is one of {ways} possible pairs; nobody can see which.)"
        return f"{told} Moves can make what looks so: {found.culprits[0].words}.{many}"
    if found.verdict == ORDINARY:
        return f"{told} Here moves can make a swap of just two pieces."
    return f"{told} Moves cannot make what looks so. {found.broken[0].statement}"


def twin_table(names: Mapping[str, str]) -> TwinTable:
    """Lay out flat puzzles, by name; `BadOption` when there is none, or a solid among them."""
    if not names:
        raise BadOption("there is no puzzle to lay on the table: name at least one")
    for name in names.values():
        if load(name).flat is None:
            raise BadOption(f"{name} is a solid: this table is for flat puzzles")
    return TwinTable(names)
