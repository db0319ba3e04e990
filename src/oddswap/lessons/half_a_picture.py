"""The fork: from what is known two photographs branch, and after one of them the question may be settled, after the other not.

Ways are counted as they look: what nobody can see, such as a hidden turn, does not make two ways of one. All numbers are exact
counts of `oddswap.reasoning.verdicts.counting`.

Exercises about what is half seen: which photograph decides, and what photographs leave open.
"""

from collections.abc import Sequence
from math import gcd
from typing import NamedTuple

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import FancyArrowPatch, Rectangle

from oddswap.describing.sights import covered
from oddswap.errors import BadOption, quoted
from oddswap.lessons.machinery.exercises import written
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.verdicts.counting import count_explanations
from oddswap.reasoning.verdicts.explanations import completions
from oddswap.reasoning.verdicts.views import View, after_view, views
from oddswap.showing.ink.camera import Camera
from oddswap.showing.ink.canvas import sheet, wrapped, write
from oddswap.showing.ink.cards import PaperCard
from oddswap.showing.ink.palette import CUT, FAINT_INK, HIGHLIGHT, INK, PALETTE
from oddswap.showing.ink.widgets import Note, kindly
from oddswap.showing.pictures.prints import photographer
from oddswap.values.grammar import capital, listed, read_number
from oddswap.values.position import Appearance
from oddswap.words import say

SIDE, PAD, GAP, MARGIN, WORDS, WAY = 1.7, 0.08, 0.22, 0.2, 1.95, 0.75
ROOT, BRANCH = PaperCard(SIDE, PAD, foot=PAD), PaperCard(SIDE, PAD, foot=PAD, beside=WORDS)
BOXES = 24
"""So many boxes are drawn at most; where more would be needed, one bar is filled to its share."""
BAR, REACHED = 0.16, PALETTE["blue"]


class Left(NamedTuple):
    """In how many ways the whole may look, and to how many of them turning leads."""

    possible: int
    total: int

    @property
    def words(self) -> str:
        ways = "1 way is" if self.total == 1 else f"{read_number(self.total)} ways are"
        return f"{ways} left, and turning leads to {read_number(self.possible)} of them"

    @property
    def verdict(self) -> str:
        if not self.possible:
            return "decided: no turning leads there"
        return "decided: turning leads there" if self.possible == self.total else "still mixed"


def ways_left(puzzle: Puzzle, seen: Appearance) -> Left:
    """How much what is seen leaves open; `ValueError` where the classes could not be counted.

    >>> from oddswap import load
    >>> board = load("tiles:2x3")
    >>> ways_left(board, Appearance(board.name, (frozenset(range(6)),) * 6))
    Left(possible=360, total=720)
    """
    count = count_explanations(puzzle, seen)
    if count.appearances_reached is None:
        raise ValueError(say(count.reason))
    return Left(count.appearances_reached, count.appearances)


def draw_fork(puzzle: Puzzle, seen: Appearance, whole: Appearance, views: Sequence[View]) -> Figure:
    """What is ``seen``, and one branch for each of ``views``: what is known after such a photograph of ``whole``.

    Each bar is all ways in which the whole may look, filled where turning leads to them.

    >>> import oddswap
    >>> from oddswap import lessons
    >>> cube = oddswap.load("cube:3")
    >>> seen = oddswap.covered(cube, ["UF", "UR", "UB"])
    >>> figure = lessons.draw_fork(cube, seen, [], oddswap.views(cube)[1:3])
    """
    high, rows = BRANCH.height, len(views)
    height = 2 * MARGIN + max(rows * (high + GAP) - GAP, high + 0.98)
    ax = sheet(2 * MARGIN + high + WAY + BRANCH.width, height)
    root = (MARGIN, (height - high + 0.98) / 2)
    ROOT.picture(ax, root, puzzle, seen, letters=True, size=6.5)
    _told(ax, ways_left(puzzle, seen), root[0], root[1] - 0.12, high, "what is known")
    for i, view in enumerate(views):
        at = (MARGIN + high + WAY, (height + rows * (high + GAP) - GAP) / 2 - high - i * (high + GAP))
        _branch(ax, puzzle, after_view(puzzle, view, seen, whole), at, view.words, photographer(puzzle, view))
        _arrow(ax, (root[0] + high, root[1] + high / 2), (at[0], at[1] + high / 2))
    return ax.figure


def draw_left(puzzle: Puzzle, seen: Appearance) -> Figure:
    """What is ``seen``, and beside it how much that leaves open, as one branch of a `draw_fork` shows it.

    >>> import oddswap
    >>> from oddswap import lessons
    >>> figure = lessons.draw_left("cube:3", oddswap.covered("cube:3", ["UF", "UR", "UB"]))
    """
    ax = sheet(2 * MARGIN + BRANCH.width, 2 * MARGIN + BRANCH.height)
    _branch(ax, puzzle, seen, (MARGIN, MARGIN), "what is known")
    return ax.figure


def _branch(
    ax: Axes, puzzle: Puzzle, seen: Appearance, at: tuple[float, float], words: str, camera: Camera | None = None
) -> None:
    """A picture with what it leaves open on its right; ``at`` is the lower left corner."""
    BRANCH.picture(ax, at, puzzle, seen, camera, letters=True, size=6.5)
    _told(ax, ways_left(puzzle, seen), at[0] + BRANCH.height, at[1] + BRANCH.height - 0.1, WORDS - PAD, words)


def _told(ax: Axes, left: Left, x: float, top: float, wide: float, words: str) -> None:
    """From ``top`` downwards: the words, the bar, the numbers, and whether it is decided."""
    style = {"ha": "left", "va": "top", "linespacing": 1.2}
    lines = wrapped(capital(words), wide, 8.5)
    write(ax, x, top, lines, size=8.5, color=FAINT_INK, **style)
    top -= 0.15 * (1 + lines.count("\n")) + 0.1
    _bar(ax, left, x, top - BAR, wide)
    write(ax, x, top - BAR - 0.07, left.words.replace(", and turning ", "; turning\n"), size=8.5, color=INK, **style)
    write(ax, x, top - BAR - 0.45, wrapped(left.verdict, wide, 9.5, "bold"), size=9.5, weight="bold", color=HIGHLIGHT, **style)


def _bar(ax: Axes, left: Left, x: float, y: float, wide: float) -> None:
    """Boxes of as many ways each as the share of those that turning leads to needs; the first ones are filled."""
    each = gcd(left.possible, left.total) or 1
    count, filled = left.total // each, left.possible // each
    if count > BOXES:
        ax.add_patch(Rectangle((x, y), wide * left.possible / left.total, BAR, facecolor=REACHED, lw=0))
        count, filled = 1, 0
    for i in range(count):
        ink = REACHED if i < filled else "none"
        ax.add_patch(Rectangle((x + i * wide / count, y), wide / count, BAR, facecolor=ink, edgecolor=CUT, lw=1.0))


def _arrow(ax: Axes, start: tuple[float, float], end: tuple[float, float]) -> None:
    bend = f"arc3,rad={0.18 if end[1] < start[1] else -0.18 if end[1] > start[1] else 0}"
    look = {"color": CUT, "lw": 2.4, "mutation_scale": 16, "shrinkA": 4, "shrinkB": 3}
    ax.add_patch(FancyArrowPatch(start, end, arrowstyle="-|>", connectionstyle=bend, **look))


MOST = 2000
"""So many ways are gone through at most."""


@kindly
def check_photograph(corner: str, slots: Sequence[str], name: str) -> Note:
    """Whether a photograph from a ``corner``, named by its sides, decides whatever is in covered ``slots`` of a solved puzzle.

    >>> check_photograph("UFR", ["DF", "DB"], "cube:3")
    Not yet. It may be that after this photograph 4 ways are left, and turning leads to 1 of
    them: too little is seen of DF and DB.
    """
    puzzle = load(name)
    view = _view(puzzle, "".join(written(corner, "the sides that meet in a corner, such as UFR.").upper().split()))
    seen = covered(puzzle, slots)
    found = {after_view(puzzle, view, seen, whole) for whole in completions(puzzle, seen, MOST)}
    for then in sorted(found, key=lambda then: (len(then.uncertain), str(then.sights)), reverse=True):
        left = ways_left(puzzle, then)
        if left.verdict == "still mixed":
            open_ones = listed(puzzle.slots[b] for b in then.uncertain)
            return Note(f"Not yet. It may be that after this photograph {left.words}: too little is seen of {open_ones}.")
    return Note(f"Yes: whatever is there, this photograph decides. It can look in {read_number(len(found))} ways.")


@kindly
def check_open(moves: str, corners: Sequence[str], name: str) -> Note:
    """Whether photographs from ``corners`` of what ``moves`` make from solved leave it open whether turning leads there.

    >>> check_open("R U", ["UFR", "UBL"], "cube:3")
    Not yet: it is decided, as only 1 way is left. Pieces that share a colour can be
    mistaken for each other where only that side of them shows: bring several such pieces
    where little is seen of them.
    """
    puzzle = load(name)
    whole = puzzle.appearance(puzzle.follow(written(moves, "turns such as: R U F'")))
    seen = covered(puzzle, puzzle.slots)
    for corner in corners:
        seen = after_view(puzzle, _view(puzzle, corner), seen, whole)
    left = ways_left(puzzle, seen)
    if left.verdict == "still mixed":
        return Note(f"Yes: {left.words}, and so it is open.")
    only, mistaken = left.words.partition(",")[0], "Pieces that share a colour can be mistaken for each other where only that"
    such = f"{mistaken} side of them shows: bring several such pieces where little is seen of them."
    return Note(f"Not yet: it is decided, as only {only}. {such}")


def _view(puzzle: Puzzle, corner: str) -> View:
    named = {"".join(view.facets): view for view in views(puzzle)}
    if (view := next((view for name, view in named.items() if sorted(name) == sorted(corner)), None)) is None:
        raise BadOption(f"No corner is called {quoted(corner)}. Write one of {listed(named)}.")
    return view
