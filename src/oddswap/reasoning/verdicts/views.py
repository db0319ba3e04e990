"""Which photograph to ask for next: views of a solid, and what each of them would decide.

A view shows the facets that are turned towards the eye, and tells two looks of a slot apart where they put different
colours or shapes there. What a view would decide is tried on all completions where they are few, else on some drawn at random
(seeded), half of which turning leads to: how many looks are left after it, and is the question settled?
"""

from collections.abc import Mapping
from functools import lru_cache
from itertools import combinations
from math import inf, log
from random import Random

import numpy as np

from oddswap.forwards import forwarded
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.budget import Clock, Finding
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.lookalikes import first_sight
from oddswap.reasoning.verdicts.counting import Count, count_explanations
from oddswap.reasoning.verdicts.explanations import completions, drawn
from oddswap.reasoning.verdicts.mending import is_reachable
from oddswap.values.position import Appearance

GRAZING = 0.25
"""A facet is seen well where the cosine of the angle between its normal and the line of sight is above this."""
EVERY = 12
"""On so many completions views are tried at most, if these are all."""
DRAWS = 2
"""So many completions that turning leads to are drawn, and as many of any kind."""
TRIES = 100
"""So many are drawn at most until there are enough that turning leads to."""
MOST = 4
"""So many photographs are asked for at most."""
TRIED = 8
"""So many views are tried for each: those that would leave the fewest looks of single slots open."""

Seen = tuple[float, float, float, object]
Known = tuple[Appearance, Appearance]
"""What is known of a whole, and the whole."""


@forwarded
class View(Finding):
    """A photograph to ask for, from ``direction`` (a unit vector, from the middle to the eye) and the facets that it shows.

    ``corner``: whether these facets meet in a corner of the solid.
    """

    facets: tuple[str, ...]
    direction: tuple[float, float, float]
    corner: bool


@lru_cache(maxsize=32)
def views(puzzle: Puzzle) -> tuple[View, ...]:
    """Photographs that show as many facets as can be seen at once; empty where there is no solid.

    >>> from oddswap import load
    >>> ["".join(view.facets) for view in views(load("cube:3"))]
    ['UFL', 'UFR', 'UBL', 'UBR', 'DFL', 'DFR', 'DBL', 'DBR']
    """
    if puzzle.geometry is None:
        return ()
    facets = puzzle.geometry.facets
    found: dict[frozenset[str], View] = {}
    for names in combinations(facets, min(3, len(facets))):
        towards = sum(facets[name] for name in names)
        if np.linalg.norm(towards) < 1e-6:
            continue
        direction = towards / np.linalg.norm(towards)
        shown = tuple(name for name, normal in facets.items() if float(normal @ direction) > GRAZING)
        if set(names) <= set(shown):
            found.setdefault(frozenset(shown), View(shown, tuple(direction.tolist()), _meet(puzzle, shown)))
    return tuple(view for shown, view in found.items() if not any(shown < other for other in found))


def after_view(puzzle: Puzzle, view: View, seen: Appearance, whole: Appearance) -> Appearance:
    """What is known once a photograph of ``whole``, which agrees with what was seen, is there too.

    >>> import oddswap
    >>> cube = oddswap.load("cube:3")
    >>> seen = oddswap.covered(cube, cube.slots)
    >>> then = oddswap.after_view(cube, oddswap.views(cube)[0], seen, cube.appearance(cube.solved))
    >>> len(seen.uncertain), len(then.uncertain)
    (20, 13)
    """
    table, sights = _signatures(puzzle), []
    for slot, (known, (true,)) in enumerate(zip(seen.sights, whole.sights, strict=True)):
        told = _towards(table[slot][true], view.direction)
        sights.append(frozenset(look for look in known if look == true or _towards(table[slot][look], view.direction) == told))
    return Appearance(puzzle.name, tuple(sights))


class ViewsSampled(Finding):
    """The photographs to ask for were tried on so many completions, ``draws``, drawn at random, and not on all."""

    draws: int


def best_views(
    puzzle: Puzzle, appearance: Appearance, clock: Clock, seed: int = 0
) -> tuple[tuple[View, ...], tuple[ViewsSampled, ...]]:
    """The photographs to ask for, in this order, until they decide, and on how many draws they were tried, if not on all.

    No photographs where there is no solid.
    """
    wholes = completions(puzzle, appearance, EVERY, clock) if views(puzzle) else []
    sampled = wholes is None
    known = [(appearance, whole) for whole in (_examples(puzzle, appearance, Random(seed), clock) if sampled else wholes)]
    chosen: list[View] = []
    while known and len(chosen) < MOST and not clock.spent:
        ranked = []
        for view, then in _narrowest(puzzle, known):
            if ranked and clock.spent:
                break
            ranked.append((*_worth([seen for seen, _ in then], puzzle, clock), len(ranked), view, then))
        decided, _, _, view, then = min(ranked, key=lambda entry: entry[:3])
        if all(before.sights == now.sights for (before, _), (now, _) in zip(known, then, strict=True)):
            break
        chosen.append(view)
        known = then
        if decided == -len(known):
            break
    return tuple(chosen), (ViewsSampled(len(known)),) if sampled and chosen else ()


def _narrowest(puzzle: Puzzle, known: list[Known]) -> list[tuple[View, list[Known]]]:
    """The views to try, each with what would be known after it."""
    after = [(view, [(after_view(puzzle, view, seen, whole), whole) for seen, whole in known]) for view in views(puzzle)]
    return sorted(after, key=lambda one: sum(log(len(sight)) for seen, _ in one[1] for sight in seen.sights))[:TRIED]


def _examples(puzzle: Puzzle, appearance: Appearance, rng: Random, clock: Clock) -> list[Appearance]:
    book, found = law_book(puzzle), {True: [], False: []}
    for _ in range(TRIES):
        whole = drawn(puzzle, appearance, rng)
        if whole is None or len(found[True]) == DRAWS or clock.spent:
            break
        reached = is_reachable(book, puzzle.permutation(first_sight(puzzle, whole)[0]))
        if reached or len(found[False]) < DRAWS:
            found[reached].append(whole)
    return [*found[True], *found[False]]


def _worth(seen: list[Appearance], puzzle: Puzzle, clock: Clock) -> tuple[int, float]:
    """Minus the number of completions that are decided, and the mean of the logarithms of how many looks are left."""
    counts = [count_explanations(puzzle, appearance, clock) for appearance in seen]
    return -sum(map(decides, counts)), round(sum(log(count.appearances or inf) for count in counts) / len(counts), 6)


def decides(count: Count) -> bool:
    """Whether a count settles whether turning can lead there: one whole appearance is left, or none can, or all can."""
    all_reached = count.total is not None and count.reachable == count.total
    return count.appearances == 1 or count.appearances_reached == 0 or all_reached


def _meet(puzzle: Puzzle, facets: tuple[str, ...]) -> bool:
    """Whether facets of the solved solid have a point in common."""
    points: dict[str, set[tuple[float, ...]]] = {facet: set() for facet in facets}
    for body in puzzle.geometry.bodies:
        for face in body.faces:
            if face.facet in points:
                points[face.facet].update(map(tuple, (face.vertices.round(6) + 0.0).tolist()))
    return bool(set.intersection(*points.values()))


@lru_cache(maxsize=1 << 15)
def _towards(signature: frozenset[Seen], direction: tuple[float, float, float]) -> frozenset:
    x, y, z = direction
    return frozenset(what for a, b, c, what in signature if a * x + b * y + c * z > GRAZING)


@lru_cache(maxsize=8)
def _signatures(puzzle: Puzzle) -> tuple[Mapping[int, frozenset[Seen]], ...]:
    """For each slot and look what shows there: outward normals, with paint and outline of each facet's part and its marks."""
    table = []
    for slot, kind in enumerate(puzzle.kind_of):
        first = {int(puzzle.looks[label]): label - kind.first for label in reversed(kind.labels)}
        shown = {look: (kind.start + at // kind.twist, at % kind.twist) for look, at in first.items()}
        table.append({look: _signature(puzzle, piece, slot, twist) for look, (piece, twist) in shown.items()})
    return tuple(table)


def _signature(puzzle: Puzzle, piece: int, slot: int, twist: int) -> frozenset[Seen]:
    geometry = puzzle.geometry
    rotation = geometry.rotation_of(puzzle.base_label, puzzle.kind_of[slot].twist, piece, slot, twist)
    matrix = geometry.mechanism.rotations.matrices[rotation]
    body, found = geometry.bodies[piece], []
    for number, face in enumerate(body.faces):
        if face.facet is not None:
            drawn_on = tuple(_outline(mark.vertices @ matrix.T) for mark in body.marks if mark.face == number)
            what = (geometry.paints[face.facet], _outline(face.vertices @ matrix.T), drawn_on)
            found.append((*(matrix @ face.normal).tolist(), what))
    return frozenset(found)


def _outline(vertices: np.ndarray) -> frozenset[tuple[float, ...]]:
    return frozenset(map(tuple, (np.round(vertices, 3) + 0.0).tolist()))
