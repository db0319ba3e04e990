"""Two walls closing on a number: what the laws still allow, from above, and what the turns are known to reach, from below.

The upper wall starts at all that hands can assemble and is divided by each law's modulus. The lower wall follows the
stabiliser chain (Sims 1970): the ways in which its first base points can be placed, which are no more than all.

The tournament that six beads keep, round by round. Exercises about proofs: turns that place some pieces, and what no known law
forbids.
"""

from collections.abc import Mapping, Sequence
from itertools import accumulate
from math import log10, prod
from operator import mul
from textwrap import fill

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Circle

from oddswap.describing.changes import changed
from oddswap.errors import BadOption
from oddswap.lessons.machinery.exercises import slot_names, written, written_changes
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.law_book import LawBook, law_book
from oddswap.reasoning.laws.rigid import ProgrammeLaw
from oddswap.showing.ink.canvas import sheet, write
from oddswap.showing.ink.palette import BODY, PALETTE, PAPER
from oddswap.showing.ink.widgets import Note, kindly
from oddswap.values.grammar import listed

NARROW = 0.03
"""Left and right of the walls, as a share of their length."""
ROOM = 0.06
"""Above and below, as a share of the height of the walls."""
LONGEST_LINE = 36
"""Letters of a law's name on one line."""
BADGE = {"boxstyle": "circle,pad=0.25", "facecolor": PAPER, "edgecolor": PALETTE["vermillion"]}


def upper_wall(book: LawBook) -> list[tuple[str, int]]:
    """What was used so far, and how many arrangements it allows: first nothing, then one law more each time.

    Laws that do not each leave one in so many are used all at once.

    >>> from oddswap.puzzles.catalogue import load
    >>> [number for _, number in upper_wall(law_book(load("cube:2")))]
    [264539520, 88179840]
    """
    start = [("no law", book.assembly_order)]
    sizes = [law.modulus or getattr(law, "factor", 0) for law in book.laws]
    if prod(sizes) * book.allowed == book.assembly_order:
        left = accumulate(sizes, lambda number, size: number // size, initial=book.assembly_order)
        return start + [(law.name, number) for law, number in zip(book.laws, list(left)[1:], strict=True)]
    return [*start, ("all laws together", book.allowed)]


def lower_wall(book: LawBook) -> list[int]:
    """How many arrangements are known to be reached: places of the blank, times the orbit sizes of the chain one by one.

    >>> from oddswap.puzzles.catalogue import load
    >>> lower_wall(law_book(load("tiles:2x3")))
    [6, 30, 120, 360]
    """
    return list(accumulate(book.chain.orbit_sizes, mul, initial=book.places))


def draw_two_walls(puzzle: Puzzle, laws: int | None = None, levels: int | None = None) -> Figure:
    """The walls after the first ``laws`` laws and ``levels`` levels of the chain; after all of them unless told.

    `TypeError` for a puzzle that is proved by its structure and has no chain.

    >>> from oddswap import lessons
    >>> figure = lessons.draw_two_walls("cube:2")
    """
    book = law_book(puzzle)
    upper, lower = upper_wall(book), lower_wall(book)
    above, below = upper[: None if laws is None else laws + 1], lower[: None if levels is None else levels + 1]
    figure = Figure(figsize=(8.4, 4.6), facecolor=PAPER)
    ax = figure.add_axes((0.02, 0.03, 0.96, 0.85))
    high, low = log10(upper[0][1]), log10(lower[0])
    margin = (high - low) * ROOM
    bottom, top = low - 2 * margin, high + 2 * margin
    most = [number for _, number in above]
    _wall(ax, most, len(upper), top, PALETTE["vermillion"])
    _wall(ax, below, len(lower), bottom, PALETTE["blue"])
    _corners(ax, most, "at most", top - 0.4 * margin, "top")
    _corners(ax, below, "at least", bottom + 0.4 * margin, "bottom")
    for i, number in enumerate(most):
        write(ax, (i + 0.5) / len(upper), log10(number), str(i), bbox=BADGE, size=8)
    names = "\n".join(fill(f"{i}  {name}", LONGEST_LINE, subsequent_indent="    ") for i, (name, _) in enumerate(above))
    write(ax, 0.01, log10(most[-1]) - margin, names, ha="left", va="top", linespacing=1.4)
    told = f"The walls meet: {most[-1]:,}. Nothing is missing."
    if most[-1] != below[-1]:
        told = f"Between {below[-1]:,} and {most[-1]:,}: a gap of a factor of {most[-1] // below[-1]:,}."
    write(ax, 0.5, 1.02, told, va="bottom", transform=ax.transAxes, size=11)
    ax.set_xlim(-NARROW, 1 + NARROW)
    ax.set_ylim(bottom, top)
    ax.set_axis_off()
    return figure


def _wall(ax: Axes, numbers: list[int], count: int, far: float, colour: str) -> None:
    """Steps as high as the logarithms of the numbers, filled from ``far`` on; the last of fewer than ``count`` goes on."""
    edges = [i / count for i in range(len(numbers))] + [1.0]
    ax.stairs([*map(log10, numbers)], edges, baseline=far, fill=True, color=colour, alpha=0.25)
    ax.stairs([*map(log10, numbers)], edges, baseline=None, color=colour, linewidth=2)


def _corners(ax: Axes, numbers: list[int], words: str, y: float, va: str) -> None:
    """The first number at the left and, if there are more, the last at the right."""
    write(ax, 0.01, y, f"{words} {numbers[0]:,}", ha="left", va=va)
    if len(numbers) > 1:
        write(ax, 0.99, y, f"{words} {numbers[-1]:,}", ha="right", va=va)


SEATS, ACROSS, DOWN, LEFT, BOW = 0.42, 1.55, 1.75, 1.35, 2.2
"""Inches: from seat to seat, from round to round across and down, of the words before a row; how far the middle seats bow out."""


def draw_programme(puzzle: Puzzle, done: Sequence[str]) -> Figure:
    """The rounds of the programme that six beads keep, and what becomes of each after turns or after changes by hand.

    A line joins two beads that play each other. Below stands the round that lay where these three lines lie now.
    `BadOption` for a puzzle without such a law.

    >>> from oddswap import lessons
    >>> figure = lessons.draw_programme("rings:4+4", ["a", "swap 1 2"])
    """
    law = next((law for law in law_book(puzzle).laws if isinstance(law, ProgrammeLaw)), None)
    if law is None:
        raise BadOption(f"no six pieces of {puzzle.name} keep the programme of a tournament: those of rings:4+4 do")
    rounds = [{frozenset(pair) for pair in games} for games in law.rounds]
    seats = (puzzle.flat.positions - puzzle.flat.positions.mean(axis=0)) * SEATS
    seats[:, 1] *= np.where(abs(seats[:, 0]) < SEATS / 2, BOW, 1.0)
    ax = sheet(LEFT + ACROSS * len(rounds), DOWN * (len(done) + 1))
    for row, what in enumerate(("", *done)):
        state = changed(puzzle, [what]) if what.startswith("swap") else puzzle.follow(what)
        seat_of = {bead: seats[seat] for seat, bead in enumerate(state.pieces)}
        middle = DOWN * (len(done) - row + 0.57)
        write(ax, 0.15, middle, what and f"after {what}" or "at home", ha="left", size=11, weight="bold")
        for column, games in enumerate(rounds):
            x = LEFT + ACROSS * (column + 0.5)
            now = {frozenset(state.pieces.index(bead) for bead in pair) for pair in games}
            for one, other in games:
                ax.plot(*np.transpose([seat_of[one] + (x, middle), seat_of[other] + (x, middle)]), color=BODY, lw=3.5, zorder=2)
            for bead, (across, up) in seat_of.items():
                ax.add_patch(Circle((x + across, middle + up), 0.15, facecolor=PAPER, edgecolor=BODY, lw=1.4, zorder=3))
                write(ax, x + across, middle + up, puzzle.slots[bead], size=9.5, zorder=4)
            told = f"round {column + 1}" if not row else f"round {rounds.index(now) + 1}" if now in rounds else "no round"
            write(ax, x, middle - 0.8, told, size=10, weight="bold" if now not in rounds else "normal")
    return ax.figure


@kindly
def check_placed(moves: str, wanted: Mapping[str, str], name: str) -> Note:
    """Whether turns bring the piece from each slot of ``wanted`` to the slot that is asked for.

    >>> check_placed("a", {"1": "2"}, "rings:4+4")
    Yes: all are where they should be.
    """
    puzzle = load(name)
    state = puzzle.follow(written(moves, f"turns such as: {' '.join(list(puzzle.turns)[:3])}"))
    ends = {home: puzzle.slots[state.pieces.index(puzzle.slot(home))] for home in wanted}
    astray = [f"{home} is at {end} and should be at {wanted[home]}" for home, end in ends.items() if end != wanted[home]]
    return Note(f"Not yet: {listed(astray)}." if astray else "Yes: all are where they should be.")


@kindly
def check_beyond(changes: str, name: str) -> Note:
    """Whether the turns reach what ``changes`` by hand make.

    >>> check_beyond("cycle 1 2 3 4", "rings:4+4")
    Yes: the turns reach that.
    """
    puzzle = load(name)
    state, book = written_changes(puzzle, changes, "swap 1 2, cycle 3 4 5"), law_book(puzzle)
    broken = book.broken(state)
    if not broken:
        return Note("Yes: the turns reach that.")
    home = set(range(len(puzzle.slots))) - state.displaced()
    if broken[0].modulus is None and len(home) >= len(book.chain.levels):
        return Note(f"Not yet. You have left {slot_names(puzzle, home)} at home; here, that settles where all others are.")
    return Note(f"Not yet. That breaks a law: {broken[0].statement}")
