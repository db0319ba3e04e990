"""A full way home from any reachable arrangement, within seconds; replayed, not proved shortest.

Short ways are searched for first. Three slabs each way go home in two stages, through quarter turns of U and D and half
turns of the rest. Everything else goes home by three-cycles: turns that mend the signs of the kinds and the pieces that only
turn in their places come first, then three-cycles, two pieces at a time, kind by kind.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations_with_replacement
from types import MappingProxyType

import numpy as np

from oddswap.puzzles.puzzle import Kind, Puzzle
from oddswap.reasoning.laws import law_book
from oddswap.reasoning.search import Budget, Progress, find_way
from oddswap.reasoning.stages import Stage, through
from oddswap.reasoning.three_cycles import Cycles, three_cycles
from oddswap.values.arrangement import Arrangement
from oddswap.values.permutation import sign

INNER = ("U", "D", "F2", "B2", "L2", "R2")


def way_home(
    puzzle: Puzzle,
    explanation: Arrangement,
    budget: Budget | None = None,
    progress: Progress | None = None,
) -> tuple[Stage, ...] | None:
    """The stages of a way home from a reachable arrangement; ``None`` where none was found within the budget.

    >>> from oddswap.puzzles.catalogue import load
    >>> cube = load("cube:3")
    >>> stages = way_home(cube, cube.follow("R U F2 L' D B R2 U' F D2 L"))
    >>> turns = " ".join(turn for stage in stages for turn in stage.turns)
    >>> cube.appearance(cube.follow(turns, cube.follow("R U F2 L' D B R2 U' F D2 L"))) == cube.appearance(cube.solved)
    True
    """
    budget = budget or Budget()
    short = find_way(puzzle, puzzle.appearance(explanation), budget=replace(budget, seconds=min(2.0, budget.seconds / 4)))
    everything = tuple(puzzle.turns)
    if short.turns is not None:
        return (Stage("the shortest way there is", short.turns, everything),)
    if puzzle.rotations:
        return _held_some_way(puzzle, explanation, budget, progress)
    return _held_still(puzzle, explanation, budget, progress)


def _held_still(puzzle: Puzzle, explanation: Arrangement, budget: Budget, progress) -> tuple[Stage, ...] | None:
    if set(INNER) <= set(puzzle.turns) and set(puzzle.alphabet.layers.values()) == {3}:
        return _in_stages(puzzle, explanation, budget, progress)
    return _by_cycles(puzzle, explanation)


def _held_some_way(puzzle: Puzzle, explanation: Arrangement, budget: Budget, progress) -> tuple[Stage, ...] | None:
    """Held in the first way from which turning alone leads home; the turns are then named as the puzzle was held before."""
    held = replace(puzzle, name=f"{puzzle.name}, held still", rotations=MappingProxyType({}))
    book, image = law_book(held), puzzle.permutation(explanation)
    for rotation in _holdings(puzzle):
        turned = rotation[image]
        if not book.reaches_permutation(turned):
            continue
        start = puzzle.arrangement(turned)
        stages = _held_still(held, Arrangement(held.name, start.pieces, start.twists), budget, progress)
        if stages is not None:
            names = _renamed(puzzle, rotation)
            return tuple(replace(stage, turns=tuple(names[turn] for turn in stage.turns)) for stage in stages)
    return None


def _holdings(puzzle: Puzzle) -> list[np.ndarray]:
    """The label permutations of all whole-puzzle rotations that join the moves."""
    found = [np.arange(puzzle.degree)]
    for rotation in found:
        for turn in puzzle.rotations.values():
            following = turn.permutation[rotation]
            if not any((following == known).all() for known in found):
                found.append(following)
    return found


def _renamed(puzzle: Puzzle, rotation: np.ndarray) -> dict[str, str]:
    """What each turn is called when it is made before the rotation instead of after it."""
    back = np.argsort(rotation)
    by_image = {turn.permutation.tobytes(): name for name, turn in puzzle.turns.items()}
    return {name: by_image[back[turn.permutation[rotation]].tobytes()] for name, turn in puzzle.turns.items()}


def _in_stages(puzzle: Puzzle, explanation: Arrangement, budget: Budget, progress) -> tuple[Stage, ...] | None:
    """Two stages; where the last is hard, one turn before them leads elsewhere."""
    share = replace(budget, seconds=max(5.0, budget.seconds / 4))
    for before in ((), *((name,) for name in puzzle.turns)):
        start = puzzle.follow(" ".join(before), explanation) if before else explanation
        found = through(puzzle, start, INNER, share, progress)
        if found is not None:
            first, last = found
            return (replace(first, turns=before + first.turns), last)
    return None


def _by_cycles(puzzle: Puzzle, explanation: Arrangement) -> tuple[Stage, ...] | None:
    cycles = three_cycles(puzzle)
    image = puzzle.permutation(explanation)
    opening = _opening(puzzle, image)
    if opening is None:
        return None
    stages = [Stage("make what can be mended even, and turn the middles straight", opening, tuple(puzzle.turns))]
    image = _after(puzzle, image, opening)
    for kind in puzzle.kinds:
        if _shows(puzzle, kind) and len(kind.slots) > 1:
            if kind.name not in cycles:
                return None
            word = _kind_home(puzzle, kind, cycles[kind.name], image)
            if word is None:
                return None
            image = _after(puzzle, image, word)
            if word:
                stages.append(Stage(f"bring the {kind.name} home, by three-cycles", word, tuple(puzzle.turns)))
    solved = puzzle.appearance(puzzle.arrangement(image)).sights == puzzle.appearance(puzzle.solved).sights
    return tuple(stage for stage in stages if stage.turns) if solved else None


def _after(puzzle: Puzzle, image: np.ndarray, word: tuple[str, ...]) -> np.ndarray:
    for name in word:
        image = puzzle.turns[name].permutation[image]
    return image


def _shows(puzzle: Puzzle, kind: Kind) -> bool:
    return len(set(puzzle.looks[list(kind.labels)].tolist())) > 1


def _odd_kinds(puzzle: Puzzle, image: np.ndarray) -> tuple[int, ...]:
    """The sign of every kind that shows and has more than one slot: 0 even, 1 odd."""
    signs = []
    for kind in puzzle.kinds:
        if _shows(puzzle, kind) and len(kind.slots) > 1:
            bases = puzzle.base_label[list(kind.places)]
            signs.append(int(sign(((image[bases] - kind.first) // kind.twist).tolist()) < 0))
    return tuple(signs)


def _opening(puzzle: Puzzle, image: np.ndarray) -> tuple[str, ...] | None:
    """The fewest turns after which no kind is odd and what only turns in its place is straight."""
    single = [kind for kind in puzzle.kinds if len(kind.slots) == 1 and _shows(puzzle, kind)]
    word: tuple[str, ...] = ()
    for kind in single:
        spins = [turn for turn in puzzle.turns.values() if turn.permutation[kind.first] != kind.first]
        for turn in spins:
            if _after(puzzle, image, (turn.name,))[kind.first] == kind.first and image[kind.first] != kind.first:
                image, word = _after(puzzle, image, (turn.name,)), (*word, turn.name)
                break
    harmless = [
        name
        for name, turn in puzzle.turns.items()
        if all(turn.permutation[kind.first] == kind.first for kind in single)
    ]
    for count in range(4):
        for names in combinations_with_replacement(harmless, count):
            if not any(_odd_kinds(puzzle, _after(puzzle, image, names))):
                return (*word, *names)
    return None


def _kind_home(puzzle: Puzzle, kind: Kind, cycles: Cycles, image: np.ndarray) -> tuple[str, ...] | None:
    """Three-cycles that bring every piece of a kind home, the right way round."""
    word: list[str] = []
    for _ in range(4 * len(kind.slots)):
        wrong = [p for p in kind.places if image[puzzle.base_label[p]] != puzzle.base_label[p]]
        if not wrong:
            return tuple(word)
        options = []
        for piece in wrong:
            home, place = int(puzzle.base_label[piece]), int(image[puzzle.base_label[piece]])
            if (place - kind.first) // kind.twist != (home - kind.first) // kind.twist:
                options += _options(puzzle, kind, cycles, image, place, home)
        if not options:
            options = list(_loosened(puzzle, kind, cycles, wrong))
        if not options:
            return None
        _, _, best = min(options)
        word += best
        image = _after(puzzle, image, best)
    return None


def _options(puzzle, kind: Kind, cycles: Cycles, image: np.ndarray, place: int, home: int):
    """Three-cycles that bring what is at label ``place`` to ``home``: ``(pieces not brought home, length, word)``."""
    inside = {int(puzzle.base_label[p]): int(image[puzzle.base_label[p]]) for p in kind.places}
    at_home = {place_ for base, place_ in inside.items() if base == place_}
    slot = lambda label: (label - kind.first) // kind.twist  # noqa: E731
    for third in kind.labels:
        if slot(third) in (slot(place), slot(home)):
            continue
        word = cycles.word(puzzle, (place, home, third))
        if word is None:
            continue
        spoilt = any(slot(label) == slot(third) for label in at_home)
        twice = _comes_home(inside, kind, home, third) or _comes_home(inside, kind, third, place)
        yield (1 if twice else 3 if spoilt else 2), len(word), word


def _comes_home(inside: dict[int, int], kind: Kind, source: int, target: int) -> bool:
    """Whether the piece that is now at the slot of label ``source`` is at home once source goes to target."""
    slot = (source - kind.first) // kind.twist
    for base, place in inside.items():
        if (place - kind.first) // kind.twist == slot:
            twist = (place - source) % kind.twist
            start = target - (target - kind.first) % kind.twist
            return start + ((target - kind.first) + twist) % kind.twist == base
    return False


def _loosened(puzzle: Puzzle, kind: Kind, cycles: Cycles, wrong: list[int]):
    """All pieces are in their slots and some are twisted: three-cycles that take two of them out."""
    first, second = (int(puzzle.base_label[p]) for p in wrong[:2])
    for p in kind.places:
        if p not in wrong[:2]:
            word = cycles.word(puzzle, (first, second, int(puzzle.base_label[p])))
            if word is not None:
                yield (0 if p in wrong else 1), len(word), word
