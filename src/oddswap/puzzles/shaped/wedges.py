"""``wedges:N``: two layers of N units each, cut into wedges of several units.

At home both layers are wedges of 1, 2, 1, 2 … units, so that N comes in threes, unless ``top=1+2+…`` and ``bottom=…`` say how
wide theirs are, from the cut in front to the right and round. ``middle=halves`` puts a slab of two halves between them, of which
the right one turns with the right half. ``paint=F+B`` lets facets share a colour, and wedges look alike.

The solid is a regular prism: a cube for twelve units, whose wedges of two are its corners.
"""

from collections.abc import Sequence
from types import MappingProxyType

import numpy as np

from oddswap.errors import BadOption, UnknownPuzzle, quoted
from oddswap.puzzles.base.mechanism import DIRECTIONS, Body, Geometry, Mechanism, Slab
from oddswap.puzzles.base.named import LIMIT, frozen
from oddswap.puzzles.base.puzzle import Kind, Turn
from oddswap.puzzles.base.space import Polytope, split, turn_matrix
from oddswap.puzzles.shaped.locking import LAYERS, WedgePuzzle, WedgeStep
from oddswap.puzzles.solids.looks import looks_of
from oddswap.puzzles.solids.shapes import prism_solid
from oddswap.values.sequence import Alphabet

LARGEST = 24
THICK = 1 / 3
"""Half the height of the middle slab, in half-edges."""


def wedges(name: str, size: str, options: dict[str, str]) -> WedgePuzzle:
    """The puzzle of that many units; it takes ``top``, ``bottom``, ``middle`` and ``paint`` out of ``options``.

    >>> box = wedges("wedges:12", "12", {})
    >>> [(kind.name, len(set(kind.places) - box.void)) for kind in box.kinds]
    [('narrow wedges', 8), ('wide wedges', 8)]
    """
    if not (size.isascii() and size.isdigit() and len(size) < 3 and 4 <= int(size) <= LARGEST and int(size) % 2 == 0):
        reason = f"wedges:N needs an even number of units from 4 to {LARGEST}, not {quoted(size)}: write such as wedges:12"
        raise UnknownPuzzle(reason)
    units = int(size)
    layers = [_widths(layer, options.pop(layer, None), units) for layer in LAYERS.values()]
    middle = options.pop("middle", None)
    if middle not in (None, "halves"):
        raise BadOption(f"{quoted(f'middle={middle}')} is not offered: write middle=halves, or leave it out")
    groups = [group.split("+") for group in options.pop("paint", "").split("/") if group]
    return _Workshop(units, layers, middle is not None, groups).puzzle(name)


def _widths(layer: str, told: str | None, units: int) -> list[int]:
    if told is None and units % 3:
        raise BadOption(f"wedges of 1, 2, 1, 2 … units do not fill {units}: write {layer}= with widths that add up to {units}")
    parts = ["1", "2"] * (units // 3) if told is None else told.split("+")
    if not all(part.isascii() and part.isdigit() and len(part) < 3 and 1 <= int(part) <= units // 2 for part in parts):
        raise BadOption(f"{quoted(f'{layer}={told}')} is no list of wedges: join widths from 1 to {units // 2} units by +")
    if sum(map(int, parts)) != units:
        reason = f"{quoted(f'{layer}={told}')} fills {sum(map(int, parts))} of {units} units: let the widths add up to {units}"
        raise BadOption(reason)
    return list(map(int, parts))


class _Workshop:
    """What the parts of one puzzle are made with. Unit u has its middle at the angle u, in units, from F by the right."""

    def __init__(self, units: int, layers: list[list[int]], middle: bool, groups: list[list[str]]):
        self.units, self.layers, self.half, self.middle = units, layers, units // 2, middle
        sides = units // 3 if units % 6 == 0 and units > 6 else units if units <= 12 else units // 2
        self.solid = prism_solid(sides).painted(groups)
        level = [THICK, -THICK] if middle else [0.0]
        self.normals = np.array([*([0.0, 1.0, 0.0] for _ in level), *(self.beyond(k) for k in range(self.half))])
        offsets = np.array([*level, *[0.0] * self.half])
        cut, self.levels = self.normals[len(level)], len(level)
        slabs = (
            Slab("U", 0, units, tuple(DIRECTIONS["U"]), ((0, 1),)),
            Slab("D", 0, units, tuple(DIRECTIONS["D"]), ((len(level) - 1, -1),)),
            Slab("/", 0, 2, tuple(cut.tolist()), ((len(level), 1),)),
        )
        self.mechanism = Mechanism(self.normals, offsets, slabs, MappingProxyType({}), lambda cell, body: ("", ""))
        self.over = turn_matrix(cut, np.pi)

    def beyond(self, k: int) -> np.ndarray:
        """The normal of the plane that bounds unit k where it begins, towards its inside."""
        angle = 2 * np.pi * (k - 0.5) / self.units
        return np.array([np.cos(angle), 0.0, -np.sin(angle)])

    def puzzle(self, name: str) -> WedgePuzzle:
        sizes = sorted({width for layer in self.layers for width in layer})
        words = {1: ["wedges"], 2: ["narrow wedges", "wide wedges"]}.get(len(sizes)) or [f"{size}-unit wedges" for size in sizes]
        spots = [(width, layer, first) for width in sizes for layer in (0, 1) for first in range(self.units)]
        if len(spots) >= LIMIT:
            reason = f"{quoted(name)} has {len(sizes)} widths: at most {(LIMIT - 1) // (2 * self.units)} fit {self.units} units"
            raise BadOption(reason)
        kinds = [
            Kind(word, word, tuple(self.slot_name(*spot) for spot in spots if spot[0] == width), 1, at, at)
            for word, width, at in zip(words, sizes, range(0, len(spots), 2 * self.units), strict=True)
        ]
        begins = [(width, layer, sum(row[:i])) for layer, row in enumerate(self.layers) for i, width in enumerate(row)]
        filled = [spot in begins for spot in spots]
        bodies = [self.body(*spot, there) for spot, there in zip(spots, filled, strict=True)]
        placements = [self.mechanism.rotations.index(self.placed(*spot)) for spot in spots]
        inner: tuple[Body, ...] = ()
        if self.middle:
            kinds.append(Kind("middle slab", "middle slabs", ("middle",), 2, len(spots), len(spots)))
            right, left = self.middle_half(1), self.middle_half(-1)
            bodies, inner, filled = [*bodies, right], (left,), [*filled, True]
            placements += [0, self.mechanism.rotations.index(self.over)]
        paints = {facet.name: facet.paint for facet in self.solid.facets}
        facets = MappingProxyType({facet.name: facet.normal for facet in self.solid.facets})
        looks, _ = looks_of(kinds, tuple(bodies), np.array(placements), self.mechanism.rotations, paints)
        geometry = Geometry(self.mechanism, tuple(bodies), inner, np.array(placements), facets, MappingProxyType(paints))
        return WedgePuzzle(
            name=name,
            title=f"two layers of {self.units} units in wedges that lock{', with a middle layer of two halves' * self.middle}",
            kinds=tuple(kinds),
            turns=MappingProxyType(dict(self.turns(spots))),
            alphabet=Alphabet(faces=("U", "D"), order={"U": self.units, "D": self.units}),
            looks=frozen(looks),
            geometry=geometry,
            filled=np.array(filled),
            widths=np.array([width for width, *_ in spots] + [0] * self.middle),
            across=np.array([first % self.half + width > self.half for width, _, first in spots] + [False] * self.middle),
            units=self.units,
        )

    def slot_name(self, width: int, layer: int, first: int) -> str:
        last = f"-{(first + width - 1) % self.units + 1}" if width > 1 else ""
        return f"{'UD'[layer]}{first + 1}{last}"

    def turns(self, spots: Sequence[tuple[int, int, int]]):
        """Each turn by its name."""
        number, labels = {spot: i for i, spot in enumerate(spots)}, len(spots) + 2 * self.middle
        for slab, layer, way in zip(self.mechanism.slabs, (0, 1, None), (-1, 1, 0), strict=True):
            for amount in range(1, slab.order):
                images = list(range(labels))
                for spot, i in number.items():
                    width, of, first = spot
                    if layer is None and first + width <= self.half:
                        images[i] = number[width, 1 - of, self.half - width - first]
                    elif of == layer:
                        images[i] = number[width, of, (first + way * amount) % self.units]
                slots = {
                    i
                    for i, (width, of, first) in enumerate(spots)
                    if of == layer or (layer is None and first + width <= self.half)
                }
                if layer is None and self.middle:
                    images[-2:], slots = images[:-3:-1], slots | {len(spots)}
                step = WedgeStep(slab.face, 0, 0, amount, slab.order)
                angle = step.amount * 2 * np.pi / slab.order
                yield str(step), Turn(str(step), step, frozen(images), slab.axis, angle, frozenset(slots))

    def placed(self, width: int, layer: int, first: int) -> np.ndarray:
        """The rotation that takes the first slot of a kind to another."""
        along = (self.half - width - first) if layer else first
        turned = turn_matrix(DIRECTIONS["U"], -2 * np.pi * along / self.units)
        return self.over @ turned if layer else turned

    def body(self, width: int, layer: int, first: int, there: bool) -> Body:
        signs = [2 * (1 - layer) - 1] * self.levels
        middles = 2 * np.pi * (first + np.arange(width)) / self.units
        sides = np.sign(self.normals[self.levels :] @ [np.sin(middles), 0 * middles, np.cos(middles)]).astype(int)
        cell = (*signs, *(int(side[0]) if (side == side[0]).all() else 0 for side in sides))
        if not there:
            return Body(cell, ())
        part = _beyond(self.solid.body(), self.normals[0] * (1 - 2 * layer), THICK * self.middle)
        part = _beyond(_beyond(part, self.beyond(first), 0.0), -self.beyond(first + width), 0.0)
        return Body(cell, part.faces)

    def middle_half(self, sign: int) -> Body:
        part = _beyond(self.solid.body(), sign * self.beyond(0), 0.0)
        for way in (1, -1):
            part = _beyond(part, way * self.normals[0], -THICK)
        return Body((-1, 1, sign, *[0] * (self.half - 1)), part.faces)


def _beyond(body: Polytope, normal: np.ndarray, offset: float) -> Polytope:
    return split(body, normal, offset)[1]
