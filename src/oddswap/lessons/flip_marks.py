"""How flips are counted away from home: a ring for each slot, a dot for each piece; an edge is flipped where they part."""

from matplotlib.figure import Figure

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.showing.ink.camera import cameras
from oddswap.showing.ink.canvas import write
from oddswap.showing.ink.palette import BODY, PAPER
from oddswap.showing.ink.paper_card import PaperCard
from oddswap.showing.ink.scene import scene

CARD = PaperCard(side=2.4, pad=0.09, foot=0.34)
RING, DOT = 17, 8
"""Points across."""


def draw_flip_marks(puzzle: Puzzle, turns: str) -> Figure:
    """The edges of a cube after turns, from two sides, with their marks; those that are flipped are outlined.

    The ring of a slot lies on the first side in its name, and the dot of a piece on the sticker of the first side in its name.

    >>> from oddswap import lessons
    >>> figure = lessons.draw_flip_marks("cube:3", "F")
    """
    state = puzzle.follow(turns)
    flipped = frozenset(slot for kind in puzzle.kinds if kind.family == "edges" for slot in kind.places if state.twists[slot])
    ax, corners = CARD.in_rows(2, 2, 0.2)
    for corner, camera in zip(corners, cameras(puzzle), strict=True):
        spot = CARD.picture(ax, corner, puzzle, state, camera, highlight=flipped)
        for panel in scene(puzzle, state, camera).panels:
            if panel.role == "sticker" and puzzle.kind_of[panel.slot].family == "edges":
                middle = panel.vertices.mean(axis=0)
                side = max(puzzle.slots[panel.slot], key=lambda side: middle @ puzzle.geometry.mechanism.directions[side])
                marks = [(RING, "none", PAPER)] if side == puzzle.slots[panel.slot][0] else []
                marks += [(DOT, PAPER, PAPER)] if panel.facet == puzzle.slots[panel.piece][0] else []
                for size, face, edge in marks:
                    for width, colour in ((4.0, BODY), (1.8, edge)):
                        look = {"ms": size, "mfc": face, "mec": colour, "mew": width, "zorder": 30}
                        ax.plot(*spot.place(camera.project(middle)), "o", **look)
        write(ax, spot.x, corner[1] + CARD.foot / 2, f"after {turns}, {camera.words}", size=10)
    return ax.figure
