"""What is cut out of paper: nets with tabs, two blocks of which one can be turned over unseen, tiles and their board.

A net is the faces of a convex solid laid into the plane, each hinged on its neighbour, with tabs to glue the other edges.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from oddswap.puzzles.base.mechanism import Body, Geometry
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.space import Face
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.lookalikes import lookalikes
from oddswap.showing.ink.canvas import EDGE, Paper, lay_polygons, write
from oddswap.showing.ink.outline import inset
from oddswap.showing.ink.painting import Spot, fitting, letter_of
from oddswap.showing.ink.palette import BODY, FAINT_INK, PAPER, colours_for, ink_on
from oddswap.words.products.worksheets import SAYS

TAB, SLANT = 0.16, 0.3
"""How broad a tab is and how far its ends lean in, in shares of the longest edge and of its own."""
WAYS = np.linspace(0, 2 * np.pi, 720, endpoint=False) + 0.001


@dataclass(frozen=True, eq=False)
class Net:
    """``laid``: for each face the matrix (2, 3) and shift (2,) that lay it down; ``tabs`` are polygons (4, 2).

    Everything is seen from outside.
    """

    faces: tuple[Face, ...]
    laid: tuple[tuple[np.ndarray, np.ndarray], ...]
    tabs: tuple[np.ndarray, ...]

    def flat(self, face: int, points: np.ndarray) -> np.ndarray:
        """Points (k, 3) on a face in the plane of the net, (k, 2)."""
        matrix, shift = self.laid[face]
        return points @ matrix.T + shift

    @property
    def outlines(self) -> list[np.ndarray]:
        """The faces in the plane, in their order."""
        return [self.flat(i, face.vertices) for i, face in enumerate(self.faces)]


def facets_of(geometry: Geometry) -> tuple[Face, ...]:
    """The facets of a whole solid, each as one polygon."""
    found = []
    for facet, normal in geometry.facets.items():
        faces = [face.vertices for body in geometry.bodies for face in body.faces if face.facet == facet]
        points, across = np.concatenate(faces), _square_to(normal)
        around = np.stack([np.cos(WAYS), np.sin(WAYS)], 1) @ np.array([across, np.cross(normal, across)])
        corners = dict.fromkeys((points @ around.T).argmax(axis=0).tolist())
        each_once = {tuple(point): point for point in points[list(corners)].round(9)}
        found.append(Face(facet, np.array(list(each_once.values()))))
    return tuple(found)


def _square_to(normal: np.ndarray) -> np.ndarray:
    across = np.cross(normal, np.eye(3)[int(np.abs(normal).argmin())])
    return across / np.linalg.norm(across)


def net(faces: Sequence[Face]) -> Net:
    """Lay the faces of a convex solid down, breadth first from the one with the most edges, so that the others lie round it.

    >>> from oddswap.puzzles.catalogue import load
    >>> cube = net(facets_of(load("cube:3").geometry))
    >>> len(cube.faces), len(cube.tabs)
    (6, 7)
    """
    first = max(range(len(faces)), key=lambda i: len(faces[i].vertices))
    across = _square_to(faces[first].normal)
    laid = {first: (np.array([across, np.cross(faces[first].normal, across)]), np.zeros(2))}
    tabs, glued = [], set()
    longest = max(np.linalg.norm(b - a) for face in faces for a, b in _edges(face))
    for at in (order := [first]):
        matrix, shift = laid[at]
        for a, b in _edges(faces[at]):
            other = next(i for i, face in enumerate(faces) if i != at and _has(face, a) and _has(face, b))
            start, end = matrix @ a + shift, matrix @ b + shift
            along, out = (end - start), np.array([end[1] - start[1], start[0] - end[0]])
            if other not in laid:
                edge = (b - a) / np.linalg.norm(b - a)
                flat = along / np.linalg.norm(along)
                turned = np.outer(flat, edge) + np.outer([-flat[1], flat[0]], np.cross(faces[other].normal, edge))
                laid[other] = turned, start - turned @ a
                order.append(other)
                glued.add(frozenset((at, other)))
            elif frozenset((at, other)) not in glued:
                glued.add(frozenset((at, other)))
                out *= TAB * longest / np.linalg.norm(out)
                tabs.append(np.array([start, end, end + out - SLANT * along, start + out + SLANT * along]))
    return Net(tuple(faces), tuple(laid[i] for i in range(len(faces))), tuple(tabs))


def _edges(face: Face) -> list[tuple[np.ndarray, np.ndarray]]:
    return list(zip(face.vertices, np.roll(face.vertices, -1, axis=0), strict=True))


def _has(face: Face, corner: np.ndarray) -> bool:
    return bool(np.isclose(face.vertices, corner, atol=1e-6).all(axis=1).any())


PRISM = "shape-mod:prism8"
"""Whose blocks are folded where no puzzle of the evening has one that can be turned over unseen."""
SIZE, TILE_SIZE, RIM = 11, 40, 0.06
"""Points of words, and half-edges from the rim of a side to the frame in it."""


def cut_out_pages(puzzles: Sequence[Puzzle], paper: str = "A4") -> list[Figure]:
    """A net of the first puzzle in colour and one to colour in, the two blocks, the tiles and their board, a page each."""
    lead = puzzles[0]
    pages: list[Figure] = []
    for filled in (True, False):
        page = _page(SAYS.net.format(lead.title), SAYS.cut if filled else f"{SAYS.colour_in} {SAYS.cut}", paper)
        lay_facet_net(page, lead, filled)
        pages += page.pages
    page = _page(SAYS.blocks_title, SAYS.blocks, paper)
    _blocks(page, next(filter(None, map(_two_alike, (*puzzles, load(PRISM))))))
    board = _page(SAYS.board_title, SAYS.board, paper)
    _grid(board, [""] * 16, "-")
    tiles = _page(SAYS.tiles_title, SAYS.tiles, paper)
    _grid(tiles, [*map(str, range(1, 16)), "A", "A"], (0, (4, 2)))
    return [*pages, *page.pages, *board.pages, *tiles.pages]


def _page(title: str, text: str, paper: str) -> Paper:
    page = Paper(paper)
    page.text(title, 20, weight="bold")
    page.text(text, SIZE)
    return page


def _lay(page: Paper, folded: Net, left: float, wide: float, high: float) -> Spot:
    """The outline of a net and its tabs, as large as fits below what is there; returns where it lies."""
    shapes = [*folded.tabs, *folded.outlines]
    points = np.concatenate(shapes)
    across, up = np.ptp(points, axis=0)
    spot = fitting(points, (left + wide / 2, page.y - high / 2), min(wide / across, high / up) * max(across, up))
    lay_polygons(page.ax, [spot.place(tab) for tab in folded.tabs], facecolors=PAPER, edgecolors=FAINT_INK, linewidths=0.8)
    lay_polygons(page.ax, [spot.place(face) for face in folded.outlines], facecolors=PAPER, edgecolors=BODY, linewidths=1.6)
    return spot


def lay_facet_net(page: Paper, puzzle: Puzzle, filled: bool) -> None:
    """A whole solid with its stickers, in colour or empty, and the letter of each facet."""
    geometry, colours, whole = puzzle.geometry, colours_for(puzzle), net(facets_of(puzzle.geometry))
    spot = _lay(page, whole, EDGE, page.inner, page.y - EDGE)
    for i, facet in enumerate(whole.faces):
        ink = colours[geometry.paints[facet.facet]] if filled else PAPER
        cells = [face.vertices for body in geometry.bodies for face in body.faces if face.facet == facet.facet]
        cells = [spot.place(whole.flat(i, cell)) for cell in cells]
        lay_polygons(page.ax, cells, facecolors=ink, edgecolors=BODY, linewidths=0.8)
        middle = spot.place(whole.outlines[i]).mean(axis=0)
        letter = letter_of(geometry.paints[facet.facet])
        write(page.ax, *middle, letter, size=20, weight="bold", color=ink_on(ink) if filled else FAINT_INK)
    lay_polygons(page.ax, [spot.place(face) for face in whole.outlines], facecolors="none", edgecolors=BODY, linewidths=2.4)


def _two_alike(puzzle: Puzzle) -> tuple[Body, Body] | None:
    """A piece that a half turn of its own leaves as it looks, and one of its kind that shows it; ``None`` without such."""
    hidden = lookalikes(puzzle).hidden_turns
    for piece in hidden:
        kind = puzzle.kind_of[piece]
        shown = [other for other in kind.places if other not in hidden]
        if kind.twist == 2 and shown:
            return puzzle.geometry.bodies[piece], puzzle.geometry.bodies[shown[0]]
    return None


def _blocks(page: Paper, blocks: tuple[Body, Body]) -> None:
    """The nets of two pieces: a frame in each outer side, an arrow on an inner one."""
    high = (page.y - EDGE) / 2
    for body in blocks:
        block = net(body.faces)
        spot = _lay(page, block, EDGE, page.inner, 0.9 * high)
        frames = [block.flat(i, inset(face.vertices, face.normal, RIM)) for i, face in enumerate(block.faces) if face.facet]
        lay_polygons(page.ax, [*map(spot.place, frames)], facecolors="none", edgecolors=BODY, linewidths=0.8)
        inner = max((i for i, face in enumerate(block.faces) if not face.facet), key=lambda i: block.faces[i].area)
        write(page.ax, *spot.place(block.outlines[inner]).mean(axis=0), "↑", size=TILE_SIZE, weight="bold")
        page.y -= high


def _grid(page: Paper, texts: Sequence[str], line) -> None:
    side = page.inner / 4.4
    for number, text in enumerate(texts):
        gap = 1.02 if not text else 1.08
        x, y = EDGE + number % 4 * side * gap, page.y - number // 4 * side * gap
        size = side * gap if not text else side
        page.ax.add_patch(Rectangle((x, y - size), size, size, facecolor="none", edgecolor=BODY, lw=1.2, linestyle=line))
        write(page.ax, x + side / 2, y - side / 2, text, size=TILE_SIZE, weight="bold")
