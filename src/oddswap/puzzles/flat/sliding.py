"""Making sliding puzzles: a graph, the home of the blank, what the pieces show, and where all of it lies on paper."""

from collections.abc import Iterable, Mapping, Sequence
from types import MappingProxyType

import numpy as np

from oddswap.errors import BadOption, quoted
from oddswap.puzzles.base.layout import BEAD, FlatLayout, Token, circle, one_step_apart
from oddswap.puzzles.base.named import LIMIT, frozen
from oddswap.puzzles.base.puzzle import Kind, Turn
from oddswap.puzzles.flat.beads import told_apart
from oddswap.puzzles.flat.graphs import Edge, GraphPuzzle
from oddswap.values.orbits import numbered
from oddswap.values.sequence import Alphabet, Step


def graph_puzzle(
    name: str,
    title: str,
    word: str,
    nodes: Sequence[str],
    edges: Iterable[Edge],
    blank: int,
    shown: Sequence[object],
    flat: FlatLayout,
) -> GraphPuzzle:
    """The puzzle of a blank on a graph; pieces for which ``shown`` has equal things look alike.

    ``word`` is what the pieces are called, ``blank`` the number of the node where it is at home. `BadOption` unless the graph
    is connected, without doubled edges, and not too large.
    """
    nodes = tuple(nodes)
    if len(nodes) > LIMIT:
        raise BadOption(f"{quoted(name)} has {len(nodes)} nodes: at most {LIMIT} are offered")
    turns: dict[str, Turn] = {}
    pairs = []
    for one, other in edges:
        step = Step(f"{nodes[one]}-{nodes[other]}", 0, 0, 1, 2)
        if one == other or str(step) in turns or f"{nodes[other]}-{nodes[one]}" in turns:
            raise BadOption(f"the edge {step} {'joins a node to itself' if one == other else 'stands twice'}: take it out")
        images = list(range(len(nodes)))
        images[one], images[other] = other, one
        turns[str(step)] = Turn(str(step), step, frozen(images), slots=frozenset((one, other)))
        pairs.append((one, other))
    looks = frozen(numbered((i == blank, "" if i == blank else thing) for i, thing in enumerate(shown)))
    puzzle = GraphPuzzle(
        name=name,
        title=title,
        kinds=(Kind(word, word, nodes, 1, 0, 0),),
        turns=MappingProxyType(turns),
        alphabet=Alphabet(),
        looks=looks,
        flat=flat,
        blank=blank,
        edges=tuple(pairs),
    )
    reached = set(puzzle.shapes.rows[:, 0].tolist())
    for i, node in enumerate(nodes):
        if i not in reached:
            raise BadOption(f"no path leads from {node} to the blank at {nodes[blank]}: add an edge or leave the node out")
    return puzzle


def home_of_blank(nodes: Sequence[str], options: dict[str, str]) -> int:
    """The number of the node that the option ``blank`` names: the last one if it is not there."""
    home = options.pop("blank", nodes[-1])
    if home not in nodes:
        some = ", ".join(nodes[:3])
        raise BadOption(f"blank={quoted(home)} is no slot of this puzzle: its slots are called {some} and so on")
    return nodes.index(home)


def words_on_pieces(words: Sequence[str], blank: int, options: dict[str, str]) -> list[str | None]:
    """What stands on the pieces, slot by slot: ``words``, or what the option ``letters`` says; None for the blank."""
    letters = options.pop("letters", None)
    texts: list[str | None] = list(words if letters is None else told_apart("letters", letters, len(words)))
    texts.insert(blank, None)
    return texts


def tokens_of(texts: Sequence[str | None], paints: Sequence[str]) -> tuple[Token | None, ...]:
    """A token for each text, in these paints; None for the blank."""
    return tuple(None if text is None else Token(text, paint) for text, paint in zip(texts, paints, strict=True))


def drawn_graph(
    places: np.ndarray, edges: Iterable[Edge], tokens: tuple[Token | None, ...], colours: Mapping[str, str] = MappingProxyType({})
) -> FlatLayout:
    """Round pieces at these places (nodes, 2), the nearest 1 apart, and a groove for each edge."""
    places, _ = one_step_apart(places)
    grooves = tuple(places[list(edge)] for edge in edges)
    return FlatLayout(places, circle(BEAD), tokens, grooves, colours=colours)
