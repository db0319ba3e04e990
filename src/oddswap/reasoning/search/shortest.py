"""A shortest way from one appearance to another, or the lower bound that was proved when the budget ended.

Two balls of exact levels grow around the start and around the goals until they meet or get big. Beyond them, for each length in
turn, the hashes at the ends of all reduced words outwards from the goals are kept, and those outwards from the start are looked
up. No common hash proves that there is no common state, so that length is excluded; a common hash is only a candidate, and is
followed state by state. Where a blank slides, iterative deepening with tables (`deepening`) takes the lengths where it is faster.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from functools import cached_property
from math import inf

import numpy as np

from oddswap.errors import TooLarge, UnknownMove, quoted
from oddswap.forwards import forwarded
from oddswap.puzzles.base.named import NamedPuzzle
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.flat.graphs import GraphPuzzle
from oddswap.reasoning.budget import Budget, Clock, Limit, started, usable
from oddswap.reasoning.search import deepening, levels
from oddswap.reasoning.search.goals import PartTask, part_task, shows
from oddswap.reasoning.search.holding import Task, task
from oddswap.reasoning.search.kept_files import ThrownAway
from oddswap.reasoning.search.levels import Ball, Counted, Ending, TimeEnded, keep_to
from oddswap.reasoning.search.middle import Middle
from oddswap.reasoning.search.seen import SeenModel, seen_model
from oddswap.values.position import Appearance

NEAR = 200_000
"""Exact levels that take more states than this are made only while many words meet in one state."""

LOOPS = ("search/word_kernels", "word_ends", "put_in", "look_up")
TABLE_LOOPS = ("search/pruning_kernels", "flood", "push", "deepen")

PACE = 500_000
"""Exact levels grow by at least so many states a second."""

Progress = Callable[[int, int, float], None]
"""Called a few times a second with the lower bound proved so far, the states generated, and the seconds used."""


@forwarded
@dataclass(frozen=True)
class Way:
    """What a search found.

    ``turns`` is a way, or None. No way has fewer than ``lower_bound`` turns; ``shortest`` means that the way found has
    just as many. ``counted`` is what one turn is and which were allowed, ``states`` how many states were generated,
    ``reasons`` why the search ended, and what became of a file in the cache. ``impossible``: all states that the turns
    reach, or all that they show of some pieces, were seen, and none is a goal.
    """

    turns: tuple[str, ...] | None
    lower_bound: int
    shortest: bool
    counted: Counted | None
    states: int
    reasons: tuple[Ending | ThrownAway, ...]
    impossible: bool = False

    @property
    def moves(self) -> str | None:
        """The way as a text, or None."""
        return None if self.turns is None else " ".join(self.turns)

    @property
    def length(self) -> int | None:
        """How many turns the way has, or None."""
        return None if self.turns is None else len(self.turns)


def find_way(
    puzzle: Puzzle,
    start: Appearance | np.ndarray,
    goals: Appearance | np.ndarray | None = None,
    turns: Iterable[str] | None = None,
    budget: Limit = None,
    progress: Progress | None = None,
) -> Way:
    """A shortest way from ``start`` to any of ``goals`` (solved, when left out), in any holding where that is free.

    Goals that leave slots open (several looks possible) are met by every appearance that shows the rest; one that no arrangement
    satisfies is `NoSuchGoal`. States may also be given packed as in ``seen_model(puzzle)``: shape (slots,) for the start,
    (n, slots) for the goals. ``turns`` are all that may be made. `UnknownMove`, or `Unseen` where a slot is not shown.

    >>> import oddswap
    >>> oddswap.find_way("cube:2", "R U").moves
    "U' L'"
    """
    model, names = seen_model(puzzle), _allowed(puzzle, turns)
    first = _packed(model, start)
    if isinstance(goals, Appearance) and goals.uncertain:
        job = part_task(model, names, first, goals)
    else:
        goals = model.solved[None] if goals is None else np.atleast_2d(_packed(model, goals))
        job = task(model, names, first, goals)
    found = searched(job, started(budget), progress)
    if found.turns is not None:
        _replay(model, first, goals, found.turns)
    return replace(found, counted=_counted(puzzle, names))


def searched(job: Task | PartTask, clock: Clock, progress: Progress | None = None) -> Way:
    """A shortest way for a search whose moves may be anything; nothing is said of the counting."""
    search = _Search(job, clock, progress)
    word, ending = search.run()
    way, reasons = None if word is None else job.named(word), (ending, search.note) if search.note else (ending,)
    return Way(way, search.bound, way is not None, None, search.states, reasons, search.impossible)


def levels_around(
    puzzle: Puzzle, depth: int, start: Appearance | np.ndarray | None = None, turns: Iterable[str] | None = None
) -> Ball:
    """All states at distances 0, 1, … ``depth`` from ``start`` (solved, when left out), or as far as there are any.

    Where the holding is free, one state stands for all that differ only by how the puzzle is held; but not if no piece can be
    told from all others, or if ``turns`` names other turns in one holding than in another. `TooLarge` before memory gets short.

    >>> import oddswap
    >>> [len(level.rows) for level in oddswap.levels_around("cube:2", 3).levels]
    [1, 9, 54, 321]
    """
    model = seen_model(puzzle)
    first = model.solved if start is None else _packed(model, start)
    job = task(model, _allowed(puzzle, turns), first, first[None])
    ball = Ball(job.moves, job.goals)
    while ball.depth < depth and len(ball.edge):
        if ball.bytes_to_grow > Budget().bytes:
            raise TooLarge(f"positions {ball.depth + 1} turns off on {puzzle.name} need too much memory: ask for {ball.depth}")
        ball.grow(lambda: None)
    return ball


def depth_counts(
    puzzle: Puzzle, depth: int, start: Appearance | np.ndarray | None = None, turns: Iterable[str] | None = None
) -> list[int]:
    """How many states lie at each distance from ``start``, counted exactly, as in `levels_around`.

    >>> from oddswap import load
    >>> depth_counts(load("cube:2"), 4)
    [1, 9, 54, 321, 1847]
    """
    return [len(level) for level in levels_around(puzzle, depth, start, turns).levels if len(level)]


class _Search:
    """One search; ``bound`` grows as shorter ways are excluded."""

    def __init__(self, job: Task | PartTask, clock: Clock, progress: Progress | None):
        self.job, self.clock, self.progress, self.reported = job, clock, progress, 0.0
        self.out = Ball(job.moves, np.atleast_2d(job.start))
        self.back = Ball(job.moves.inverse, job.goals)
        self.middle = Middle(self.out, self.back)
        self.deep: deepening.Deepening | None = None
        self.sets: list[deepening.TableSet] | None = None
        self.bound, self.impossible = 0, False
        self.note: ThrownAway | None = None

    @property
    def states(self) -> int:
        return self.out.made + self.back.made + self.middle.made + (self.deep.made if self.deep else 0)

    @property
    def room(self) -> int:
        return self.clock.budget.bytes - self.out.nbytes - self.back.nbytes - (self.deep.nbytes if self.deep else 0)

    def run(self) -> tuple[list[int] | None, Ending]:
        """A word of moves or None, and why it ended."""
        try:
            word = self._within_balls()
            while word is None and not self.impossible:
                self._check()
                if not self._goes_far:
                    raise TimeEnded
                word = self._of_length(self.bound)
                self.bound += word is None and not self.impossible
        except TimeEnded:
            return None, levels.TimeUsedUp(self.clock.budget.seconds)
        except MemoryError:
            return None, levels.MemoryUsedUp(self.clock.budget.bytes)
        if self.deep and self.deep.impossible:
            return None, levels.PiecesKeptAway()
        if self.impossible:
            return None, levels.AllStatesSeen()
        return word, levels.ShorterExcluded()

    @cached_property
    def _goes_far(self) -> bool:
        """Whether the compiled loops beyond the exact levels can be used; else there are only levels, as far as time goes."""
        return usable(self.clock, *LOOPS)

    def _of_length(self, length: int) -> list[int] | None:
        """A way of that length by hashes or with tables, whichever is expected to be faster.

        Tables are made when doing without them is expected to take as long as making them.
        """
        by_hashes = self.middle.expected(length, self.room)
        if self.sets is None:
            fit = deepening.table_sets(self.out, self.job.goals, self.room)
            self.sets = fit if fit and usable(self.clock, *TABLE_LOOPS) else []
        while self.sets and self.sets[0].seconds < min(by_hashes, self.deep.expected(length) if self.deep else inf):
            self._make(self.sets.pop(0))
        if self.impossible:
            return None
        if self.deep and self.deep.expected(length) < by_hashes:
            return self.deep.of_length(length, self._check)
        return self.middle.of_length(length, self.room, self._check)

    def _make(self, chosen: deepening.TableSet) -> None:
        made = self.deep.made if self.deep else 0
        self.middle.release()
        self.deep = None
        self.deep, note = deepening.deepening(self.out, self.job.goals, chosen, self._check)
        self.note = self.note or note
        if self.deep:
            self.deep.made, self.impossible = made, self.deep.impossible

    def _within_balls(self) -> list[int] | None:
        """Grow the balls until they meet, or one holds all that can be reached, or they get big."""
        while (word := self.middle.meeting()) is None:
            self.bound = self.out.depth + self.back.depth + 1
            if (ball := self._next_ball()) is None:
                break
            ball.grow(self._check)
            if not len(ball.edge):
                self.impossible = True
                break
        return word

    def _next_ball(self) -> Ball | None:
        """The ball whose next level takes fewer states, if that is worth while and there is room and time for it."""
        for ball in sorted((self.out, self.back), key=lambda ball: ball.words(1)):
            worth_while = ball.words(1) <= NEAR or ball.merging or not self._goes_far
            if worth_while and ball.bytes_to_grow <= self.room and ball.words(1) <= PACE * self.clock.left:
                return ball
        return None

    def _check(self) -> None:
        keep_to(self.clock)
        used = self.clock.used
        if self.progress and used - self.reported > 0.25:
            self.reported = used
            self.progress(self.bound, self.states, used)


def _allowed(puzzle: Puzzle, turns: Iterable[str] | None) -> tuple[str, ...]:
    """The names of the turns allowed, in the puzzle's order."""
    names = list(puzzle.turns if turns is None else turns)
    for name in names:
        if name not in puzzle.turns:
            raise UnknownMove(f"{puzzle.name} does not make the turn {quoted(name)}; it makes {' '.join(puzzle.turns)}")
    if not names:
        raise UnknownMove(f"no turn is allowed: name at least one of {' '.join(puzzle.turns)}")
    return tuple(name for name in puzzle.turns if name in names)


def _packed(model: SeenModel, states: Appearance | np.ndarray) -> np.ndarray:
    return model.pack(states) if isinstance(states, Appearance) else np.asarray(states, dtype=np.uint8)


def _replay(model: SeenModel, state: np.ndarray, goals: Appearance | np.ndarray, way: tuple[str, ...]) -> None:
    """`AssertionError` unless the way can be made and leads to a goal."""
    for name in way:
        if not model.may(state, name):
            raise AssertionError(f"the way found cannot be made: {' '.join(way)}")
        state = model.apply(state, name)
    held = model.closure(state[None], model.puzzle.rotations)
    packed = not isinstance(goals, Appearance)
    if not any((goals == row).all(axis=1).any() if packed else shows(model.unpack(row), goals) for row in held):
        raise AssertionError(f"the way found does not lead to a goal: {' '.join(way)}")


def _counted(puzzle: Puzzle, names: tuple[str, ...]) -> Counted:
    unit = "slide" if isinstance(puzzle, GraphPuzzle) else "move" if isinstance(puzzle, NamedPuzzle) and puzzle.steady else "slab"
    unit = "slabs" if any(turn.step.first < turn.step.last for turn in puzzle.turns.values()) else unit
    return Counted(unit, names, puzzle.name if len(names) == len(puzzle.turns) else None)
