"""Albums for tests: positions whose stickers are known, photographed in the darkroom, and what a reading of them is worth."""

from collections import Counter
from dataclasses import dataclass

import numpy as np

from oddswap.describing.photographs.outside import outside
from oddswap.describing.photographs.palette import look_of
from oddswap.describing.photographs.picture import read_picture
from oddswap.describing.photographs.reader import Photograph, PhotographsRead, read_photographs
from oddswap.puzzles.catalogue import load
from tests.describing.photographs.darkroom import ABOVE, FACES, STICKERS, Shot, box, draw_lamps, expose

ORDER = "UDFBLR"
OPPOSITE = (1, 1, 1), (-1, -1, -1)


@dataclass(frozen=True)
class Album:
    """``rows[face]`` are the letters on each face as people read them; ``palette`` the visitor's words for U D F B L R."""

    name: str
    rows: dict[str, list[list[str]]]
    palette: list[str]
    shots: list[Shot]


def scrambled(rng, turns: int = 25) -> dict[str, list[list[str]]]:
    """A 3×3×3 after random quarter turns, its stickers carried as points in space."""
    solved = {
        (FACES[face], spot(face, row, column, (3, 3, 3))): face for face in FACES for row in range(3) for column in range(3)
    }
    for _ in range(turns):
        solved = _turned(solved, np.array(FACES[str(rng.choice(list(ORDER)))]))
    return {face: [[solved[way, spot(face, r, c, (3, 3, 3))] for c in range(3)] for r in range(3)] for face, way in FACES.items()}


def _turned(points: dict, axis: np.ndarray) -> dict:
    """The stickers after a quarter turn of a side, clockwise as seen from outside."""

    def carried(vector):
        return tuple(int(x) for x in axis * (axis @ np.array(vector)) + np.cross(vector, axis))

    def moved(way, cell):
        middle = np.array(cell) - 1
        return (carried(way), tuple(x + 1 for x in carried(middle))) if middle @ axis == 1 else (way, cell)

    return {moved(*at): colour for at, colour in points.items()}


def spot(face: str, row: int, column: int, counts: tuple[int, int, int]) -> tuple[int, int, int]:
    """The cell beneath a sticker, counted from the left, from below and from behind."""
    out, up = np.array(FACES[face]), np.array(FACES[ABOVE[face]])
    right = np.cross(up, out)
    cell = [0, 0, 0]
    for axis, n in enumerate(counts):
        if out[axis]:
            cell[axis] = n - 1 if out[axis] > 0 else 0
        elif up[axis]:
            cell[axis] = n - 1 - row if up[axis] > 0 else row
        else:
            cell[axis] = column if right[axis] > 0 else n - 1 - column
    return cell[0], cell[1], cell[2]


def photographed(rows, counts, palette, rng, towards=OPPOSITE, harsh: bool = True, off: float = 8.0) -> list[Shot]:
    """Photographs of a box with these rows."""
    seen = {
        (face, spot(face, r, c, counts)): ORDER.index(s)
        for face, own in rows.items()
        for r, row in enumerate(own)
        for c, s in enumerate(row)
    }
    lamps = draw_lamps(rng)
    return [expose(box(*counts), lambda face, cell: seen[face, cell], palette, way, lamps, rng, off, harsh) for way in towards]


def album(seed: int, exchanged: int = 0, **how) -> Album:
    """A scrambled 3×3×3 of random colours, ``exchanged`` times with two stickers exchanged that may be anywhere."""
    rng = np.random.default_rng(seed)
    rows = scrambled(rng)
    for _ in range(exchanged):
        (f, r, c), (g, s, d) = ((str(rng.choice(list(ORDER))), *rng.integers(0, 3, 2)) for _ in range(2))
        if (r, c) != (1, 1) != (s, d):
            rows[f][r][c], rows[g][s][d] = rows[g][s][d], rows[f][r][c]
    palette = [str(word) for word in rng.choice(list(STICKERS), 6, replace=False)]
    return Album("cube:3", rows, palette, photographed(rows, (3, 3, 3), palette, rng, **how))


def nearly_solved(seed: int) -> Album:
    """What is sent in most often: a cube that is right but for two edges, exchanged or turned over. Half are taken mildly."""
    rng = np.random.default_rng(seed)
    rows = {face: [[face] * 3 for _ in range(3)] for face in ORDER}
    if seed % 2:
        rows["F"][0][1], rows["R"][0][1] = "R", "F"
    else:
        rows["U"][2][1], rows["F"][0][1], rows["U"][1][2], rows["R"][0][1] = "F", "U", "R", "U"
    palette = [str(word) for word in rng.choice(list(STICKERS), 6, replace=False)]
    return Album("cube:3", rows, palette, photographed(rows, (3, 3, 3), palette, rng, harsh=seed % 4 < 2))


def reading_of(own: Album, known: bool = True, shots: int = 2) -> PhotographsRead:
    """What the reader makes of an album, told the words for its colours or not."""
    pictures = [Photograph(f"photograph {i}", read_picture(s.data), s.corners) for i, s in enumerate(own.shots[:shots], 1)]
    looks = {face: look_of(word) for face, word in zip(ORDER, own.palette, strict=True)} if known else {}
    return read_photographs(load(own.name), pictures, looks)


def judge(own: Album, reading: PhotographsRead, towards=OPPOSITE) -> Counter:
    """Facets that were to be read, those called sure, sure ones that are wrong, and so on; by the rows alone.

    What a finger or glare hides a third of need not be read, but counts where it is called sure and wrong.
    """
    puzzle, counts = reading.puzzle, (3, 3, 3)
    solid = outside(puzzle)
    cells = [[at + 1 for at in np.sign(np.round(_middle(puzzle, slot), 3)).astype(int)] for slot in range(len(puzzle.slots))]
    places = {(face, spot(face, r, c, counts)): (face, r, c) for face in FACES for r in range(3) for c in range(3)}
    hidden = frozenset().union(*(shot.hidden for shot in own.shots[: len(towards)]))
    found = Counter(albums=1)
    for (slot, side), odds in zip(solid.places, reading.odds, strict=True):
        if not any(np.dot(FACES[side], way) > 0 for way in towards):
            continue
        face, r, c = places[side, tuple(cells[slot])]
        right = own.rows[face][r][c] == solid.paints[int(odds.argmax())]
        sure = odds.max() >= 0.998
        found["sure"] += int(sure)
        found["sure and wrong"] += int(sure and not right)
        if (side, tuple(cells[slot])) not in hidden:
            found["facets"] += 1
            found["clear and sure"] += int(sure)
            found["wrong"] += int(bool(odds.any()) and not right)
            found["wrong and not sure"] += int(bool(odds.any()) and not right and not sure)
            found["clear and wrong or unread"] += int(not right or not odds.any())
    found["wholly right"] = int(found["wrong"] == 0 and found["sure and wrong"] == 0)
    found["whole and right"] = int(found["wholly right"] and not found["clear and wrong or unread"])
    return found


def _middle(puzzle, slot: int):
    vertices = np.concatenate([face.vertices for face in puzzle.geometry.bodies[slot].faces])
    return (vertices.max(axis=0) + vertices.min(axis=0)) / 2
