"""The way out where another holding has other turns: in each from which they lead home, and the shortest of these is told."""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.whole_turns import held_by, holdings, turns_fit_every_holding
from oddswap.puzzles.boxes.box import BoxPuzzle
from oddswap.reasoning.budget import Limit, started
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.search.shortest import Progress
from oddswap.reasoning.verdicts.findings import Diagnosis, turned_whole
from oddswap.reasoning.verdicts.mending import is_reachable_as_held, mended
from oddswap.reasoning.ways.way_out import Route, way_out


def best_way_out(
    puzzle: Puzzle, found: Diagnosis, budget: Limit = None, progress: Progress | None = None
) -> tuple[Diagnosis, Route]:
    """The way out of the explanation that was found, with the diagnosis as it is held for it.

    No way in any holding is shorter than the lower bound. The time is shared among the holdings that have other turns.

    >>> from oddswap.puzzles.catalogue import load
    >>> from oddswap.reasoning.verdicts.diagnosis import diagnose
    >>> copy = load("cube:2,turns=R+U")
    >>> held, way = best_way_out(copy, diagnose(copy, copy.appearance(copy.follow("R U y"))))
    >>> held.held, way.moves
    ("y'", "U' R'")
    """
    if turns_fit_every_holding(puzzle) or isinstance(puzzle, BoxPuzzle):
        return found, way_out(puzzle, found.explanation, budget, progress)
    options = list(_options(puzzle, found))
    clock = started(budget)
    shares = (clock.share(1 / (len(options) - done)) for done in range(len(options)))
    routes = [way_out(puzzle, option.explanation, share, progress) for option, share in zip(options, shares, strict=True)]
    held, way = min(zip(options, routes, strict=True), key=lambda pair: (pair[1].length is None, pair[1].length or 0))
    bound, counted = min(route.lower_bound for route in routes), replace(way.counted, held="throughout")
    return held, replace(way, lower_bound=bound, shortest=way.length == bound, counted=counted)


def _options(puzzle: Puzzle, found: Diagnosis) -> Iterator[Diagnosis]:
    """The diagnosis in each holding from which the turns lead home, one for each set of turns that a holding has."""
    book, every = law_book(puzzle), holdings(puzzle)
    described = next(image for names, image in every if " ".join(names) == found.held)
    image, known = puzzle.permutation(found.explanation), set()
    for _, rotation in every:
        back = np.argsort(rotation)
        turns = frozenset(back[turn.permutation[rotation]].tobytes() for turn in puzzle.turns.values())
        if turns not in known and is_reachable_as_held(book, rotation[image]):
            known.add(turns)
            explanation = puzzle.arrangement(mended(book, rotation[image], (), None))
            held = held_by(puzzle, rotation[described])
            yield replace(turned_whole(puzzle, found, rotation), explanation=explanation, held=held)
