"""Two ripples that meet: all positions of a small puzzle, each as far from the start and from solved as turns are needed.

A position that is a turns from the start and b turns from solved lies where the circle of radius a round the start and
that of radius b round solved cross. They always cross: no side of a triangle is longer than the other two together, and
distances in turns obey the same law. The positions on the straight line between the ends are those of the shortest ways.

Exercises about ways out: a tool carried elsewhere, a shortest way.
"""

from collections import Counter
from collections.abc import Sequence as Items
from math import sqrt

from matplotlib.axes import Axes
from matplotlib.colors import to_rgba
from matplotlib.figure import Figure
from matplotlib.patches import Circle

from oddswap.describing.changes import changed
from oddswap.errors import quoted
from oddswap.lessons.machinery.exercises import out_of_place, slot_names, written
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.search.shortest import find_way, levels_around
from oddswap.reasoning.ways.way_out import looks_solved
from oddswap.showing.ink.canvas import FONT, write
from oddswap.showing.ink.cards import Card, draw_cards
from oddswap.showing.ink.palette import FAINT_INK, INK, PALETTE, PAPER, UNKNOWN
from oddswap.showing.ink.widgets import Hint, Note, kindly
from oddswap.values.grammar import counted, counted_words
from oddswap.values.sequence import Sequence

DEEPEST = 60
"""Levels are walked so far; a puzzle to be drawn has few."""
LARGEST_DOT = 420.0
"""Points², for the place where most positions lie."""


def distances(puzzle: Puzzle, moves: str) -> Counter[tuple[int, int]]:
    """How many positions are a turns from the one that ``moves`` make and b from solved, by (a, b).

    >>> from oddswap import load
    >>> sum(distances(load("cube:2,turns=half"), "R2 U2").values())
    24
    """
    starts = puzzle.appearance(puzzle.follow(moves)), puzzle.appearance(puzzle.solved)
    balls = (levels_around(puzzle, DEEPEST, start).levels for start in starts)
    there, home = ({row.tobytes(): depth for depth, level in enumerate(ball) for row in level.rows} for ball in balls)
    return Counter((a, home[state]) for state, a in there.items() if state in home)


def ripple_counts(found: Counter[tuple[int, int]], out: int, back: int) -> tuple[int, int, int]:
    """Positions within ``out`` turns of the start, within ``back`` of solved, and within both.

    >>> from oddswap import lessons
    >>> lessons.ripple_counts(lessons.distances("cube:2,turns=half", "R2 U2"), 1, 1)
    (4, 4, 1)
    """
    near = [(a <= out, b <= back, n) for (a, b), n in found.items()]
    return sum(n for a, _, n in near if a), sum(n for _, b, n in near if b), sum(n for a, b, n in near if a and b)


def draw_two_ripples(puzzle: Puzzle, moves: str, out: int, back: int) -> Figure:
    """The ripples after ``out`` turns from the position that ``moves`` make, and ``back`` turns from solved.

    >>> from oddswap import lessons
    >>> figure = lessons.draw_two_ripples("rings:4+4", "a b a b", 2, 1)
    """
    found = distances(puzzle, moves)
    between = next(b for (a, b) in found if a == 0)
    figure = Figure(figsize=(8.4, 4.8), facecolor=PAPER)
    ax = figure.add_axes((0.02, 0.02, 0.96, 0.86))
    for centre, radius, colour in ((0, out, PALETTE["blue"]), (between, back, PALETTE["vermillion"])):
        for r in range(1, radius + 1):
            ax.add_patch(Circle((centre, 0), r, fill=r == radius, facecolor=to_rgba(colour, 0.12), edgecolor=colour, lw=1.4))
    _dots(ax, found, between, out, back)
    for x, words in ((0, "start"), (between, "solved")):
        box = {"facecolor": PAPER, "edgecolor": "none", "pad": 1.5}
        ax.annotate(words, (x, 0), (0, -9), textcoords="offset points", ha="center", va="top", family=FONT, color=INK, bbox=box)
    ax.set_title(_verdict(found, between, out, back), family=FONT, color=INK, size=11)
    ax.set_aspect("equal")
    ax.autoscale_view()
    ax.margins(0.04)
    ax.set_axis_off()
    return figure


def _dots(ax: Axes, found: Counter[tuple[int, int]], between: int, out: int, back: int) -> None:
    """One dot for all positions at the same two distances, as large as they are many; off the line half are below."""
    most = max(found.values())
    dots = {"o": [], "D": []}
    for (a, b), count in found.items():
        x = (a * a - b * b + between * between) / (2 * between) if between else float(a)
        y = sqrt(max(0.0, a * a - x * x))
        reached = (a <= out) + 2 * (b <= back)
        edge = (FAINT_INK, PALETTE["blue"], PALETTE["vermillion"], INK)[reached]
        fill = (UNKNOWN, PAPER, PAPER, PALETTE["yellow"])[reached]
        for height, shown in ((y, count - count // 2), (-y, count // 2)) if y and count > 1 else ((y, count),):
            dots["D" if reached == 3 else "o"].append((x, height, 60 + LARGEST_DOT * shown / most, fill, edge))
            if shown > 1:
                write(ax, x, height, str(shown), size=8, zorder=4)
    for marker, drawn in dots.items():
        if drawn:
            x, y, sizes, fills, edges = zip(*drawn, strict=True)
            ax.scatter(x, y, s=sizes, c=fills, edgecolors=edges, linewidths=1.8, zorder=3, marker=marker)


def _verdict(found: Counter[tuple[int, int]], between: int, out: int, back: int) -> str:
    left, right, both = ripple_counts(found, out, back)
    seen = left + right - both
    if both:
        alone = ripple_counts(found, between, -1)[0]
        said = f"The ripples meet after {out} and {back} turns, with {seen} of {found.total()} positions looked at"
        return f"{said}; from the start alone, {alone}."
    few = counted(out + back, "turns")
    return f"They have not met: no way has {few} or fewer. {seen} of {found.total()} positions were looked at."


def draw_overlap(puzzle: Puzzle, one: str, other: str) -> Figure:
    """What two sequences move, outlined: each by itself, and what is left to move when both are done and undone in turn.

    >>> from oddswap import lessons
    >>> figure = lessons.draw_overlap("cube:3", "L2", "U R2 U'")
    """
    both = f"[{one}, {other}]"
    moved = {turns: out_of_place(puzzle, puzzle.follow(turns)) for turns in (one, other, both)}
    told = {one: "", other: f";\nshared: {slot_names(puzzle, moved[one] & moved[other])}"}
    told[both] = f":\n{slot_names(puzzle, moved[both])}"
    cards = []
    for turns, slots in moved.items():
        words = f"moves {len(slots)} pieces{told[turns]}"
        cards.append(Card(puzzle, puzzle.follow(turns), turns, words, highlight=frozenset(slots), letters=True))
    return draw_cards(cards)


LONGEST = 60
"""An answer of more turns is none that anybody would teach."""


@kindly
def check_carried(set_up: str, tool: str, changes: Items[str], *, name: str = "cube:3") -> Note:
    """Whether ``set_up``, then the ``tool``, then the set-up undone solve what ``changes`` by hand have made.

    >>> check_carried("F2", "[L2, [U: R2]]", ["cycle UFR UFL UBL"])
    Yes: [F2: [L2, [U: R2]]] is a way out.
    """
    puzzle = load(name)
    start = changed(puzzle, changes)
    way = puzzle.read(f"[{_read(puzzle, set_up, 'R F2')}: {tool}]")
    if looks_solved(puzzle, puzzle.appearance(puzzle.follow(way, start))):
        return Note(f"Yes: {way} is a way out.")
    reached, aim, own = (out_of_place(puzzle, state) for state in (puzzle.follow(way), start, puzzle.follow(tool)))
    if reached != aim:
        now, asked, works = (slot_names(puzzle, slots) for slots in (reached, aim, own))
        told = f"Carried like this, the tool changes the pieces in {now}; the ticket is about {asked}."
        return Note(f"Not yet. {told} By itself it works on {works}: bring the pieces of the ticket there.")
    told = "the tool now works on the right pieces, and sends them the wrong way round or into another twist"
    return Note(f"Not yet, but nearly: {told}. Bring them to the tool in another order.")


@kindly
def check_shortest(moves: str, after: str, *, name: str = "rings:4+4") -> Note:
    """Whether ``moves`` lead home from the position that the turns ``after`` make, and no way is shorter.

    >>> check_shortest("b' a'", "a b")
    Yes: that is a way out, and none has fewer than two turns.
    """
    puzzle = load(name)
    start = puzzle.follow(after)
    read = _read(puzzle, moves, " ".join(list(puzzle.turns)[:3]))
    turns = [turn.name for turn in puzzle.settled(read)[0] if not turn.whole]
    end = puzzle.follow(read, start)
    if not looks_solved(puzzle, puzzle.appearance(end)):
        astray = slot_names(puzzle, out_of_place(puzzle, end))
        return Note(f"Not yet. After your turns the pieces in {astray} do not belong there.")
    states = (puzzle.follow(" ".join(turns[:made]), start) for made in range(len(turns) + 1))
    left = [len(find_way(puzzle, puzzle.appearance(state)).turns) for state in states]
    if len(turns) == left[0]:
        return Note(f"Yes: that is a way out, and none has fewer than {counted_words(left[0], 'turns')}.")
    lost = next(made for made in range(len(turns)) if left[made + 1] >= left[made])
    told = f"Your turn {lost + 1}, {turns[lost]}, leads no nearer to home."
    return Note(f"It is a way out, in {counted_words(len(turns), 'turns')}, and not yet a shortest. {told}")


def _read(puzzle: Puzzle, answer: object, example: str) -> Sequence:
    text = written(answer, f"turns such as: {example}")
    read = puzzle.read(text)
    if len(read) > LONGEST:
        raise Hint(f"That has {len(read)} turns. Nobody would want to learn it: keep to {LONGEST} or fewer.")
    if not read.items:
        raise Hint(f"There is no turn in {quoted(text)}. Write turns such as: {example}")
    return read
