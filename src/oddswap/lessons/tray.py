"""A tray of tiles to slide by clicking, its slots chequered, with the strings of the arrangement and what the law says of it."""

from functools import partial

import ipywidgets as widgets

from oddswap.describing.changes import changed
from oddswap.errors import BadOption, quoted
from oddswap.lessons.sliding_tiles import DARK, LIGHT, chequers
from oddswap.puzzles.flat.graphs import GraphPuzzle
from oddswap.showing.ink.flat import HOLE, token_colours
from oddswap.showing.ink.palette import BODY, ink_on
from oddswap.showing.ink.widgets import Note, Sheet, png
from oddswap.showing.pictures.strings import board_strings, crossings, describe_crossings, row_of
from oddswap.values.grammar import counted
from oddswap.values.position import Arrangement

CELL = 58
"""The side of a slot, in pixels."""
NOTHING = "\u00a0"
"""A space, because a browser leaves the old words on a button that is given none."""


class Tray(Sheet):
    """Click on a tile beside the blank to slide it. The frame of each slot has the colour that the chequering gives it."""

    def __init__(self, puzzle: GraphPuzzle, by_hand: tuple[str, str]):
        self.puzzle, self.by_hand = puzzle, by_hand
        self._paints = token_colours(puzzle.flat)
        self.cells = [_cell(colour) for colour in chequers(puzzle)]
        for slot, cell in enumerate(self.cells):
            cell.on_click(partial(self._clicked, slot))
        columns = len(set(puzzle.flat.positions[:, 0].tolist()))
        wide = {"width": f"{columns * CELL + 2}px", "margin": "6px 0 0 0"}
        self.swap = widgets.Button(description="Swap {} and {} by hand".format(*by_hand), layout=wide)
        self.again = widgets.Button(description="Start again", layout=wide)
        self.swap.on_click(lambda _: self._swapped())
        self.again.on_click(lambda _: self._begun())
        layout = {"grid_template_columns": f"repeat({columns}, {CELL}px)", "border": f"1px solid {BODY}", "width": "max-content"}
        wide_picture = {"width": "660px", "object_fit": "contain", "align_self": "flex-start"}
        self._picture = widgets.Image(format="png", layout=wide_picture)
        self._words = widgets.HTML()
        grid = widgets.GridBox(self.cells, layout=layout)
        left = widgets.VBox([grid, self.swap, self.again], layout={"flex": "0 0 auto", "margin": "0 14px 0 0"})
        super().__init__([widgets.HBox([left, self._picture]), self._words])
        self._begun()

    def _begun(self) -> None:
        self.state, self.slides, self.swaps, self.told = self.puzzle.solved, 0, 0, ""
        self._show()

    def _clicked(self, slot: int, _: widgets.Button) -> None:
        blank, words = self.state.pieces.index(self.puzzle.blank), row_of(self.puzzle, self.state)
        if slot in self.puzzle.neighbours[blank]:
            self.state, self.told = self.puzzle.follow(self.puzzle.slots[slot], self.state), ""
            self.slides += 1
        elif slot != blank:
            beside = " or ".join(words[other] for other in sorted(self.puzzle.neighbours[blank]))
            self.told = f"Tile {words[slot]} is not beside the blank, so it cannot slide: try {beside}."
        self._show()

    def _swapped(self) -> None:
        self.state = swapped(self.puzzle, self.state, *self.by_hand)
        self.swaps, self.told = self.swaps + 1, ""
        self._show()

    def _show(self) -> None:
        for cell, piece, word in zip(self.cells, self.state.pieces, row_of(self.puzzle, self.state), strict=True):
            token = self.puzzle.flat.tokens[piece]
            cell.description = word or NOTHING
            cell.style.button_color = self._paints[token.paint] if token else HOLE
            cell.style.text_color = ink_on(cell.style.button_color)
        self._picture.value = png(board_strings(self.puzzle, self.state), 110)
        self._words.value = Note(f"{self.told}\n{self.words}".strip())._repr_html_()

    @property
    def words(self) -> str:
        """What has been done, and what the law says of the arrangement."""
        done = f"{counted(self.slides, 'slides')}, {counted(self.swaps, 'swaps')} by hand."
        return f"{done} {tray_words(self.puzzle, self.state)}"

    def __repr__(self) -> str:
        return f"{' '.join(word or '-' for word in row_of(self.puzzle, self.state))}\n{self.words}"


def tray_words(puzzle: GraphPuzzle, state: Arrangement) -> str:
    """The crossings, the slot of the blank, and whether slides lead home.

    >>> from oddswap.puzzles.catalogue import load
    >>> board = load("tiles:2x2")
    >>> tray_words(board, board.follow("r2c1"))
    '1 crossing: odd. The blank is in a dark slot. Slides lead home.'
    """
    count = crossings(row_of(puzzle, puzzle.solved), row_of(puzzle, state))
    colour = ("light", "dark")[chequers(puzzle)[state.pieces.index(puzzle.blank)]]
    outcome = "Slides lead home." if puzzle.laws.reaches(state) else "No slides lead home."
    return f"{describe_crossings(count)}. The blank is in a {colour} slot. {outcome}"


def swapped(puzzle: GraphPuzzle, state: Arrangement, one: str, other: str) -> Arrangement:
    """The tiles that bear these words in each other's places. `BadOption` for a word that no tile bears."""
    words = row_of(puzzle, state)
    for word in (one, other):
        if word not in words or not word:
            raise BadOption(f"no tile of {puzzle.name} bears {quoted(word)}: its tiles bear {' '.join(filter(None, words))}")
    return changed(puzzle, [f"swap {puzzle.slots[words.index(one)]} {puzzle.slots[words.index(other)]}"], state)


def sliding_tray(puzzle: GraphPuzzle, by_hand: tuple[str, str] = ("7", "8")) -> Tray:
    """A tray to click on; a button swaps the two tiles ``by_hand``, which no slide would do.

    >>> from oddswap import lessons
    >>> lessons.sliding_tray("tiles:3x3")
    1 2 3 4 5 6 7 8 -
    0 slides, 0 swaps by hand. 0 crossings: even. The blank is in a light slot. Slides lead home.
    """
    swapped(puzzle, puzzle.solved, *by_hand)
    return Tray(puzzle, by_hand)


def _cell(colour: int) -> widgets.Button:
    layout = {"width": f"{CELL}px", "height": f"{CELL}px", "margin": "0", "border": f"6px solid {(LIGHT, DARK)[colour]}"}
    return widgets.Button(layout=layout, style={"font_size": "18px", "font_weight": "bold"})
