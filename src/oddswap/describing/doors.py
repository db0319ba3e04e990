"""Doors: public functions take what people type, and refuse what does not belong together.

A puzzle may be its name. A position may be an arrangement or an appearance of that puzzle, changes such as ``flip UF`` or
moves such as ``R U2``; where only what is seen counts, an arrangement is looked at. A list of texts may be one text.
Whatever else is given is of the sort that the signature names, or is refused.
"""

import inspect
import re
from collections.abc import Callable, Iterable, Mapping
from functools import wraps
from numbers import Integral, Real
from typing import TypeVar

from oddswap.describing.changes import changed
from oddswap.errors import BadOption, OtherPuzzle, UnknownPuzzle, quoted
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.puzzle_names import refuse_other
from oddswap.puzzles.catalogue import load
from oddswap.values.permutation import permutation
from oddswap.values.position import Appearance, Arrangement
from oddswap.values.sequence import as_text

CHANGES = {"flip", "twist", "swap", "cycle", "turn"}
POSITIONS = {"Arrangement", "Appearance"}
SEVERAL = r"^(?:Mapping|Iterable)\[.*\b(?:Arrangement|Appearance)\b"
SORTS = {
    "Puzzle": "any puzzle",
    "GraphPuzzle": "tiles that slide, such as tiles:3x3",
    "Shaped": "a puzzle whose shape decides its turns, such as cuboid:1x3x3,turns=all",
    "BoxPuzzle": "a box that may leave its outline, such as cuboid:2x3x4,turns=all",
}
"""What a function may want, by the name of the type."""
PLAIN = {
    "int": (Integral, "a whole number"),
    "float": (Real, "a number"),
    "Mapping": (Mapping, "a table by name, such as {'U': …}"),
    **dict.fromkeys(("Iterable", "Sequence", "Collection"), (Iterable, "a list")),
    **dict.fromkeys(("Callable", "Tell", "Told"), (Callable, "a function")),
    "str": (str, "a text"),
    "bool": (bool, "True or False"),
}
"""What a value is of which a signature says so, and how it is called; other types go by their names."""
FROM_ONE = {"per_row", "frames_a_second", "points", "side", "width", "height"}
"""The numbers of which there must be one; no other is below 0."""

Function = TypeVar("Function", bound=Callable)


def door(function: Function) -> Function:
    """The function, with its arguments checked and read by what its signature says of them.

    >>> from oddswap.reasoning.verdicts.diagnosis import diagnose
    >>> door(diagnose)("cube:3", "flip UF").verdict
    'not by turning'
    >>> door(diagnose)("cube:3", load("cube:2").solved)
    Traceback (most recent call last):
    oddswap.errors.OtherPuzzle: this arrangement is one of `cube:2`, not of `cube:3`: load its own puzzle
    """
    signature = inspect.signature(function)
    wanted = {name: re.sub(r"\w+\.", "", str(parameter.annotation)) for name, parameter in signature.parameters.items()}

    @wraps(function)
    def checked(*arguments, **options):
        given, puzzle = signature.bind(*arguments, **options), None
        for name, value in given.arguments.items():
            kinds = set(re.findall(r"\w+", re.sub(r"\[.*\]", "", wanted[name]))) - {"class"}
            if sort := kinds & SORTS.keys():
                given.arguments[name] = puzzle = puzzle_of(value, *sort)
            elif kinds & POSITIONS and not (value is None and "None" in kinds or "ndarray" in kinds and hasattr(value, "dtype")):
                given.arguments[name] = position(puzzle, value, kinds)
            elif re.search(SEVERAL, wanted[name]) and ("Mapping" not in kinds or isinstance(value, Mapping)):
                given.arguments[name] = _each(puzzle, value, set(re.findall(r"\w+", wanted[name])))
            elif "Iterable" in kinds and "str" not in kinds and isinstance(value, str):
                given.arguments[name] = _parts(value) if name == "changes" else value.split()
            elif wanted[name] == "Collection[Turn]" and isinstance(value, str):
                given.arguments[name] = puzzle.settled(value)[0]
            elif name == "p":
                given.arguments[name] = permutation(value)
            else:
                _refuse_other_sorts(name, value, kinds)
        return function(*given.args, **given.kwargs)

    return checked


def _refuse_other_sorts(name: str, value: object, kinds: set[str]) -> None:
    """`BadOption` for a value of none of these types; what reads a text alone says itself what is wrong with anything else."""
    if kinds <= {"str", "object", "Callable", "_empty"} or value is None and kinds & {"None", "object"}:
        return
    plain = tuple(PLAIN[kind][0] for kind in kinds & PLAIN.keys())
    if not isinstance(value, plain) and not kinds & {base.__name__ for base in type(value).__mro__}:
        right = sorted({PLAIN[kind][1] if kind in PLAIN else kind for kind in kinds - {"None"}})
        raise BadOption(f"{name} is {quoted(value)}: give {' or '.join(right)}")
    if isinstance(value, Real) and not value >= (name in FROM_ONE):
        raise BadOption(f"{name} is {quoted(value)}: give {int(name in FROM_ONE)} or more")


def _each(puzzle: Puzzle | None, given: Mapping | Iterable, kinds: set[str]) -> Mapping | list:
    """Several positions, by name or one after the other, each of this puzzle or in a pair with its own."""
    if isinstance(given, Mapping):
        return dict(zip(given, _each(puzzle, given.values(), kinds), strict=True))
    if puzzle:
        given = [given] if isinstance(given, str) or not isinstance(given, Iterable) else given
        return [position(puzzle, one, kinds) for one in given]
    pairs = list(given) if isinstance(given, Iterable) else [given]
    if not all(isinstance(pair, tuple | list) and len(pair) == 2 for pair in pairs):
        raise BadOption(f"{quoted(pairs)} are not puzzles, each with its position: give such as [('cube:3', 'R U')]")
    return [(puzzle, position(puzzle, one, kinds)) for puzzle, one in ((puzzle_of(own), one) for own, one in pairs)]


def puzzle_of(given: Puzzle | str, sort: str = "Puzzle") -> Puzzle:
    """The puzzle itself, or the one of that name; `UnknownPuzzle` for anything else, or one of another of the `SORTS`."""
    if not isinstance(given, Puzzle | str):
        raise UnknownPuzzle(f"a puzzle, or its name such as cube:3, is wanted here, not {quoted(given)}")
    puzzle = load(given) if isinstance(given, str) else given
    if sort not in {base.__name__ for base in type(puzzle).__mro__}:
        raise UnknownPuzzle(f"this is for {SORTS[sort]}, and {quoted(puzzle.name)} is another sort of puzzle")
    return puzzle


def position(puzzle: Puzzle, given: object, kinds: Iterable[str]) -> Arrangement | Appearance:
    """What is given, as one of the ``kinds`` wanted: Arrangement, Appearance or both; `OtherPuzzle` where it is none of them.

    >>> cube = load("cube:3")
    >>> position(cube, ["R", "U"], ["Appearance"]) == cube.appearance(cube.follow("R U"))
    True
    """
    if isinstance(given, str | list | tuple):
        by_hand = CHANGES & set(as_text(given).split()[:1])
        given = changed(puzzle, _parts(given)) if by_hand else puzzle.follow(given)
    if isinstance(given, Arrangement):
        refuse_other(puzzle.name, len(puzzle.slots), "arrangement", given.puzzle, len(given.pieces))
        return given if "Arrangement" in kinds else puzzle.appearance(given)
    if isinstance(given, Appearance) and "Appearance" in kinds:
        refuse_other(puzzle.name, len(puzzle.slots), "appearance", given.puzzle, len(given.sights))
        return given
    only = ", which an appearance does not give" if isinstance(given, Appearance) else f", not {quoted(given)}"
    raise OtherPuzzle(f"say which piece of {puzzle.name} sits where, as an arrangement or as moves or changes{only}")


def _parts(changes: str | Iterable[str]) -> list[str]:
    return [part.strip() for part in changes.split(",")] if isinstance(changes, str) else list(changes)
