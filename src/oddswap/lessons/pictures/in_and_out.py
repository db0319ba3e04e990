"""In and out: a box leaves its outline and comes back, and the pieces that have ended elsewhere are inked.

*A box again* is not *the same box again*: the shape is, and what is in it need not be.
"""

from __future__ import annotations

from dataclasses import replace

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from oddswap.errors import BadOption
from oddswap.puzzles.base.puzzle import Turn
from oddswap.puzzles.boxes.box import BoxPuzzle
from oddswap.showing.ink.arrows import draw_arrow
from oddswap.showing.ink.camera import cameras, reach
from oddswap.showing.ink.canvas import write
from oddswap.showing.ink.painting import Inks, Spot, paint
from oddswap.showing.ink.palette import FAINT_INK, HIGHLIGHT, colours_for
from oddswap.showing.ink.paper_card import PaperCard
from oddswap.showing.ink.scene import scene
from oddswap.values.arrangement import Arrangement
from oddswap.values.grammar import listed

CARD = PaperCard(side=2.0, pad=0.09, foot=0.54)
PER_ROW, MOST = 3, 11


def draw_in_and_out(box: BoxPuzzle, moves: str, start: Arrangement | None = None, *, ax: Axes | None = None) -> Figure:
    """The box from ``start`` on (home when left out): as it is, and after each turn, with the arrow of the next.

    Pieces that have ended elsewhere are outlined on every picture. If the box is closed in the end, they are in full ink with
    letters on the last picture, and all else is pale. At most ``MOST`` turns: `BadOption`.
    """
    start = start or box.solved
    turns = box.settled(moves, start)[0]
    if len(turns) > MOST:
        raise BadOption(f"{len(turns)} turns are too many for one sheet: write at most {MOST}")
    states = states_of(box, start, turns)
    inked = ended_elsewhere(box, states[0], states[-1])
    ax, corners = CARD.in_rows(len(states), PER_ROW, 0.16, ax)
    for i, (state, (left, low)) in enumerate(zip(states, corners, strict=True)):
        spot = CARD.lay(ax, left, low, 1.05 * reach(box))
        following = turns[i] if i < len(turns) else None
        _picture(ax, box, state, inked, following, spot)
        headline, words = _words(box, states, i, turns, inked)
        write(ax, spot.x, low + 0.38, headline, size=9.5, weight="bold", color=FAINT_INK if box.closed(state) else HIGHLIGHT)
        write(ax, spot.x, low + 0.16, words, size=8, color=FAINT_INK)
    return ax.figure


def states_of(box: BoxPuzzle, start: Arrangement, turns: tuple[Turn, ...]) -> list[Arrangement]:
    """The arrangement at the start and after each elementary turn."""
    image, states = box.permutation(start), [start]
    for turn in turns:
        image = turn.permutation[image]
        states.append(box.arrangement(image))
    return states


def ended_elsewhere(box: BoxPuzzle, start: Arrangement, end: Arrangement) -> frozenset[int]:
    """The coloured pieces, by the slots where they belong, that are in another slot or turned otherwise than at the start.

    >>> from oddswap.puzzles.catalogue import load
    >>> box = load("cuboid:2x3x4,turns=all")
    >>> [box.slots[piece] for piece in sorted(ended_elsewhere(box, box.solved, box.follow("U 2F2 RR2 2F2 U'")))]
    ['UFR', 'UBL']
    """
    pieces = zip(start.pieces, start.twists, end.pieces, end.twists, strict=True)
    moved = {after for before, way, after, other in pieces if (before, way) != (after, other)}
    return frozenset(piece for piece in moved if box.filled[piece] and not box.blank_inside[piece])


def _picture(ax: Axes, box: BoxPuzzle, state: Arrangement, inked: frozenset[int], turn: Turn | None, spot: Spot) -> None:
    slots = frozenset(slot for slot, piece in enumerate(state.pieces) if piece in inked)
    inks = Inks(colours_for(box), highlight=slots if len(inked) < sum(box.filled) / 2 else frozenset())
    if turn is None and inked and box.closed(state):
        inks = replace(inks, letters=slots, faded=frozenset(range(len(box.slots))) - slots)
    camera = cameras(box)[0]
    paint(ax, scene(box, state, camera).open(), inks, spot, size=6.5)
    if turn is not None:
        draw_arrow(ax, box, state, turn, camera, spot, zorder=3)


def _words(box: BoxPuzzle, states: list[Arrangement], i: int, turns: tuple[Turn, ...], inked: frozenset[int]) -> tuple[str, str]:
    """A headline for a picture and the words beneath it."""
    shut = box.closed(states[i])
    shape = ("the box" if i == 0 else "a box again" if not box.closed(states[i - 1]) else "still a box") if shut else "out"
    headline = f"after {turns[i - 1].name}: {shape}" if i else shape if shut else "out of its outline"
    if i < len(turns):
        return headline, f"next: {turns[i].name}"
    if not shut:
        return headline, f"{int((box.outline(states[i]) & ~box.filled).sum())} pieces stand out"
    names = [box.slots[piece] for piece in sorted(inked)]
    if not names:
        return headline, "every piece is where it was" if turns else ""
    return headline, f"elsewhere now: {listed(names)}" if len(names) <= 4 else f"elsewhere now: {len(names)} pieces"
