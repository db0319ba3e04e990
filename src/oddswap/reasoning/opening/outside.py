"""The way out of a position that the box's own turns cannot mend: leave the box, exchange, return, and finish inside.

What is said of such a position is the verdict *other turns*, and two ways home.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.boxes.box import BoxPuzzle, lifted, lowered
from oddswap.puzzles.catalogue import kept_in_the_box, with_turns_out_of_the_box
from oddswap.reasoning.budget import Budget, Clock, Finding, Limit, started
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.sectors import Law
from oddswap.reasoning.opening.box_levels import meetings
from oddswap.reasoning.opening.frames import frame_of
from oddswap.reasoning.search.shortest import find_way
from oddswap.reasoning.verdicts.diagnosis import judged
from oddswap.reasoning.verdicts.findings import OTHER_TURNS, Diagnosis, WiderTurns
from oddswap.reasoning.verdicts.first_looks import broken_by_turns, broken_laws, smallest_turn
from oddswap.reasoning.verdicts.mending import is_reachable, mended
from oddswap.reasoning.ways.findings import Aim, Phase, ThroughOpenBox
from oddswap.reasoning.ways.way_out import Route
from oddswap.values.position import Arrangement

MOST = 6_000_000
"""Levels grow no further when the next one would make more states than so many."""


class LeaveBox(Aim):
    """Turn inside the box, and leave it."""


class ChangeOutside(Aim):
    """Change what the turns inside cannot change."""


class CloseBox(Aim):
    """Close the box for good."""


class FinishInside(Aim):
    """Finish with turns that keep the outline."""


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


def excursion_home(puzzle: Puzzle, box: BoxPuzzle, start: Arrangement, budget: Limit = None) -> WayOutside | None:
    """Return the shortest excursion from an arrangement of the box, open or closed, after which the turns of ``puzzle`` finish,
    and their shortest way to do so; ``None`` when the budget ends first, which proves nothing.

    >>> from oddswap.puzzles.catalogue import load, with_turns_out_of_the_box
    >>> from oddswap.describing.changes import changed
    >>> half = load("cuboid:2x2x4,turns=half")
    >>> box, swapped = with_turns_out_of_the_box(half), changed(half, ["swap UFL UFR"])
    >>> len(excursion_home(half, box, lifted(half, box, swapped)).excursion)
    7
    """
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
    aims, cuts = (LeaveBox(), ChangeOutside(), CloseBox(), FinishInside()), (0, first, last - 1, last, len(turns))
    parts = zip(aims, pairwise(cuts), strict=True)
    return tuple(Phase(aim, " ".join(turns[begin:end])) for aim, (begin, end) in parts if begin < end)


FIRST = 0.4
"""The share of the time for the way with the most turns inside the box at its end; the rest is for the shortest of all."""


class CompareOutlines(Finding):
    """Advice for a way through other outlines: compare the copy with its picture after every turn that changes the outline."""


class NoMechanism(Finding):
    """That the cells touch by whole faces is no model of a mechanism, so the copy may not make these turns."""


class ProvedInside(Finding):
    """The laws prove that turns which keep the outline do not lead home."""


class ProvedOutside(Finding):
    """The laws prove that no turns out of the box and back lead home either; these are broken, where some are by all."""

    laws: tuple[Law, ...]


class OnlySearchedOutside(Finding):
    """Turns that leave the outline were only searched, and no way home by them was found, which proves nothing.

    So many times as many assemblies as turns are known to reach keep all laws that are known to hold.
    """

    factor: int


class ChangedOutside(Finding):
    """These moves open the box, and when it is closed again the quantities of these laws have changed."""

    moves: tuple[str, ...]
    laws: tuple[Law, ...]


def changed_by_closing(box: BoxPuzzle, closed: Arrangement, moves: str | None) -> tuple[ChangedOutside, ...]:
    """What turns inside the box could not change, and ``moves`` from solved did, which open the box and close it as ``closed``.

    >>> from oddswap.puzzles.catalogue import load
    >>> box, moves = load("cuboid:2x3x4,turns=all"), "U 2F2 RR2 2F2 U'"
    >>> [law.type for found in changed_by_closing(box, box.follow(moves), moves) for law in found.laws]
    ['sign']
    """
    inside = kept_in_the_box(box)
    if moves is None or inside is None or (back := lowered(inside, box, closed)) is None:
        return ()
    broken = judged(inside, inside.appearance(back)).broken
    return (ChangedOutside(tuple(moves.split()), broken),) if broken else ()


CAUTIONS = CompareOutlines(), NoMechanism()
"""What comes with any way through other outlines."""


def judged_outside(puzzle: Puzzle, diagnosis: Diagnosis, clock: Clock) -> tuple[Diagnosis, WayOutside | None]:
    """The diagnosis *other turns* where the laws of the open box allow it, with a way home if one was found in time; else the
    old one, and whether that is proved.
    """
    box = with_turns_out_of_the_box(puzzle) if puzzle.steady else None
    if box is None:
        return diagnosis, None
    book, start = law_book(box), lifted(puzzle, box, diagnosis.first)
    image = box.permutation(start)
    proved, allowed = book.complete, is_reachable(book, image)
    easy = excursion_home(puzzle, box, start, clock.share(FIRST)) if allowed or not proved else None
    if easy is None and not (allowed and proved):
        settled = (
            OnlySearchedOutside(book.unexplained)
            if allowed
            else ProvedOutside(broken_laws(book, image, frozenset(range(len(box.slots)))))
        )
        return replace(diagnosis, findings=(*diagnosis.findings, ProvedInside(), settled)), None
    findings = (*diagnosis.findings, *_breaking(puzzle, box, diagnosis, easy), *CAUTIONS)
    start = easy.start if easy else box.arrangement(mended(book, image, (), None))
    explained = {"first": start, "explanation": start}
    return replace(diagnosis, verdict=OTHER_TURNS, **explained, slips=(), repair=None, findings=findings), easy


def told_outside(box: BoxPuzzle, start: Arrangement, way: Route, clock: Clock) -> Route:
    """A way of a box that may open as it is told: in phases, with the one that has the most turns inside at its end beside it."""
    if way.moves is None:
        return way
    phases, inside = phases_of(box, start, tuple(way.moves.split())), kept_in_the_box(box)
    if not phases or inside is None:
        return replace(way, phases=phases)
    easy = excursion_home(inside, box, start, clock)
    return replace(way, phases=phases) if easy is None else best_of_two(easy, way)


def best_of_two(easy: WayOutside, short: Route) -> Route:
    """The shorter of two ways, in phases; the bound is that of the search through everything that is seen.

    The way with the most turns inside the box at its end is told beside it, where it is another one.
    """
    if short.moves is not None and (short.shortest or short.length <= len(easy.turns)):
        phases = phases_of(easy.box, easy.start, tuple(short.moves.split()))
        return replace(short, phases=phases, easier=() if short.moves == " ".join(easy.turns) else easy.phases)
    reasons, moves = (*short.reasons, ThroughOpenBox()), " ".join(easy.turns)
    proved = short.lower_bound == len(easy.turns)
    return replace(short, moves=moves, length=len(easy.turns), phases=easy.phases, shortest=proved, reasons=reasons)


def _breaking(puzzle: Puzzle, box: BoxPuzzle, diagnosis: Diagnosis, easy: WayOutside | None) -> Iterator[Finding]:
    """Which turns break the laws of the turns inside the box: those of a way home, or all where none is known."""
    excursion = easy.excursion if easy else tuple(box.turns)
    others = tuple(dict.fromkeys(turn for turn in excursion if turn not in puzzle.turns))
    yield WiderTurns(others)
    yield from broken_by_turns(puzzle, box, others)
    if easy is None:
        return
    if small := smallest_turn(puzzle, box, easy.start, easy.excursion):
        yield small
    if diagnosis.broken:
        yield ChangedOutside(easy.excursion, diagnosis.broken)
