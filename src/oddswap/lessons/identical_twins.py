"""Every way that a puzzle can look, as a square each: coloured where moves lead, white where they do not.

Swap two pieces by hand, see what is seen, read the verdict, and lift the letters of the twins.

Exercises about twins: letters that make them, what is behind an appearance, beads that let a law seem broken.
"""

import re
from collections.abc import Mapping, Sequence

import ipywidgets as widgets
import numpy as np
from matplotlib.figure import Figure

from oddswap.describing.changes import changed
from oddswap.errors import BadOption, quoted
from oddswap.lessons.machinery.exercises import out_of_place, parts, slot_names, written
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.lookalikes import lookalikes
from oddswap.reasoning.verdicts.diagnosis import LOOKALIKE, ORDINARY, diagnose
from oddswap.showing.ink.canvas import lay_polygons, sheet, write
from oddswap.showing.ink.flat import draw_flat
from oddswap.showing.ink.palette import BODY, PALETTE, PAPER
from oddswap.showing.ink.widgets import Note, Sheet, kindly, png, undisturbed
from oddswap.showing.pictures.beside import draw_lifted
from oddswap.values.grammar import capital, listed

SIDE, PER_ROW, MOST = 0.12, 45, 16
"""The side of a square on the sheet; how many stand in a row; how many rows there is room for."""
MARGIN, HEAD = 0.2, 0.36


def draw_looks(reached: Sequence[bool], words: str) -> Figure:
    """``reached`` says of each appearance whether moves lead there; ``words`` stand before the numbers.

    >>> from oddswap import lessons
    >>> figure = lessons.draw_looks([True, False] * 200, "every second one")
    """
    rows = max(MOST, -(-len(reached) // PER_ROW))
    ax = sheet(2 * MARGIN + SIDE * PER_ROW, 2 * MARGIN + HEAD + SIDE * rows)
    top = MARGIN + SIDE * rows
    at = np.array([(MARGIN + SIDE * (i % PER_ROW), top - SIDE * (1 + i // PER_ROW)) for i in range(len(reached))])
    square = 0.82 * SIDE * np.array([[0, 0], [1, 0], [1, 1], [0, 1]])
    inks = [PALETTE["sky blue"] if there else PAPER for there in reached]
    squares = [square + corner for corner in at]
    lay_polygons(ax, squares, facecolors=inks, edgecolors=BODY, linewidths=0.6)
    write(ax, MARGIN, top + HEAD / 2, looks_words(reached, words), size=11, weight="bold", ha="left")
    return ax.figure


def looks_words(reached: Sequence[bool], words: str) -> str:
    """How many appearances there are and how many of them are reached.

    >>> looks_words([True, False], "ABC")
    'ABC: 2 ways to look, 1 of them reached'
    """
    there, every = sum(map(bool, reached)), len(reached)
    return f"{words}: {every} ways to look, {'all' if there == every else there} of them reached"


class TwinTable(Sheet):
    """``names`` of puzzles by the words that offer them; two slots to swap; a button that lifts the letters."""

    def __init__(self, names: Mapping[str, str]):
        self._names = dict(names)
        style, small = {"description_width": "5em"}, {"width": "11em"}
        self.which = widgets.Dropdown(options=list(self._names), description="Puzzle", style=style, layout={"width": "24em"})
        self.one, self.other = (widgets.Dropdown(description=said, style=style, layout=small) for said in ("Swap", "with"))
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
    """Lay out flat puzzles, by name; `BadOption` when there is none, or a solid among them.

    >>> from oddswap import lessons
    >>> lessons.twin_table({"six beads": "loop:6,window=4"})
    six beads: swap 1 2
    Verdict: ordinary. Here moves can make a swap of just two pieces.
    """
    if not names:
        raise BadOption("there is no puzzle to lay on the table: name at least one")
    for name in names.values():
        if load(name).flat is None:
            raise BadOption(f"{name} is a solid: this table is for flat puzzles")
    return TwinTable(names)


@kindly
def check_explanation(changes: str, seen: str, *, name: str) -> Note:
    """Whether ``changes`` by hand give what ``seen`` (changes, too) looks like, and moves lead there.

    >>> check_explanation("swap r2c2 r2c3", "swap r2c2 r2c3", name="tiles:3x3,letters=WORKSHOP")
    Not yet. It looks right, but no moves lead there. Look at this law: The tiles are always
    rearranged evenly: by an even number of swaps.
    """
    puzzle = load(name)
    state = changed(puzzle, parts(changes, "changes such as: swap r1c1 r1c2, swap r2c1 r2c2"))
    if wrong := out_of_place(puzzle, state, changed(puzzle, parts(seen, "changes"))):
        return Note(f"Not yet. With these changes it would look otherwise in {slot_names(puzzle, wrong)}.")
    if broken := law_book(puzzle).broken(state):
        return Note(f"Not yet. It looks right, but no moves lead there. Look at this law: {broken[0].statement}")
    return Note(f"Yes: {len(state.displaced())} pieces are away from home, it looks like what was brought, and moves lead there.")


@kindly
def check_lookalike(beads: str, swap: str, *, name: str = "loop:7,window=4") -> Note:
    """Whether with these letters on the beads a ``swap`` of two of them passes for a lookalike.

    >>> check_lookalike("abcdefg", "swap 1 2")
    Not yet. The verdict is "not by turning": no two beads look the same, so nothing can be
    hidden. Look at this law: The beads are always rearranged evenly: by an even number of
    swaps.
    """
    text, count = "" if beads is None else re.sub(r"\s", "", str(beads)), len(load(name).slots)
    written(text, f"{count} letters; equal letters make twins.")
    if not text.isalpha():
        return Note(f"{quoted(text)} is more than letters: write {count} letters, one for each piece.")
    if len(text) != count:
        return Note(f"These are {len(text)} letters: write {count}, one for each piece.")
    puzzle = load(f"{name},beads={text}")
    seen = puzzle.appearance(changed(puzzle, [swap]))
    if seen == puzzle.appearance(puzzle.solved):
        return Note("Not yet. The two beads that are swapped look the same, so nobody would bring it: make them differ.")
    found = diagnose(puzzle, seen)
    if found.verdict == LOOKALIKE:
        pairs = listed(" and ".join(culprit.pieces) for culprit in found.culprits)
        which = "" if len(found.culprits) == 1 else " one of these pairs of slots:"
        return Note(f"Yes: what is not what it seems are the beads at{which} {pairs}.")
    hint = "" if lookalikes(puzzle).twins else "no two beads look the same, so nothing can be hidden. "
    law = f"Look at this law: {found.broken[0].statement}" if found.broken else "No law is broken here."
    return Note(f'Not yet. The verdict is "{found.verdict}": {hint}{law}')
