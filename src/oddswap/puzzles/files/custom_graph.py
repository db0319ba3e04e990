"""A blank on a graph, from a puzzle file; the format is told in `oddswap.puzzles.files.custom`."""

import re

from oddswap.errors import BadOption, quoted
from oddswap.puzzles.base.layout import Token
from oddswap.puzzles.base.named import LIMIT
from oddswap.puzzles.files.custom_looks import colours_in, looks_in, places_in
from oddswap.puzzles.files.puzzle_file import NAME, PuzzleFile
from oddswap.puzzles.flat.graphs import Edge, GraphPuzzle
from oddswap.puzzles.flat.sliding import drawn_graph, graph_puzzle

KEYS = ("title", "graph", "places", "colours")


def sliding_from(file: PuzzleFile, name: str) -> GraphPuzzle:
    """The puzzle of a file that has a table ``[graph]``."""
    file.table("the file", file.data, KEYS)
    table = file.table("the table graph", file.data["graph"], ("edges", "blank", "looks"), "graph")
    nodes: dict[str, int] = {}
    edges: list[Edge] = []
    for word in file.words("edges", table.get("edges"), "graph", "edges").split():
        ends = re.fullmatch(rf"({NAME})-({NAME})", word)
        if ends is None:
            raise file.error(f"{quoted(word)} is no edge: write the names of two nodes as in a-b", "graph", "edges")
        edges.append((nodes.setdefault(ends[1], len(nodes)), nodes.setdefault(ends[2], len(nodes))))
    if len(nodes) > LIMIT:
        raise file.error(f"there are {len(nodes)} nodes: at most {LIMIT} are offered", "graph", "edges")
    slots = list(nodes)
    home = file.words("blank", table.get("blank"), "graph", "blank")
    if home not in nodes:
        raise file.error(f"the blank is at {quoted(home)}, which no edge names", "graph", "blank")
    pieces = [slot for slot in slots if slot != home]
    looks = looks_in(file, table.get("looks", {}), pieces, 1, "graph", "looks")
    shown = [(True, looks[slot][0]) if slot in looks else (False, slot) for slot in slots]
    tokens = [
        None if slot == home else Token(text, text if given else "pieces")
        for slot, (given, text) in zip(slots, shown, strict=True)
    ]
    flat = drawn_graph(places_in(file, slots), edges, tuple(tokens), colours_in(file))
    try:
        return graph_puzzle(name, file.title(), "pieces", slots, edges, nodes[home], shown, flat)
    except BadOption as error:
        raise file.error(str(error), "graph", "edges") from None
