"""``tiles:RxC``: R rows and C columns of tiles and one blank, home at the last cell unless ``blank=`` names another.

Slots are ``r1c1`` … row by row. ``letters=`` puts letters on the tiles, in the order of their slots, and equal letters look
alike; without it they are numbered from 1.
"""

import re

import numpy as np

from oddswap.errors import UnknownPuzzle, quoted
from oddswap.puzzles.base.layout import FlatLayout, rounded_box
from oddswap.puzzles.flat.graphs import GraphPuzzle
from oddswap.puzzles.flat.sliding import graph_puzzle, home_of_blank, tokens_of, words_on_pieces

LARGEST = 16


def tiles(name: str, size: str, options: dict[str, str]) -> GraphPuzzle:
    """The board of that size; ``letters`` and ``blank`` are taken out of ``options``.

    >>> tiles("tiles:3x3", "3x3", {}).follow("r3c2 r2c2").pieces
    (0, 1, 2, 3, 8, 5, 6, 4, 7)
    """
    match = re.fullmatch(r"(\d{1,4})x(\d{1,4})", size, re.ASCII)
    if match is None or not all(2 <= int(side) <= LARGEST for side in match.groups()):
        raise UnknownPuzzle(f"{quoted(f'tiles:{size}')} is not offered: write rows x columns, each from 2 to {LARGEST}")
    rows, columns = map(int, match.groups())
    cells = [(r, c) for r in range(rows) for c in range(columns)]
    nodes = [f"r{r + 1}c{c + 1}" for r, c in cells]
    edges = [(i, i + 1) for i, (_, c) in enumerate(cells) if c + 1 < columns]
    edges += [(i, i + columns) for i, (r, _) in enumerate(cells) if r + 1 < rows]
    blank = home_of_blank(nodes, options)
    lettered = "letters" in options
    shown = words_on_pieces([str(i + 1) for i in range(len(nodes) - 1)], blank, options)
    paints = [f"letter {text}" for text in shown] if lettered else [f"row {r + 1}" for r, _ in cells]
    places = np.array([(c - (columns - 1) / 2, (rows - 1) / 2 - r) for r, c in cells])
    tray = rounded_box(columns + 0.34, rows + 0.34, 0.22)
    flat = FlatLayout(places, rounded_box(0.94, 0.94, 0.1), tokens_of(shown, paints), plates=(tray,))
    return graph_puzzle(name, f"{rows} by {columns} sliding tiles", "tiles", nodes, edges, blank, shown, flat)
