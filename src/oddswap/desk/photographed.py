"""Photographs at the desk: where a solid's corners would lie in one, what a reading shows facet by facet, and corrections.

Places in a picture are in its pixels, from its top left. Nothing of a photograph is kept here.
"""

import os
from base64 import b64decode
from collections.abc import Mapping
from dataclasses import dataclass, replace
from io import BytesIO

import numpy as np
import tomli_w
from PIL import Image

from oddswap.describing.habits import Habits
from oddswap.describing.in_photographs import read_rows, read_slots
from oddswap.describing.photographs.outside import corner_name, outside
from oddswap.describing.photographs.palette import look_of
from oddswap.describing.photographs.picture import read_picture
from oddswap.describing.photographs.reader import Photograph, PhotographsRead, read_photographs, standing_of
from oddswap.describing.photographs.standing import Standing
from oddswap.describing.seen import read_look
from oddswap.describing.ticket import TURNED, Described, Ticket
from oddswap.errors import BadPhotograph, OddswapError
from oddswap.showing.ink.camera import cameras, reach
from oddswap.values.text_file import is_length
from oddswap.words.products.desk import SAYS
from oddswap.words.table import reader_of
from oddswap.words.to_visitors.heard import side_words

LEAST = 4
"""So many corners find a camera."""
FILLED = 0.42
"""How much of a picture a wireframe fills at first, from its middle."""
Corners = Mapping[str, tuple[float, float]]


def goes_where() -> str:
    """Who sees a photograph after the yes, as far as a kernel knows: a hub tells its kernels what they are part of."""
    on_a_hub = any(name.startswith("JUPYTERHUB_") for name in os.environ)
    return f"{SAYS.goes_to_program} {SAYS.goes_to_server}" if on_a_hub else SAYS.goes_to_program


def wireframe(ticket: Ticket, shape: tuple[float, float], view: int, corners: Corners) -> dict:
    """The facets and corners that a camera sees, laid over a picture of this ``shape`` (width, height).

    The camera is the one that sees ``corners`` so; with fewer than four of them one of eight, four above and four below, of
    which ``view`` 6 is opposite to 0. `BadPhotograph` where none sees them so.
    """
    puzzle, solid, reader = ticket.puzzle, outside(ticket.puzzle), reader_of(ticket)
    placed = _points(corners)
    standing = standing_of(puzzle, placed, shape) if len(placed) >= LEAST else _usual(ticket, shape, view)
    facets = _facets(ticket, standing)
    seen = {side for _, side, _, _ in facets}
    spots = {sides: standing.project(point) for sides, point in solid.corners.items() if sides & seen}
    order, corner_words = list(puzzle.geometry.facets), []
    for sides in _spread(spots):
        words = side_words(puzzle, tuple(sorted(sides, key=order.index)), reader)
        corner_words.append([corner_name(sides), words, spots[sides].tolist()])
    return {"corners": corner_words, "facets": facets}


def _points(corners: Corners) -> Corners:
    if not all(len(at) == 2 and all(map(is_length, at)) for at in corners.values()):
        raise BadPhotograph(SAYS.no_picture)
    return corners


def _usual(ticket: Ticket, shape: tuple[float, float], view: int) -> Standing:
    camera = cameras(ticket.puzzle)[0]
    (x, y, z), quarter = camera.direction, view % 4
    for _ in range(quarter):
        x, z = z, -x
    camera = replace(camera, direction=np.array([x, y if view < 4 else -y, z]))
    middle, size = np.array(shape) / 2, FILLED * min(shape) / reach(ticket.puzzle)
    return Standing(np.array([camera.right, -camera.up, -camera.direction]), middle, middle, size, 1 / camera.distance)


def _spread(spots: Mapping) -> list:
    """All corners, so that the first few lie far apart in the picture; the farthest from the middle comes first."""
    left, chosen = dict(spots), []
    middle = np.mean(list(left.values()), axis=0)
    while left:
        near = [spots[one] for one in chosen] or [middle]
        chosen.append(max(left, key=lambda one: min(np.linalg.norm(left[one] - at) for at in near)))
        del left[chosen[-1]]
    return chosen


def _facets(ticket: Ticket, standing: Standing) -> list:
    """The number, side, paint at home and outline of each facet that a camera sees."""
    solid, paints = outside(ticket.puzzle), ticket.puzzle.geometry.paints
    return [
        [number, side, paints[side], standing.project(polygon).round(1).tolist()]
        for number, ((_, side), normal, polygon) in enumerate(zip(solid.places, solid.normals, solid.polygons, strict=True))
        if normal @ (standing.eye - polygon[0]) > 0
    ]


@dataclass(frozen=True, eq=False)
class Album:
    """Photographs of one position, and what was read of them."""

    photographs: tuple[Photograph, ...]
    reading: PhotographsRead

    @property
    def look(self) -> Described:
        """What the reading says is seen."""
        rows = read_rows(self.reading)
        data = {"seen": rows} if rows else {"slots": read_slots(self.reading), "elsewhere": TURNED}
        return read_look(self.reading.puzzle, {}, Habits(), data)

    @property
    def colours(self) -> dict[str, str]:
        """The colours of sides as they were found."""
        looks = ((facet, self.reading.palette.get(paint)) for facet, paint in self.reading.puzzle.geometry.paints.items())
        return {facet: look for facet, look in looks if look}

    def files(self, stem: str) -> tuple[dict[str, bytes], str]:
        """The files that keep them beside a ticket, and its lines that name them: nothing but pixels is kept."""
        files, tables = {}, []
        for number, one in enumerate(self.photographs, 1):
            held, name = BytesIO(), f"{stem}_{number}.jpg"
            Image.fromarray(one.picture.pixels).save(held, "JPEG", quality=92)
            files[name] = held.getvalue()
            corners = {corner: [round(x / one.picture.scale, 1) for x in at] for corner, at in one.corners.items()}
            tables.append({"file": name, "corners": corners})
        return files, f"\n{tomli_w.dumps({'photograph': tables})}"


def read_album(ticket: Ticket, shots: list) -> Album:
    """Read photographs, each the address of a picture with its corners. `BadPhotograph`, `ContradictoryTicket`."""
    paints = ticket.puzzle.geometry.paints
    looks = {paints[facet]: look_of(word) for facet, word in ticket.colours.items()}
    known = looks if set(looks) == set(outside(ticket.puzzle).paints) else {}
    if not known and len(shots) == 1:
        raise BadPhotograph(SAYS.name_colours)
    try:
        files = [(b64decode(address.partition(",")[2], validate=True), _points(corners)) for address, corners in shots]
    except (AttributeError, TypeError, ValueError):
        raise BadPhotograph(SAYS.no_picture) from None
    album = tuple(Photograph(f"photograph {i}", read_picture(data), at) for i, (data, at) in enumerate(files, 1))
    return Album(album, read_photographs(ticket.puzzle, album, known))


def shown_facets(ticket: Ticket, reading: PhotographsRead) -> dict:
    """What a page shows of a reading: for each facet its paints, likeliest first, whether it is sure, and its side's name."""
    solid, reader, facets = outside(ticket.puzzle), reader_of(ticket), []
    for (_, side), odds, sure in zip(solid.places, reading.odds, reading.sure, strict=True):
        paints = [*(solid.paints[i] for i in np.argsort(-odds)), ""]
        facets.append([paints if odds.any() else [paints.pop(), *paints], bool(sure), side_words(ticket.puzzle, (side,), reader)])
    shots = [_facets(ticket, standing) for standing in reading.standings]
    return {"facets": facets, "shots": shots, "palette": dict(reading.palette) if reading.inferred else {}}


def corrected(album: Album, told: Mapping[str, str]) -> Album:
    """The album with paints that somebody tells by the facets' numbers; an empty text for what cannot be seen."""
    paints, odds = outside(album.reading.puzzle).paints, album.reading.odds.copy()
    for number, paint in told.items():
        odds[int(number)] = [paint == other for other in paints]
    return replace(album, reading=replace(album.reading, odds=odds))


class Photographed:
    """What a desk does with photographs: its ``ticket`` becomes one of what they show, after a yes."""

    _album: Album | None = None

    def _stand(self, shot: int, shape: list[float], view: int, corners: dict[str, list[float]]) -> None:
        """Lay a wireframe over a photograph, of which no more than where its corners are is known here."""
        try:
            self.send({"stood": [shot, wireframe(self.ticket, shape, view, corners), ""]})
        except OddswapError as error:
            self.send({"stood": [shot, None, f"{error}"]})

    def _read(self, shots: list) -> None:
        """Read photographs, after a yes. Where nobody named the colours, those that were found have to be agreed to."""
        self._album = read_album(self.ticket, shots)
        if not self._album.reading.inferred:
            self._correct({})
        self.send({"read": shown_facets(self.ticket, self._album.reading)})

    def _correct(self, facets: dict[str, str], agreed: bool = False) -> None:
        """Some facets show other paints than were read; the colours that were found may be ``agreed`` to."""
        if self._album is None or self._album.reading.puzzle is not self.ticket.puzzle:
            raise BadPhotograph(SAYS.read_first)
        self._album = corrected(self._album, facets)
        look = self._album.look
        colours = self._album.colours if agreed else self.ticket.colours
        self.lay(replace(self._seen(look.appearance), elsewhere=look.elsewhere, held=look.held, colours=colours))
