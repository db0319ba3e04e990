"""A blank that slides on a graph: the piece at the other end of an edge slides into it, so a move depends on the blank.

Every node is a slot, and the blank is a piece of its own. An elementary turn is an edge: it exchanges what is at its two
ends, and may be made only while the blank is at one of them. So the place of the blank is the shape (see `base.shapes`).
`graph_puzzle` makes one; what its pieces show, and where it lies on paper, is said by what stands beside that.
"""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType

import numpy as np

from oddswap.errors import BadOption, NotationError, UnknownMove, quoted
from oddswap.puzzles.base.named import LIMIT, NamedPuzzle, frozen
from oddswap.puzzles.base.puzzle import Kind, Turn
from oddswap.puzzles.base.shape_tree import Shapes, around_home
from oddswap.puzzles.base.shapes import Shaped
from oddswap.puzzles.base.space import BEAD, FlatLayout, Token, circle, one_step_apart
from oddswap.puzzles.flat.beads import told_apart
from oddswap.values import sequence
from oddswap.values.orbits import numbered
from oddswap.values.position import START, Appearance, Arrangement, Holding
from oddswap.values.sequence import Alphabet, Step

Edge = tuple[int, int]


@dataclass(frozen=True, eq=False, repr=False, kw_only=True)
class GraphPuzzle(Shaped, NamedPuzzle):
    """A sliding puzzle. ``blank`` is the home slot of the blank, ``edges`` are pairs of slot numbers.

    ``generators`` generate the loops at home, so all of them keep the blank.

    Moves are written as the names of the slots from which pieces slide into the blank, such as ``r2c3 r2c2``. An edge
    may be named by both of its ends, ``r2c3-r3c3``; read backwards, such names undo the sequence.
    """

    blank: int
    edges: tuple[Edge, ...]

    shape_first = False

    @cached_property
    def void(self) -> frozenset[int]:
        """The blank alone."""
        return frozenset((self.blank,))

    def shape_of(self, permutation: np.ndarray) -> np.ndarray:
        """The slot of the blank."""
        return np.array([permutation[self.blank]], dtype=np.uint8)

    def arrows(self, shapes: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Over each edge the blank moves to the other end, if it is at one of them."""
        one, other = np.array(self.edges, dtype=np.uint8).reshape(-1, 2).T[:, :, None]
        at = shapes[:, 0]
        after = np.where(at == one, other, one)
        return after[:, :, None], (at == one) | (at == other)

    def standing(self, appearance: Appearance) -> Iterator[np.ndarray]:
        """With the blank in each slot that may show it, exchanged with the piece of that slot."""
        look = int(self.looks[self.blank])
        for slot in (b for b, sight in enumerate(appearance.sights) if look in sight):
            image = np.arange(self.degree)
            image[[slot, self.blank]] = self.blank, slot
            yield image

    @cached_property
    def neighbours(self) -> tuple[Mapping[int, Turn], ...]:
        """For each slot, the turn that joins it to each of its neighbours."""
        table: list[dict[int, Turn]] = [{} for _ in self.slots]
        for (one, other), turn in zip(self.edges, self.turns.values(), strict=True):
            table[one][other] = table[other][one] = turn
        return tuple(MappingProxyType(row) for row in table)

    @property
    def shapes(self) -> Shapes:
        """All places of the blank."""
        return around_home(self, LIMIT)

    @cached_property
    def generators(self) -> tuple[np.ndarray, ...]:
        """Label permutations that generate the loops at home: one for each edge outside the tree."""
        return tuple(frozen(loop) for _, _, rows in self.shapes.loops() for loop in rows)

    def read(self, moves: str | Iterable[str] | sequence.Sequence) -> sequence.Sequence:
        """Moves as a `Sequence`; `NotationError` for a word that names neither a slot nor an edge."""
        if isinstance(moves, sequence.Sequence):
            return moves
        moves, steps = sequence.as_text(moves), []
        for match in re.finditer(r"\S+", moves):
            word = match[0]
            if word not in self._aliases and word not in self.turns:
                slots = ", ".join(self.slots[:3])
                reason = f"{quoted(word)} is no slot to slide from: write such as {slots}, with a space between moves"
                raise NotationError(moves, match.start() + 1, reason)
            steps.append(Step(word, 0, 0, 1, 2))
        return sequence.Sequence(tuple(steps))

    def settled(self, moves: str | sequence.Sequence, start: Arrangement | None = None) -> tuple[tuple[Turn, ...], Holding]:
        """The edges over which pieces slide, from ``start`` (solved when left out). `UnknownMove` for what cannot slide."""
        at = (start or self.solved).pieces.index(self.blank)
        turns = []
        for step in self.read(moves).steps:
            turns.append(self._slide(step.stem, at))
            at = self._across(turns[-1], at)
        return tuple(turns), START

    def spelled(self, moves: str | sequence.Sequence, start: Arrangement | None = None) -> str:
        """The same moves with each named by the slot from which a piece slides.

        >>> from oddswap.puzzles.flat.tiles import tiles
        >>> board = tiles("tiles:2x2", "2x2", {})
        >>> board.spelled("r1c2-r2c2 r1c1-r1c2")
        'r1c2 r1c1'
        """
        at = (start or self.solved).pieces.index(self.blank)
        names = []
        for turn in self.settled(moves, start)[0]:
            at = self._across(turn, at)
            names.append(self.slots[at])
        return " ".join(names)

    def undone(self, moves: str | sequence.Sequence, start: Arrangement | None = None) -> str:
        """The moves that lead back to ``start``."""
        names = [turn.name for turn in self.settled(moves, start)[0]]
        return self.spelled(" ".join(reversed(names)), self.follow(moves, start))

    def _slide(self, word: str, at: int) -> Turn:
        """The turn that a word names while the blank is at slot ``at``."""
        near = self.neighbours[at]
        turn = self.turns[word] if word in self.turns else near.get(self.slot(word))
        if turn is None or at not in turn.slots:
            possible = " or ".join(self.slots[other] for other in sorted(near))
            raise UnknownMove(
                f"nothing can slide over {quoted(word)} while the blank is at {self.slots[at]}: slide from {possible}"
                if word in self.turns
                else f"{quoted(word)} is not next to the blank, which is at {self.slots[at]}: slide from {possible}"
            )
        return turn

    @staticmethod
    def _across(turn: Turn, at: int) -> int:
        (other,) = turn.slots - {at}
        return other


def graph_puzzle(
    name: str, title: str, word: str, nodes: Sequence[str], edges: Iterable[Edge], blank: int, shown: Sequence, flat: FlatLayout
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
    kinds, slides, own = (Kind(word, word, nodes, 1, 0, 0),), MappingProxyType(turns), {"blank": blank, "edges": tuple(pairs)}
    puzzle = GraphPuzzle(name, title, kinds, slides, Alphabet(), looks, flat=flat, **own)
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
