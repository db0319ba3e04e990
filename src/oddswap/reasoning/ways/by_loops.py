"""A way home where the shape decides the turns: the shape goes home along the tree of shapes, and then the pieces by loops.

The shortest loops at home are the moves of a puzzle without a shape, on which three-cycles, or words along a chain of
stabilisers, lead home; each loop is then made turn by turn.
"""

from functools import lru_cache

import numpy as np

from oddswap.puzzles.base.named import NamedPuzzle, named_puzzle
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.shape_tree import STAGES, Shapes, around_home, explored
from oddswap.puzzles.base.shapes import Shaped
from oddswap.reasoning.budget import Clock
from oddswap.reasoning.groups.chain import moving, sift
from oddswap.reasoning.groups.stabiliser_chain import StabiliserChain
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.ways.by_cycles import home_by_cycles
from oddswap.reasoning.ways.commutators import Word
from oddswap.reasoning.ways.findings import BringShapeHome, GoRound, Parts, SlideLoops, fewest_turns
from oddswap.reasoning.ways.short_words import short_words
from oddswap.reasoning.ways.tidy import tidied
from oddswap.values.position import Arrangement

NEAR, LOOPS = 400, 40
"""Of the loops over so many shapes, the nearest ones, so many of the shortest are used."""

Loop = tuple[int, int, np.ndarray]
"""The numbers of a shape and of the turn that closes the loop there, and the label permutation."""


def home_by_loops(puzzle: Shaped | Puzzle, start: Arrangement, clock: Clock) -> Parts | None:
    """What each part of the way is for, and its turns; None where no way was found.

    >>> from oddswap.puzzles.catalogue import load
    >>> from oddswap.reasoning.budget import Budget
    >>> locked = load("wedges:6")
    >>> home_by_loops(locked, locked.follow("/ (0,1)"), Budget().start())
    [(BringShapeHome(), ('(0,-1)', '/'))]
    """
    image = puzzle.permutation(start)
    sent, (table, walked) = _sent_home(puzzle, image), _looped(puzzle)
    if sent is None or table is None:
        return None
    for name in sent:
        image = puzzle.turns[name].permutation[image]
    image = puzzle.pieces_moved(image)
    cycled = home_by_cycles(table, image, clock)
    words = [] if cycled is None else [tuple(loop for _, part in cycled for loop in part)]
    chained = None if clock.spent else short_words(table, clock).home(image)
    words += [] if chained is None else [chained]
    turns = [tuple(name for loop in word for name in walked[loop]) for word in words]
    if puzzle.blank is not None:
        return fewest_turns([(SlideLoops(), tidied(puzzle, (*sent, *word)))] for word in turns)
    ways = ([(BringShapeHome(), sent), (GoRound(), tidied(puzzle, word))] for word in turns)
    return fewest_turns([part for part in way if part[1]] for way in ways)


def _sent_home(puzzle: Shaped | Puzzle, image: np.ndarray) -> Word | None:
    """Turns that take the shape home: along the tree from home, or along one from here until both meet."""
    for most in STAGES:
        shapes = around_home(puzzle, most)
        (number,) = shapes.find(puzzle.shape_of(image)[None]).tolist()
        if number >= 0 or shapes.whole:
            return _undone(puzzle, shapes.word(number)) if number >= 0 else None
    there = explored(puzzle, image, STAGES[1])
    numbers = shapes.find(there.rows)
    met = np.flatnonzero(numbers >= 0)[:1].tolist()
    return next(((*there.word(here), *_undone(puzzle, shapes.word(int(numbers[here])))) for here in met), None)


@lru_cache(maxsize=16)
def _looped(puzzle: Shaped | Puzzle) -> tuple[NamedPuzzle | None, dict[str, Word]]:
    """A puzzle whose moves are loops at home, and the turns of each of its moves; None where there is no loop."""
    shapes = around_home(puzzle, STAGES[1])
    moves, walked = {}, {}
    for i, (number, turn, loop) in enumerate(_short_loops(puzzle, shapes)):
        stem, word = f"loop{chr(97 + i // 26)}{chr(97 + i % 26)}", tidied(puzzle, shapes.round_trip(number, turn))
        moves[stem] = loop.tolist()
        walked |= {f"{stem}'": _undone(puzzle, word), stem: word}
    if not moves:
        return None, {}
    looks = np.where(puzzle.pieces, puzzle.looks, puzzle.looks.max() + 1 + np.arange(puzzle.degree))
    return named_puzzle(f"{puzzle.name} by loops", puzzle.title, puzzle.kinds, moves, looks.tolist(), puzzle.flat), walked


def _short_loops(puzzle: Puzzle, shapes: Shapes) -> list[Loop]:
    """The shortest loops, and as many more as it takes to generate all of them."""
    near: dict[bytes, Loop] = {}
    for batch in shapes.loops(range(min(NEAR, len(shapes)))):
        for loop in zip(*batch, strict=True):
            near[loop[2].tobytes()] = min(near.get(loop[2].tobytes(), loop), loop, key=lambda one: one[:2])
    found, order = sorted(near.values(), key=lambda one: one[:2])[:LOOPS], law_book(puzzle).proof.order
    for numbers, turns, rows in shapes.loops():
        while (chain := _chain(puzzle, found)).order < order:
            fresh = np.flatnonzero(moving(sift(chain.levels, rows.astype(np.intp))[0]).any(axis=1))
            if not len(fresh):
                break
            nearest = fresh[numbers[fresh].argmin()]
            found.append((numbers[nearest], turns[nearest], rows[nearest]))
        if chain.order == order:
            break
    return found


def _chain(puzzle: Puzzle, loops: list[Loop]) -> StabiliserChain:
    images = np.reshape([loop for *_, loop in loops], (-1, puzzle.degree)).astype(np.intp)
    return StabiliserChain.from_generators(images, puzzle.degree)


def _undone(puzzle: Puzzle, word: Word) -> Word:
    return tuple(str(puzzle.turns[name].step.inverse()) for name in reversed(word))
