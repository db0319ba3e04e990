"""What a box should look like after every turn that changes its shape."""

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from oddswap.puzzles.base.puzzle import Turn
from oddswap.puzzles.boxes.box import BoxPuzzle
from oddswap.showing.ink.camera import cameras, reach
from oddswap.showing.ink.canvas import write
from oddswap.showing.ink.painting import Inks, paint
from oddswap.showing.ink.palette import FAINT_INK, colours_for
from oddswap.showing.ink.paper_card import MARGIN, PaperCard
from oddswap.showing.ink.scene import scene
from oddswap.values.position import START, Arrangement, Holding
from oddswap.words.pictures import IF_IT_CATCHES

CARD = PaperCard(side=1.6, pad=0.08, foot=0.42)
PER_ROW, HEAD = 5, 0.4


def shape_changes(box: BoxPuzzle, start: Arrangement, moves: str) -> tuple[tuple[int, Turn, Arrangement], ...]:
    """The turns of ``moves`` that change the outline: their number from 1, the turn, and the arrangement after each."""
    image, changes = box.permutation(start), []
    outlines = box.outlines(moves, start)
    for i, turn in enumerate(box.settled(moves, start)[0]):
        image = turn.permutation[image]
        if (outlines[i] != outlines[i + 1]).any():
            changes.append((i + 1, turn, box.arrangement(image)))
    return tuple(changes)


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
