"""Sliding puzzles by name.

``tiles:RxC``: R rows and C columns of tiles and one blank, home at the last cell unless ``blank=`` names another.

Slots are ``r1c1`` … row by row. ``letters=`` puts letters on the tiles, in the order of their slots, and equal letters look
alike; without it they are numbered from 1.

``graph:2+1+2``: a blank on a graph of two junctions that paths join, with so many nodes on each path. The junctions are the slots
``west`` and ``east``; the nodes of the first path are ``a1``, ``a2`` … from west to east, those of the second ``b1`` …. The blank
is at home at ``east`` unless ``blank=`` names another slot; ``letters=`` as above (west, the paths, east).

``graph:2+1+2`` is the exceptional graph with seven nodes of Wilson (J. Combin. Theory B 16 (1974) 86-96): a hexagon with
a bridge of one node. It is not bipartite, and yet the loops at home are not all 720 arrangements of its six pieces: they
are a group of order 120, PGL(2, 5).
"""

import re
from itertools import pairwise
from string import ascii_lowercase

import numpy as np

from oddswap.errors import UnknownPuzzle, quoted
from oddswap.puzzles.base.space import FlatLayout, rounded_box
from oddswap.puzzles.flat.graphs import GraphPuzzle, drawn_graph, graph_puzzle, home_of_blank, tokens_of, words_on_pieces

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


def graph(name: str, size: str, options: dict[str, str]) -> GraphPuzzle:
    """The graph with so many nodes on its paths; ``letters`` and ``blank`` are taken out of ``options``.

    >>> graph("graph:2+1+2", "2+1+2", {}).slots
    ('west', 'a1', 'a2', 'b1', 'c1', 'c2', 'east')
    """
    if not re.fullmatch(r"\d\d?(\+\d\d?){1,5}", size, re.ASCII) or len([n for n in size.split("+") if not int(n)]) > 1:
        raise UnknownPuzzle(
            f"{quoted(f'graph:{size}')} is not offered: write two to six numbers of nodes on the paths from junction to "
            "junction, such as graph:2+1+2, at most one of them 0"
        )
    lengths = [int(n) for n in size.split("+")]
    nodes, edges, places = ["west"], [], [(-1.0, 0.0)]
    east = 1 + sum(lengths)
    for letter, length, bulge in zip(ascii_lowercase, lengths, np.linspace(1, -1, len(lengths)), strict=False):
        path = [0, *range(len(nodes), len(nodes) + length), east]
        edges += pairwise(path)
        nodes += [f"{letter}{i + 1}" for i in range(length)]
        angles = np.pi * np.arange(1, length + 1) / (length + 1)
        places += zip(-np.cos(angles), bulge * np.sin(angles), strict=True)
    nodes, places = [*nodes, "east"], [*places, (1.0, 0.0)]
    blank = home_of_blank(nodes, options)
    lettered = "letters" in options
    shown = words_on_pieces([node for node in nodes if node != nodes[blank]], blank, options)
    paints = [f"path {node[0]}" if node[-1].isdigit() else "junction" for node in nodes]
    paints = [f"letter {text}" for text in shown] if lettered else paints
    title = f"a blank on two junctions joined by paths of {' + '.join(map(str, lengths))} nodes"
    flat = drawn_graph(np.array(places), edges, tokens_of(shown, paints))
    return graph_puzzle(name, title, "pieces", nodes, edges, blank, shown, flat)
