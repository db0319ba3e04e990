"""Photographs of one position read together: one palette for all of them, and for each facet the odds of its colours.

No law and no piece is used to read, so that what cannot be is read as it is.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from oddswap.describing.photographs.lights import Facets, Fitted, fit
from oddswap.describing.photographs.measured import BASIS, LIGHT, measure
from oddswap.describing.photographs.outside import corner_named, outside
from oddswap.describing.photographs.palette import logs_of
from oddswap.describing.photographs.picture import Picture
from oddswap.describing.photographs.schemes import named, steady
from oddswap.describing.photographs.standing import Standing, find_standing
from oddswap.errors import BadPhotograph, ContradictoryTicket
from oddswap.puzzles.base.puzzle import Puzzle

MOST = 6
"""So many photographs of one position, at most."""
SURE, POSSIBLE = 0.998, 0.0005
"""The odds from which a colour is called sure, and from which it is possible."""
MIXED, CHECK = 0.27, "check that each photograph has its own corners, and"
"""On what part of the facets several colours may lie, before the corners are taken for another picture's; what is asked then."""
STRANGE = 0.5
"""The odds of something else on a facet from which its colour is not read."""
SAID, FREE = np.array([0.6, 0.5, 0.35]), np.array([0.8, 0.6, 0.4])
"""How far a colour may be from its word, and one that nobody named from where it is first looked for."""
APART = 0.28
"""How far colours that nobody named are apart, brightness counting a third."""
EVEN, CANDIDATES, HELD, NEAR = 0.5, 6, 4.0, 1.5
"""What part of a side's mean colour is taken for its light at first; how many facets are tried as colours that are missing; the
odds, as a logarithm, that what stays in its place shows its own paint, and that another facet shows that of its side."""
WARMTHS = (-0.3, 0.0, 0.3)
"""How warm the light may be that the search starts from."""


@dataclass(frozen=True, eq=False)
class Photograph:
    """A picture, its ``name``, and where corners of the whole solid lie in it: ``(x, y)`` in its pixels, from its top left."""

    name: str
    picture: Picture
    corners: Mapping[str, tuple[float, float]]


@dataclass(frozen=True, eq=False)
class PhotographsRead:
    """``odds`` (places, paints): zeros where a facet was not read. ``palette`` is how each paint looks in daylight, ``#rrggbb``.

    ``standings`` are where the cameras stood, ``inferred`` whether nobody named the colours, ``clashing`` the places of which two
    photographs show different colours for sure.
    """

    puzzle: Puzzle
    odds: np.ndarray
    palette: Mapping[str, str]
    standings: tuple[Standing, ...]
    inferred: bool
    clashing: tuple[int, ...]

    @property
    def sure(self) -> np.ndarray:
        """Whether each facet's colour is sure (places,)."""
        return self.odds.max(axis=1) >= SURE

    def may_show(self, place: int) -> frozenset[str]:
        """The paints that a facet may show; none where it was not read."""
        return frozenset(p for p, odd in zip(outside(self.puzzle).paints, self.odds[place], strict=True) if odd >= POSSIBLE)


def read_photographs(puzzle: Puzzle, photographs: Sequence[Photograph], colours: Mapping[str, str]) -> PhotographsRead:
    """What photographs of one position show; ``colours`` are ``#rrggbb`` by paint, empty where nobody named them.

    `BadPhotograph`, which names the photograph, and `ContradictoryTicket` where they show two positions.
    """
    if not 1 <= len(photographs) <= MOST:
        raise BadPhotograph(f"{len(photographs)} photographs are given: give 1 to {MOST}")
    if not colours and len(photographs) < 2:
        raise BadPhotograph(
            "one photograph does not show all colours: name them under [colours], or add one from the opposite corner"
        )
    solid, standings, measured = outside(puzzle), [], []
    for photograph in photographs:
        try:
            height, width, _ = photograph.picture.pixels.shape
            shape = width * photograph.picture.scale, height * photograph.picture.scale
            standings.append(standing_of(puzzle, photograph.corners, shape))
            measured.append(measure(solid, photograph.picture, standings[-1]))
        except BadPhotograph as error:
            raise BadPhotograph(f"{photograph.name}: {error}") from None
    numbers, colours_seen, mixed = zip(*measured, strict=True)
    if sum(mixed) > MIXED * (looked := sum(mixed) + sum(map(len, numbers))):
        told = f"as the corners are marked, {sum(mixed)} of {looked} stickers have several colours"
        raise BadPhotograph(f"{told}: {CHECK} that it shows this puzzle")
    places, photo = np.concatenate(numbers), np.repeat(range(len(numbers)), list(map(len, numbers)))
    sides, side = np.unique([f"{k} {solid.places[i][1]}" for k, i in zip(photo, places, strict=True)], return_inverse=True)
    of_photo = np.array([int(name.partition(" ")[0]) for name in sides])
    _, again, times = np.unique(places, return_inverse=True, return_counts=True)
    facets = Facets(np.concatenate(colours_seen), side, of_photo, 1 / times[again])
    fixed = {} if puzzle.rotations else steady(solid)
    anchors = {i: fixed[int(place)] for i, place in enumerate(places) if int(place) in fixed}
    most = np.bincount([solid.paints.index(puzzle.geometry.paints[way]) for _, way in solid.places])
    if colours:
        hint = _held(anchors, side, len(solid.paints))
        start = np.array([logs_of(colours[paint]) for paint in solid.paints])
        lit = np.zeros((len(of_photo), 3))
        for i, colour in anchors.items():
            lit[side[i]] = facets.seen[i] - start[colour]
        starts = [(start, lit), *((start + [warm, 0, -warm], 0.0) for warm in WARMTHS)]
        found = max((fit(facets, about, SAID, hint, most, lights) for about, lights in starts), key=lambda one: one.worth)
    else:
        found = _unnamed(puzzle, places, facets, {paint: i for i, paint in anchors.items()}, most.max())
    odds, clashing = _together(found.odds, places, len(solid.places))
    if len(clashing) > 1:
        slot, name = solid.places[clashing[0]]
        raise ContradictoryTicket(
            f"the photographs show two colours at {puzzle.slots[slot]} on {name}, and at {len(clashing) - 1} more: they were "
            "taken before and after a turn, or corners are marked wrongly; give photographs of one position"
        )
    middles = [odds[place].argmax() == colour for place, colour in fixed.items() if odds[place].max() >= SURE]
    if middles.count(False) > middles.count(True) + 1:
        told = f"{middles.count(False)} sides show another side's colour in the middle"
        raise ContradictoryTicket(f"{told}: {CHECK} which side has which colour")
    palette = {paint: _hex(colour) for paint, colour in zip(solid.paints, found.palette, strict=False)}
    return PhotographsRead(puzzle, odds, palette, tuple(standings), not colours, clashing)


def standing_of(puzzle: Puzzle, corners: Mapping[str, tuple[float, float]], shape: tuple[float, float]) -> Standing:
    """Where a camera stood that sees the named corners of a solid so, in a picture of this ``shape``. `BadPhotograph`."""
    facets = puzzle.geometry.facets
    points = [corner_named(puzzle, name) for name in corners]
    sides = [np.array([facets[s] for s in (name.split("-") if "-" in name else name)]) for name in corners]
    return find_standing(np.array(points), np.array(list(corners.values()), float), shape, sides)


def _held(anchors: Mapping[int, int], side: np.ndarray, colours: int) -> np.ndarray:
    """What is known beforehand (facets, colours), as a logarithm: what stays in its place shows its own colour as a rule.

    What is sent in is often nearly right, so other facets of that side show the same colour a little more often than another.
    """
    hint = np.zeros((len(side), colours))
    for facet, colour in anchors.items():
        hint[side == side[facet], colour] = NEAR
    for facet, colour in anchors.items():
        hint[facet] = -HELD * (np.arange(colours) != colour)
    return hint


def _unnamed(puzzle: Puzzle, places: np.ndarray, facets: Facets, anchors: dict[int, int], most: int) -> Fitted:
    """The palette found from what stays in its place, ``anchors`` by paint, and from what differs most; and the odds by paint.

    ``most`` is on how many places one colour is at most when all is whole.
    """
    solid = outside(puzzle)
    found = max(_starts(facets, list(anchors.values()), len(solid.paints), most), key=lambda one: one.worth)
    kept = dict(anchors)
    for colour, (paint, facet) in enumerate(anchors.items()):
        near = (np.abs((found.palette - found.palette[colour]) @ BASIS.T) * [1 / 3, 1, 1]).max(axis=1) < APART
        rare = found.odds[:, colour].sum() < most / 3
        if rare or found.odds[facet, colour] < 0.5 or found.odds[:, colour].sum() < found.odds[:, :-1][:, near].sum(axis=0).max():
            del kept[paint]  # something covers what stays in its place
    if len(kept) < len(anchors):
        other = max(_starts(facets, list(kept.values()), len(solid.paints), most), key=lambda one: one.worth)
        found, anchors = max((found, anchors), (other, kept), key=lambda one: one[0].worth)
    odds, _ = _together(found.odds, places, len(solid.places))
    paints = named(puzzle, solid, odds, dict(enumerate(anchors)))
    likely = np.zeros((len(places), len(solid.paints) + 1))
    likely[:, [*paints, -1]] = found.odds
    palette = np.full((len(solid.paints), 3), np.nan)
    palette[paints] = found.palette
    return Fitted(likely, palette, found.worth)


def _starts(facets: Facets, starts: list[int], paints: int, most: int) -> list[Fitted]:
    """Fits from the colours of these facets and, for the rest, of some of those that differ most from them."""
    sides = np.array([facets.seen[facets.side == k].mean(axis=0) for k in range(len(facets.photo))])
    colours = facets.seen - EVEN * (sides - sides.mean(axis=0))[facets.side]
    held, missing = dict(zip(starts, range(paints), strict=False)), paints - len(starts)
    others = list(starts) or [int(np.argmax(colours.sum(axis=1)))]
    while missing and len(others) < len(starts) + max(CANDIDATES, missing):
        far = (np.abs((colours[:, None] - colours[others]) @ BASIS.T) * [1 / 3, 1, 1]).max(axis=2).min(axis=1)
        if far.max() < APART:
            break
        others.append(int(far.argmax()))
    others = others[len(starts) :]
    ways = ([*starts, *way] for way in combinations(others, min(missing, len(others))))
    return [fit(facets, colours[way], FREE, _held(held, facets.side, len(way)), most) for way in ways]


def _together(likely: np.ndarray, places: np.ndarray, count: int) -> tuple[np.ndarray, tuple[int, ...]]:
    """The odds by place and colour from those of each facet in each photograph, and the places that are surely two colours."""
    odds, clashing = np.zeros((count, likely.shape[1] - 1)), []
    for place in np.unique(places):
        each = likely[places == place]
        own = each[:, :-1] / (1 - each[:, -1:])
        sure = own[(own.max(axis=1) >= SURE) & (each[:, -1] < STRANGE)]
        if len({int(row.argmax()) for row in sure}) > 1:
            clashing.append(int(place))
            odds[place] = own.mean(axis=0)
            continue
        together = (each[:, :-1] + each[:, -1:] / odds.shape[1]).prod(axis=0)
        strange = each[:, -1].prod()
        if strange < STRANGE:
            odds[place] = own[0] if len(own) == 1 else together / together.sum()
    return odds, tuple(clashing)


def _hex(colour: np.ndarray) -> str:
    if np.isnan(colour).any():
        return ""
    return "#" + "".join(f"{int(np.abs(LIGHT - light).argmin()):02x}" for light in np.exp(colour))
