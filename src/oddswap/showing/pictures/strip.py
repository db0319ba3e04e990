"""Moves as pictures: one move, large; a sequence as a strip, one small numbered picture for each move; shapes on the way."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import replace
from functools import partial
from itertools import accumulate

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from oddswap.puzzles.base.puzzle import Puzzle, Turn, carried
from oddswap.puzzles.boxes.box import BoxPuzzle
from oddswap.showing.ink.arrows import draw_arrows, draw_flat_arrows
from oddswap.showing.ink.camera import Camera, cameras, looking_at, reach
from oddswap.showing.ink.canvas import write
from oddswap.showing.ink.cards import MARGIN, PaperCard
from oddswap.showing.ink.flat import colours_by_paint, lay_flat, spot_within
from oddswap.showing.ink.painting import Inks, Spot, hatched_pieces, paint, slot_numbers
from oddswap.showing.ink.palette import FAINT_INK, colours_for
from oddswap.showing.ink.scene import scene
from oddswap.values.notation import write as write_steps
from oddswap.values.numbers import AtLeastOne, Measure
from oddswap.values.position import START, Arrangement, Holding
from oddswap.values.sequence import Sequence, Step
from oddswap.words.pictures import IF_IT_CATCHES, STAYS

FRAME, GUTTER, FOOT, SHORT_FOOT, ROW_GAP, EDGE, NUMBERED = 1.3, 0.1, 0.37, 0.26, 0.2, 0.05, 0.16
LARGE = PaperCard(side=2.0, pad=0.09, foot=0.34)
BEGUN = np.radians(14)
"""How far a slab has turned in its picture."""
LETTERS = 13 / 11
"""The size of letters on stickers, in shares of that of the smallest words, where there is room."""


def draw_move(
    puzzle: Puzzle,
    arrangement: Arrangement,
    turns: Collection[Turn] = (),
    *,
    colours: Mapping[str, str] | None = None,
    ax: Axes | None = None,
) -> Figure:
    """``arrangement`` with ``turns`` begun, which turn about one axis, each with its arrow; at rest without turns.

    >>> from oddswap import draw
    >>> figure = draw.draw_move("cube:3", [], "R")
    """
    inks = Inks(colours_for(puzzle, colours), lifted=bool(turns))
    turning = [(turn, BEGUN / abs(turn.angle)) for turn in turns]
    ax, corners = LARGE.in_rows(2, 2, 0.1, ax)
    for camera, corner in zip(cameras(puzzle), corners, strict=True):
        spot = LARGE.lay(ax, *corner, 1.17 * reach(puzzle))
        paint(ax, scene(puzzle, arrangement, camera, turning), inks, spot)
        draw_arrows(ax, puzzle, arrangement, turns, camera, spot, zorder=3)
        write(ax, spot.x, MARGIN + LARGE.foot / 2, camera.words, size=8.5, color=FAINT_INK)
    return ax.figure


def draw_strip(
    puzzle: Puzzle,
    arrangement: Arrangement,
    moves: str | Sequence,
    *,
    per_row: AtLeastOne = 6,
    highlight: Iterable[str | int] = (),
    colours: Mapping[str, str] | None = None,
    letters: bool = False,
    xray: bool | Iterable[str | int] = False,
    holding: Holding = START,
    points: Measure = 7.0,
    ax: Axes | None = None,
) -> Figure:
    """The strip of ``moves`` from ``arrangement``; the pieces that start in the slots of ``highlight`` stay outlined.

    ``xray`` hatches pieces as in `draw_prints`, whose key stands there. ``moves`` are as hands say them that hold the puzzle
    as in ``holding``, and so is every picture. ``points`` is the size of the smallest words.

    Every picture is seen from the core, so whole-puzzle rotations change the names of later moves and no picture; the
    name as seen from the core stands beneath where it differs. What slides into a blank is named by the slot that it leaves.

    >>> from oddswap import draw
    >>> figure = draw.draw_strip("cube:3", [], "R U R' U'")
    """
    steps = puzzle.read(moves).steps
    made, note = made_by(puzzle, steps, arrangement, holding)
    names = names_of(puzzle, arrangement, steps, made, holding)
    colours = colours_by_paint(puzzle, colours)
    hatched = hatched_pieces(puzzle, xray)
    followed = {arrangement.pieces[slot] for slot in slot_numbers(puzzle, highlight)}
    card, ax, corners = _cards(len(steps) + 1, per_row, note, ax)
    for i, (left, low) in enumerate(corners):
        turns = made[i] if i < len(steps) else ()
        spot, base = card.lay(ax, left, low, 1.0), low + card.foot
        inks = Inks(
            colours,
            hatched,
            highlight=frozenset(b for b, piece in enumerate(arrangement.pieces) if piece in followed),
            lifted=bool(turns),
            letters=letters,
            holding=holding,
        )
        if puzzle.geometry is None:
            _flat_frame(ax, puzzle, arrangement, turns, inks, spot.x, spot.y)
        else:
            lay_turn(ax, puzzle, arrangement, turns, inks, spot.x, spot.y, FRAME, size=LETTERS * points)
        name, aside = names[i] if i < len(steps) else ("result", "")
        write(ax, left + GUTTER + 0.08, base + FRAME - 0.1, str(i + 1) if i < len(steps) else "", size=points, color=FAINT_INK)
        write(ax, spot.x, base - 0.13, name, size=1.5 * points, weight="bold" if i < len(steps) else "normal")
        write(ax, spot.x, base - 0.28, aside, size=points, color=FAINT_INK)
        arrangement = after_turns(puzzle, arrangement, turns)
    write(ax, ax.get_xlim()[1] / 2, MARGIN * 0.8, note, size=points, color=FAINT_INK)
    return ax.figure


def _cards(count: int, per_row: int, note: str, ax: Axes | None) -> tuple[PaperCard, Axes, list[tuple[float, float]]]:
    """So many cards in rows that are as full as each other, room for a note below them, and their lower left corners."""
    columns = -(-count // -(-count // per_row))
    card = PaperCard(FRAME, GUTTER, FOOT if note else SHORT_FOOT)
    return card, *card.in_rows(count, columns, -GUTTER, ax, apart=ROW_GAP, below=0.25 if note else 0.0)


def strip_height(puzzle: Puzzle, start: Arrangement, moves: str, per_row: int, holding: Holding = START) -> float:
    """How high a strip is, in shares of its breadth."""
    steps = puzzle.read(moves).steps
    _, ax, _ = _cards(len(steps) + 1, per_row, made_by(puzzle, steps, start, holding)[1], None)
    return ax.figure.get_figheight() / ax.figure.get_figwidth()


def made_by(
    puzzle: Puzzle, steps: tuple[Step, ...], start: Arrangement | None = None, holding: Holding = START
) -> tuple[list[tuple[Turn, ...]], str]:
    """What each step turns, seen from the core, and a sentence on the holding where it changes.

    ``holding`` is how hands hold the puzzle that begin with the first of the ``steps``. ``start`` matters where a move depends
    on the blank; solved when left out.
    """
    if puzzle.blank is not None:
        return [(turn,) for turn in puzzle.settled(Sequence(steps), start)[0]], ""
    made, before, own = [], 0, holding.inverse.moves_by_hand(steps)
    for i in range(1, len(steps) + 1):
        turns, _ = puzzle.settled(Sequence(own[:i]), start)
        slabs = [turn for turn in turns if not turn.whole]
        made.append(tuple(slabs[before:]))
        before = len(slabs)
    same = all(turns and str(step) == turns[0].name for step, turns in zip(own, made, strict=True))
    return made, "" if same or puzzle.geometry is None else STAYS


def lay_turn(
    ax: Axes,
    puzzle: Puzzle,
    arrangement: Arrangement,
    turns: Collection[Turn],
    inks: Inks,
    x: float,
    y: float,
    side: float,
    *,
    camera: Camera | None = None,
    size: float = 8.0,
) -> None:
    """Lay a solid with ``turns`` begun, each with its arrow, in a square round (x, y), as on its first print or by ``camera``."""
    camera = camera or cameras(puzzle, inks.holding)[0]
    spot = Spot(x, y, side / 2 / (1.25 * reach(puzzle)))
    turning = [(turn, BEGUN / abs(turn.angle)) for turn in turns]
    paint(ax, scene(puzzle, arrangement, camera, turning).open(), inks, spot, size=size)
    draw_arrows(ax, puzzle, arrangement, turns, camera, spot, zorder=3)


def draw_turns(puzzle: Puzzle, moves: str, *, colours: Mapping[str, str] | None = None, ax: Axes | None = None) -> Figure:
    """Each turn that ``moves`` name by itself, begun from solved, with its name beneath: what the names mean.

    A whole-puzzle rotation is among them where nothing fixes the holding; elsewhere it moves no piece.

    >>> from oddswap.puzzles.catalogue import load
    >>> figure = draw_turns(load("octahedron"), "A B' A'")
    """
    named = {step.name if step.name in puzzle.turns else str(step) for step in puzzle.read(moves).steps}
    every = [name for name in (*puzzle.turns, *sorted(named - puzzle.turns.keys())) if name in named]
    made = {name: turns for name in every if (turns := puzzle.settled(name)[0])}
    ax, corners = CARD.in_rows(len(made), PER_ROW, 0.16, ax)
    inks = Inks(colours_by_paint(puzzle, colours), lifted=True)
    for (name, turns), (left, low) in zip(made.items(), corners, strict=True):
        spot = CARD.lay(ax, left, low, 1.0)
        if puzzle.geometry is None:
            _flat_frame(ax, puzzle, puzzle.solved, turns, inks, spot.x, spot.y)
        else:
            camera = looking_at(puzzle, turns[0].axis)
            lay_turn(ax, puzzle, puzzle.solved, turns, inks, spot.x, spot.y, CARD.side, camera=camera)
            write(ax, spot.x, low + 0.12, camera.words, size=7, color=FAINT_INK)
        write(ax, spot.x, low + 0.28, name, size=10, weight="bold")
    return ax.figure


def _flat_frame(ax: Axes, puzzle: Puzzle, arrangement: Arrangement, turns: tuple[Turn, ...], inks: Inks, x: float, y: float):
    spot = spot_within(puzzle, (x - FRAME / 2 + EDGE, y - FRAME / 2 + EDGE, FRAME - 2 * EDGE, FRAME - EDGE - NUMBERED))
    moving = {slot for turn in turns for slot in turn.slots}
    faded = frozenset(range(len(puzzle.slots))) - moving if turns else frozenset()
    lay_flat(ax, puzzle, arrangement, replace(inks, faded=faded), spot)
    draw_flat_arrows(ax, puzzle, arrangement, turns, spot, zorder=4)


def names_of(
    puzzle: Puzzle, start: Arrangement, steps: tuple[Step, ...], made: list[tuple[Turn, ...]], holding: Holding = START
) -> list[tuple[str, str]]:
    """Each step as written, and what it is for the core where that is something else."""
    if puzzle.blank is not None:
        return [(name, "") for name in puzzle.spelled(Sequence(steps), start).split()]
    if puzzle.geometry is None:
        return [(str(step), "") for step in steps]
    return [(str(step), _aside(str(step), turns, holding)) for step, turns in zip(steps, made, strict=True)]


def _aside(name: str, turns: tuple[Turn, ...], holding: Holding) -> str:
    seen = write_steps(holding.moves_by_hand(turn.step for turn in turns))
    return "the whole puzzle" if not turns else "" if seen == name else f"core: {seen}"


def after_turns(puzzle: Puzzle, arrangement: Arrangement, turns: tuple[Turn, ...]) -> Arrangement:
    """The arrangement after elementary turns."""
    return puzzle.arrangement(carried(puzzle.permutation(arrangement), turns))


def states_along(puzzle: Puzzle, start: Arrangement, made: Iterable[tuple[Turn, ...]]) -> list[Arrangement]:
    """The arrangement at the start, and after each move that turns what is ``made``."""
    return list(accumulate(made, partial(after_turns, puzzle), initial=start))


CARD = PaperCard(side=1.6, pad=0.08, foot=0.42)
PER_ROW, HEAD = 5, 0.4


def shape_changes(box: BoxPuzzle, start: Arrangement, moves: str) -> tuple[tuple[int, Turn, Arrangement], ...]:
    """The turns of ``moves`` that change the outline: their number from 1, the turn, and the arrangement after each."""
    turns, outlines = box.settled(moves, start)[0], box.outlines(moves, start)
    states = states_along(box, start, zip(turns))
    return tuple((i, turn, states[i]) for i, turn in enumerate(turns, 1) if (outlines[i - 1] != outlines[i]).any())


def draw_shapes_on_the_way(
    box: BoxPuzzle, start: Arrangement, moves: str, *, colours=None, holding: Holding = START, ax: Axes | None = None
) -> Figure:
    """A picture after every turn that changes the outline, with the number and name of the turn, from ``start`` on.

    ``colours`` are the visitor's own, by facet; names and pictures are as hands have them that hold it as in ``holding``.
    """
    changes = shape_changes(box, start, moves)
    ax, corners = CARD.in_rows(len(changes), PER_ROW, 0.16, ax, above=HEAD)
    inks = Inks(colours_for(box, colours))
    write(ax, ax.get_xlim()[1] / 2, ax.get_ylim()[1] - MARGIN - HEAD / 2, IF_IT_CATCHES, size=8.5, color=FAINT_INK)
    for (number, turn, after), (left, low) in zip(changes, corners, strict=True):
        spot = CARD.lay(ax, left, low, 1.08 * reach(box))
        paint(ax, scene(box, after, cameras(box, holding)[0]), inks, spot)
        (step,) = holding.moves_by_hand([turn.step])
        write(ax, spot.x, low + 0.28, f"after turn {number}: {step}", size=9, weight="bold")
        write(ax, spot.x, low + 0.12, "it should now look like this", size=7, color=FAINT_INK)
    return ax.figure
