"""Worlds that no turning joins: a small picture of each, twists as arrows that close or do not, and exercises on both."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Circle

from oddswap.describing.changes import changed
from oddswap.errors import BadOption
from oddswap.lessons.machinery.exercises import slot_names, written_changes
from oddswap.puzzles.base.puzzle import Kind, Puzzle
from oddswap.puzzles.base.space import on_circle
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.verdicts.diagnosis import ORDINARY, diagnose
from oddswap.showing.ink.arrows import ribbon
from oddswap.showing.ink.canvas import lay_polygons, write
from oddswap.showing.ink.cards import MARGIN, PaperCard
from oddswap.showing.ink.palette import ARROW, BACKDROP, FAINT_INK, HIGHLIGHT
from oddswap.showing.ink.widgets import Hint, Note, kindly
from oddswap.values.position import Arrangement

CARD = PaperCard(side=1.3, pad=0.07, foot=0.42)
CHANGES = (("", "swap UR UF"), ("", "flip UF"), ("", "twist UFR cw", "twist UFR ccw"))
"""What a hand does at most to come from one world of a cube to any other: one choice of each."""
PICTURE, FOOT = 1.5, 0.5
DIAL = PaperCard(PICTURE, 0.08, foot=FOOT + PICTURE + 0.08)
RIM, APART, TAG = 0.42, 0.09, 0.15
"""The radius of the dial, how far outside it the next arrow runs where another is already, and how far the names stand off."""
SHARES = {2: "half", 3: "third", 4: "quarter", 5: "fifth"}


def values_seen(puzzle: Puzzle, state: Arrangement) -> tuple[int, ...]:
    """The quantity of each law that no lookalike can hide: equal in one world, and 0 where all is solved."""
    permutation = puzzle.homed(puzzle.permutation(state))
    return tuple(law.value(permutation) for law in law_book(puzzle).laws if law.seen)


def worlds(puzzle: Puzzle) -> dict[tuple[int, ...], tuple[str, ...]]:
    """For each world of a cube of two or three slabs: its quantities, and the fewest of `CHANGES` that lead there.

    >>> from oddswap import lessons
    >>> list(lessons.worlds("cube:2").values())
    [(), ('twist UFR cw',), ('twist UFR ccw',)]
    """
    families, found = {kind.family for kind in puzzle.kinds}, {}
    if "corners" not in families:
        raise BadOption(f"{puzzle.name} has no corners to twist: take cube:2 or cube:3")
    for choice in product(*CHANGES):
        changes = tuple(change for change in choice if change)
        if "edges" in families or not any(change.startswith(("swap", "flip")) for change in changes):
            values = values_seen(puzzle, changed(puzzle, changes))
            found[values] = min(found.get(values, changes), changes, key=len)
    return found


def draw_worlds(puzzle: Puzzle) -> Figure:
    """A small picture of each world, numbered, at most six in a row; the changed pieces are outlined.

    >>> from oddswap import lessons
    >>> figure = lessons.draw_worlds("cube:3")
    """
    cards = list(worlds(puzzle).values())
    ax, corners = CARD.in_rows(len(cards), 6, 0.12)
    for i, (changes, (left, base)) in enumerate(zip(cards, corners, strict=True)):
        state = changed(puzzle, changes)
        spot = CARD.picture(ax, (left, base), puzzle, state, highlight=state.displaced())
        write(ax, left + 0.16, base + CARD.foot + CARD.side - 0.12, str(i + 1), size=8.5, weight="bold", color=HIGHLIGHT)
        write(ax, spot.x, base + CARD.foot / 2, "\n".join(changes) or "solved", size=7.5, color=FAINT_INK, linespacing=1.25)
    return ax.figure


@dataclass(frozen=True)
class DialArrow:
    """One twist on the dial: from the mark ``start`` by ``step`` (+1 clockwise, -1 back), on the ``lap``-th circle."""

    slot: str
    start: int
    step: int
    lap: int


def dial_arrows(puzzle: Puzzle, shown: Arrangement, kind: Kind) -> tuple[DialArrow, ...]:
    """The twists of a kind one after the other, each beginning where the one before it ended.

    A twist of more than half a turn clockwise is shown as one the other way. An arrow moves to the next circle where
    another lies already.

    >>> import oddswap
    >>> from oddswap import lessons
    >>> cube = oddswap.load("cube:3")
    >>> [
    ...     (arrow.slot, arrow.step)
    ...     for arrow in lessons.dial_arrows(cube, "twist UFR cw, twist UFL ccw", cube.kinds[0])
    ... ]
    [('UFL', -1), ('UFR', 1)]
    """
    arrows, taken, mark = [], [], 0
    for slot in kind.places:
        twist = shown.twists[slot]
        steps = twist if 2 * twist <= kind.twist else twist - kind.twist
        for _ in range(abs(steps)):
            step = 1 if steps > 0 else -1
            part = min(mark, mark + step) % kind.twist
            arrows.append(DialArrow(puzzle.slots[slot], mark, step, taken.count(part)))
            taken.append(part)
            mark += step
    return tuple(arrows)


def draw_full_turn(puzzle: Puzzle, shown: Iterable[Arrangement], family: str = "corners") -> Figure:
    """A card for each arrangement: the puzzle with its twisted pieces outlined, and below it their twists on a dial.

    >>> import oddswap
    >>> from oddswap import lessons
    >>> figure = lessons.draw_full_turn("cube:3", ["twist UFR cw", "twist UFR cw, twist UFL ccw"])
    """
    states = list(shown)
    kind = next((kind for kind in puzzle.kinds if kind.family == family), None)
    if kind is None:
        raise BadOption(f"{puzzle.name} has no {family}: name one of {', '.join(kind.family for kind in puzzle.kinds)}")
    ax, corners = DIAL.in_rows(len(states), len(states), 0.14)
    for state, corner in zip(states, corners, strict=True):
        twisted = frozenset(slot for slot in kind.places if state.twists[slot])
        spot = DIAL.picture(ax, corner, puzzle, state, highlight=twisted)
        arrows = dial_arrows(puzzle, state, kind)
        _dial(ax, np.array([spot.x, MARGIN + FOOT + PICTURE / 2]), arrows, kind.twist)
        headline, words = summed_up(arrows, kind.twist)
        write(ax, spot.x, MARGIN + 0.36, headline, size=10.5, weight="bold", color=HIGHLIGHT)
        write(ax, spot.x, MARGIN + 0.16, words, size=8.5, color=FAINT_INK)
    return ax.figure


def summed_up(arrows: Iterable[DialArrow], order: int) -> tuple[str, str]:
    """Whether the arrows close, and what they come to, in words.

    >>> summed_up([DialArrow("UFR", 0, 1, 0), DialArrow("UFL", 1, 1, 0)], 3)
    ('open', 'two thirds left over')
    """
    total = sum(arrow.step for arrow in arrows)
    over, whole = total % order, abs(total) // order
    if over:
        number = {1: "one", 2: "two"}.get(over, str(over))
        return "open", f"{number} {SHARES.get(order, f'{order}th')}{'s' * (over > 1)} left over"
    return "closed", "back at the start" if not whole else "a whole turn" if whole == 1 else f"{whole} whole turns"


def _dial(ax: Axes, middle: np.ndarray, arrows: tuple[DialArrow, ...], order: int) -> None:
    ax.add_patch(Circle(middle, RIM, facecolor="none", edgecolor=BACKDROP, lw=1.5, zorder=1))
    for mark in range(order):
        ends = np.stack([on_circle(mark / order, radius, middle) for radius in (RIM - 0.07, RIM + 0.07)])
        ax.add_line(Line2D(*ends.T, color=FAINT_INK, lw=2.5 if mark == 0 else 1.2, zorder=1.5))
    for arrow in arrows:
        radius = RIM + APART * arrow.lap
        shares = np.linspace(arrow.start, arrow.start + arrow.step, 48)[1:] / order
        colour = ARROW if arrow.step > 0 else HIGHLIGHT
        lay_polygons(ax, [ribbon(on_circle(shares, radius, middle), 0.04)], facecolors=colour, lw=0, zorder=3)
        at = on_circle((arrow.start + arrow.step / 2) / order, radius + (TAG if arrow.lap else -TAG), middle)
        write(ax, *at, arrow.slot, size=7.5, zorder=4)


EXAMPLE = "flip UF, swap UR UB, twist UFR cw"


@kindly
def check_made_up(changes: str, given: Sequence[str], *, name: str = "cube:3") -> Note:
    """Whether ``changes`` make up for the ``given`` ones, on other pieces, so that turning can do the rest.

    >>> check_made_up("flip DB, twist DBL ccw", ["flip UF", "twist UFR cw"])
    Yes: after your changes turning can do the rest.
    """
    puzzle = load(name)
    start = changed(puzzle, given)
    read = written_changes(puzzle, changes, EXAMPLE, start)
    if again := _differing(start, read) & start.displaced():
        return Note(f"Not yet. Leave {slot_names(puzzle, again)} alone, and change other pieces.")
    _by_turning(puzzle, read)
    return Note("Yes: after your changes turning can do the rest.")


@kindly
def check_repair(changes: str, given: Sequence[str], *, name: str = "cube:3") -> Note:
    """Whether ``changes`` repair what the ``given`` ones did, with as few pieces in hand as can be.

    >>> check_repair("flip UF, flip UR, flip UB", ["flip UF"])
    Turning can do the rest, but you have had 3 pieces in hand, and 1 would do.
    """
    puzzle = load(name)
    start = changed(puzzle, given)
    read = written_changes(puzzle, changes, EXAMPLE, start)
    _by_turning(puzzle, read)
    best = len(_differing(start, diagnose(puzzle, puzzle.appearance(start)).repair.result))
    mine = len(_differing(start, read))
    if mine > best:
        return Note(f"Turning can do the rest, but you have had {mine} pieces in hand, and {best} would do.")
    return Note(f"Yes: turning can do the rest, and nobody can do it with fewer pieces in hand than {best}.")


def _by_turning(puzzle: Puzzle, state: Arrangement) -> None:
    """`Hint` at a law that is still broken where turning cannot do the rest."""
    found = diagnose(puzzle, puzzle.appearance(state))
    if found.verdict != ORDINARY:
        raise Hint(f"Not yet. Turning cannot do the rest. Look at this law: {found.broken[0].statement}")


def _differing(one: Arrangement, other: Arrangement) -> set[int]:
    """The slots in which two arrangements differ."""
    now = [*zip(one.pieces, one.twists, strict=True)]
    return {slot for slot, pair in enumerate(zip(other.pieces, other.twists, strict=True)) if pair != now[slot]}
