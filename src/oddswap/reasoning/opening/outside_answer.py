"""What is said of a position that only turns out of the box can mend: the verdict *other turns*, and two ways home."""

from __future__ import annotations

from dataclasses import replace

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.boxes.box import BoxPuzzle
from oddswap.puzzles.catalogue import kept_in_the_box, with_turns_out_of_the_box
from oddswap.reasoning.opening.outside import WayOutside, excursion_home, phases_of, way_outside
from oddswap.reasoning.search.shortest import Budget
from oddswap.reasoning.verdicts.findings import OTHER_TURNS, Diagnosis
from oddswap.reasoning.verdicts.law_breaking import broken_by_turns, smallest_turn, told_by_turn
from oddswap.reasoning.ways.findings import ThroughOpenBox
from oddswap.reasoning.ways.way_out import Route
from oddswap.values.arrangement import Arrangement

FIRST = 0.4
"""The share of the time for the way with the most turns inside the box at its end; the rest is for the shortest of all."""
ADVICE = (
    "after every turn that changes the outline compare the copy with the picture of what it should now look like; "
    "if it catches, line it up, do not push"
)
NO_MODEL = (
    "that the cells touch by whole faces after every turn is a necessary test and no model of a mechanism: "
    "this copy may not make these turns, and then stop"
)


def judged_outside(puzzle: Puzzle, diagnosis: Diagnosis, budget: Budget) -> tuple[Diagnosis, WayOutside | None]:
    """The diagnosis *other turns* with a way home, where one out of the box was found; else the old one, and what that proves."""
    box = with_turns_out_of_the_box(puzzle)
    easy = box and way_outside(puzzle, box, diagnosis.first, replace(budget, seconds=FIRST * budget.seconds))
    if easy is None:
        return replace(diagnosis, notes=(*diagnosis.notes, *not_found_outside(puzzle))), None
    notes = (*diagnosis.notes, *_breaking(puzzle, diagnosis, easy), ADVICE, NO_MODEL)
    found = replace(diagnosis, verdict=OTHER_TURNS, explanation=easy.start, first=easy.start, slips=(), repair=None, notes=notes)
    return found, easy


def told_outside(box: BoxPuzzle, start: Arrangement, way: Route, budget: Budget) -> Route:
    """A way of a box that may open as it is told: in phases, with the one that has the most turns inside at its end beside it."""
    if way.moves is None:
        return way
    phases, inside = phases_of(box, start, tuple(way.moves.split())), kept_in_the_box(box)
    if not phases or inside is None:
        return replace(way, phases=phases)
    easy = excursion_home(inside, box, start, replace(budget, seconds=FIRST * budget.seconds))
    return replace(way, phases=phases) if easy is None else best_of_two(easy, way)


def not_found_outside(puzzle: Puzzle) -> list[str]:
    """What is said where no way out of the box was found: that this proves nothing. Empty for what keeps its outline."""
    if with_turns_out_of_the_box(puzzle) is None:
        return []
    return [
        "that turns which keep the outline do not lead home is proved by the laws",
        "turns that leave the outline were only searched, and no way home was found; that there is none is not proved",
    ]


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


def _breaking(puzzle: Puzzle, diagnosis: Diagnosis, easy: WayOutside) -> list[str]:
    """Which turns break the laws of the turns inside the box."""
    others = list(dict.fromkeys(turn for turn in easy.abroad if turn not in puzzle.turns))
    notes = [f"reachable with these turns too, which this copy may not make: {' '.join(others)}"]
    notes += told_by_turn(broken_by_turns(puzzle, easy.box, others))
    small = smallest_turn(puzzle, easy.box, easy.start, easy.abroad)
    notes += [small] if small else []
    if diagnosis.broken:
        laws = "; ".join(law.name for law in diagnosis.broken)
        stretch = " ".join(moves for words, moves in easy.phases if not words.startswith("finish"))
        notes.append(f"{stretch} opens the box, and when it is closed again these have changed: {laws}")
    return notes
