"""The way out of a position that the box's own turns cannot mend: leave the box, exchange, return, and finish inside."""

from dataclasses import dataclass

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.boxes.box import BoxPuzzle
from oddswap.puzzles.boxes.lifting import lifted, lowered
from oddswap.reasoning.budget import Budget, Limit, started
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.opening.excursions import meetings
from oddswap.reasoning.opening.findings import ChangeOutside, CloseBox, FinishInside, LeaveBox
from oddswap.reasoning.opening.frames import frame_of
from oddswap.reasoning.search.shortest import find_way
from oddswap.reasoning.verdicts.mending import is_reachable
from oddswap.reasoning.ways.findings import Phase
from oddswap.values.arrangement import Arrangement

MOST = 6_000_000
"""Levels grow no further when the next one would make more states than so many."""


@dataclass(frozen=True)
class WayOutside:
    """A way home for ``box``, which may leave its outline, from ``start``: an excursion, and then turns that keep the outline."""

    box: BoxPuzzle
    start: Arrangement
    excursion: tuple[str, ...]
    inside: tuple[str, ...]

    @property
    def turns(self) -> tuple[str, ...]:
        return self.excursion + self.inside

    @property
    def phases(self) -> tuple[Phase, ...]:
        """Its phases; those without a move are left out."""
        return phases_of(self.box, self.start, self.turns)


def way_outside(puzzle: Puzzle, box: BoxPuzzle, arrangement: Arrangement, budget: Limit = None) -> WayOutside | None:
    """The shortest excursion after which the turns of ``puzzle`` finish, and their shortest way to do so; ``None`` when
    the budget ends first, which proves nothing.

    >>> from oddswap.puzzles.catalogue import load, with_turns_out_of_the_box
    >>> from oddswap.describing.changes import changed
    >>> half = load("cuboid:2x2x4,turns=half")
    >>> found = way_outside(half, with_turns_out_of_the_box(half), changed(half, ["swap UFL UFR"]))
    >>> len(found.excursion)
    7
    """
    return excursion_home(puzzle, box, lifted(puzzle, box, arrangement), budget)


def excursion_home(puzzle: Puzzle, box: BoxPuzzle, start: Arrangement, budget: Limit = None) -> WayOutside | None:
    """Return a way home from any arrangement of the box, open or closed."""
    clock = started(budget or Budget(10.0))
    frame, book = frame_of(box, tuple(puzzle.turns)), law_book(puzzle)
    model = frame.labelled
    packed = model.pack(model.puzzle.appearance(start))
    names = list(box.turns)
    for word in meetings(frame, packed, clock, MOST):
        excursion = tuple(names[move] for move in word)
        back = lowered(puzzle, box, box.follow(" ".join(excursion), start))
        if back is not None and is_reachable(book, puzzle.permutation(back)):
            inside = find_way(puzzle, puzzle.appearance(back), budget=clock).turns
            return None if inside is None else WayOutside(box, start, excursion, inside)
        if clock.spent:
            return None
    return None


def phases_of(box: BoxPuzzle, start: Arrangement, turns: tuple[str, ...]) -> tuple[Phase, ...]:
    """A way in phases: to where the box is first open, on to before the turn that closes it for good, that turn, the rest."""
    closed = [bool((outline == box.filled).all()) for outline in box.outlines(" ".join(turns), start)]
    opened = [i for i, shut in enumerate(closed) if not shut]
    if not opened:
        return ()
    first, last = opened[0], opened[-1] + 1
    parts = (
        (LeaveBox(), turns[:first]),
        (ChangeOutside(), turns[first : last - 1]),
        (CloseBox(), turns[last - 1 : last]),
        (FinishInside(), turns[last:]),
    )
    return tuple(Phase(aim, " ".join(word)) for aim, word in parts if word)
