"""What is said of a position that only turns out of the box can mend: the verdict *other turns*, and two ways home."""

from collections.abc import Iterator
from dataclasses import replace

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.boxes.box import BoxPuzzle
from oddswap.puzzles.catalogue import kept_in_the_box, with_turns_out_of_the_box
from oddswap.reasoning.budget import Clock
from oddswap.reasoning.finding import Finding
from oddswap.reasoning.laws.law import Law
from oddswap.reasoning.opening.outside import WayOutside, excursion_home, phases_of, way_outside
from oddswap.reasoning.verdicts.findings import OTHER_TURNS, Diagnosis, WiderTurns
from oddswap.reasoning.verdicts.law_breaking import broken_by_turns, smallest_turn
from oddswap.reasoning.ways.findings import ThroughOpenBox
from oddswap.reasoning.ways.way_out import Route
from oddswap.values.arrangement import Arrangement

FIRST = 0.4
"""The share of the time for the way with the most turns inside the box at its end; the rest is for the shortest of all."""


class CompareOutlines(Finding):
    """Advice for a way through other outlines: compare the copy with its picture after every turn that changes the outline."""


class NoMechanism(Finding):
    """That the cells touch by whole faces is no model of a mechanism, so the copy may not make these turns."""


class ProvedInside(Finding):
    """The laws prove that turns which keep the outline do not lead home."""


class OnlySearchedOutside(Finding):
    """Turns that leave the outline were only searched, and no way home by them was found, which proves nothing."""


class ChangedOutside(Finding):
    """These moves open the box, and when it is closed again the quantities of these laws have changed."""

    moves: tuple[str, ...]
    laws: tuple[Law, ...]


CAUTIONS = CompareOutlines(), NoMechanism()
"""What comes with any way through other outlines."""


def judged_outside(puzzle: Puzzle, diagnosis: Diagnosis, clock: Clock) -> tuple[Diagnosis, WayOutside | None]:
    """The diagnosis *other turns* with a way home, where one out of the box was found; else the old one, and what that proves."""
    box = with_turns_out_of_the_box(puzzle)
    easy = box and way_outside(puzzle, box, diagnosis.first, clock.share(FIRST))
    if easy is None:
        searched = (ProvedInside(), OnlySearchedOutside()) if box else ()
        return replace(diagnosis, findings=(*diagnosis.findings, *searched)), None
    findings = (*diagnosis.findings, *_breaking(puzzle, diagnosis, easy), *CAUTIONS)
    explained = {"first": easy.start, "explanation": easy.start}
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


def _breaking(puzzle: Puzzle, diagnosis: Diagnosis, easy: WayOutside) -> Iterator[Finding]:
    """Which turns break the laws of the turns inside the box."""
    others = tuple(dict.fromkeys(turn for turn in easy.excursion if turn not in puzzle.turns))
    yield WiderTurns(others)
    yield from broken_by_turns(puzzle, easy.box, others)
    if small := smallest_turn(puzzle, easy.box, easy.start, easy.excursion):
        yield small
    if diagnosis.broken:
        yield ChangedOutside(easy.excursion, diagnosis.broken)
