"""Doors: public functions take what people type, and refuse what does not belong together.

A puzzle may be its name, and a path a text. A position may be an arrangement or an appearance of that puzzle, changes such as
``flip UF`` or moves such as ``R U2``; where only what is seen counts, an arrangement is looked at. A list of texts may be one
text, and a text the list of its words. Whatever else is given is of the sort that the signature names, or is refused.
"""

import builtins
import inspect
import sys
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from functools import wraps
from itertools import count
from numbers import Integral, Real
from pathlib import Path
from types import NoneType, UnionType
from typing import Annotated, TypeVar, Union, get_args, get_origin

from oddswap.describing.changes import changed
from oddswap.errors import BadOption, OtherPuzzle, UnknownPuzzle, quoted
from oddswap.puzzles.base.puzzle import Puzzle, Turn
from oddswap.puzzles.base.puzzle_names import refuse_other
from oddswap.puzzles.catalogue import load
from oddswap.values.position import Appearance, Arrangement
from oddswap.values.sequence import as_text

CHANGES = {"flip", "twist", "swap", "cycle", "turn"}
POSITIONS = Arrangement, Appearance
SORTS = {
    "Puzzle": "any puzzle",
    "GraphPuzzle": "tiles that slide, such as tiles:3x3",
    "Shaped": "a puzzle whose shape decides its turns, such as cuboid:1x3x3,turns=all",
    "BoxPuzzle": "a box that may leave its outline, such as cuboid:2x3x4,turns=all",
}
"""What a function may want, by the name of the type."""
LISTS = Iterable, Sequence, Collection, tuple
CALLED = {
    int: "a whole number",
    float: "a number",
    Mapping: "a table by name, such as {'U': …}",
    **dict.fromkeys(LISTS, "a list"),
    Callable: "a function",
    str: "a text",
    bool: "True or False",
    Path: "a path",
}
"""How a type is called in a sentence; others go by their names."""
ALSO = {int: Integral, float: Real, tuple: Iterable, Path: str}
"""What else is taken for a type."""

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
    signature = inspect.signature(function, locals=_Names(vars(sys.modules[function.__module__])), eval_str=True)
    wanted = {
        name: tuple[parameter.annotation, ...] if parameter.kind is parameter.VAR_POSITIONAL else parameter.annotation
        for name, parameter in signature.parameters.items()
    }

    @wraps(function)
    def checked(*arguments, **options):
        given = signature.bind(*arguments, **options)
        kinds = [wanted[name] for name in given.arguments]
        read = _each(kinds, given.arguments.values(), given.arguments, None)
        given.arguments.update(zip(list(given.arguments), read, strict=True))
        return function(*given.args, **given.kwargs)

    return checked


class _Names(dict):
    """What names in a signature stand for; those that only a checker of types imports are types of that name alone."""

    def __missing__(self, name: str) -> type:
        return globals().get(name) or vars(builtins).get(name) or type(name, (), {})


def _each(kinds: Iterable[type], values: Iterable, places: Iterable[str], puzzle: Puzzle | None) -> Iterator:
    """Each value as one of its type; positions belong to the puzzle before them."""
    for kind, value, place in zip(kinds, values, places, strict=False):
        value = _read(kind, value, place, puzzle)
        puzzle = value if isinstance(value, Puzzle) else puzzle
        yield value


def _read(wanted: type, value: object, place: str, puzzle: Puzzle | None) -> object:
    """A value as one of the type that is wanted, and so is what it holds; `BadOption` says where something is of another sort."""
    kinds = get_args(wanted) if get_origin(wanted) in (Union, UnionType) else (wanted,)
    if value is None and NoneType in kinds:
        return None
    if sort := {kind.__name__ for kind in kinds} & SORTS.keys():
        return puzzle_of(value, *sort)
    if get_args(wanted) == (Arrangement,) and not isinstance(value, list | tuple):
        value = [value]
    if fitting := [kind for kind in kinds if _fits(_outer(kind), value)]:
        return _read_within(fitting[0], value, place, puzzle)
    if positions := {kind.__name__ for kind in kinds if kind in POSITIONS}:
        return position(puzzle, value, positions)
    if str in kinds and isinstance(value, list | tuple):
        return as_text(value)
    raise BadOption(f"{place} is {quoted(value)}: give {' or '.join(sorted(map(_called, set(kinds) - {NoneType})))}")


def _outer(kind: type) -> type:
    """The type without what it holds, and without the note beside it."""
    kind = get_args(kind)[0] if get_origin(kind) is Annotated else kind
    return get_origin(kind) or kind


def _called(kind: type) -> str:
    return CALLED.get(_outer(kind)) or getattr(kind, "__name__", "a position")


def _fits(kind: type, value: object) -> bool:
    """Whether a value is of this type, whatever it holds; a position always has to be read."""
    own = {base.__name__ for base in type(value).__mro__}
    taken = kind is inspect.Parameter.empty or kind.__name__ in own or isinstance(value, (kind, ALSO.get(kind, kind)))
    return taken and kind not in POSITIONS


def _read_within(kind: type, value: object, place: str, puzzle: Puzzle | None) -> object:
    """A value of this type, with what it holds read, too, and by what the note beside the type says."""
    kind, note = get_args(kind) if get_origin(kind) is Annotated else (kind, Path if kind is Path else 0)
    outer, held = _outer(kind), get_args(kind)
    if callable(note):
        return note(value)
    if isinstance(value, Real) and not value >= note:
        raise BadOption(f"{place} is {quoted(value)}: give {note} or more")
    if outer is Mapping and held:
        keys = [_read(held[0], key, f"a name in {place}", puzzle) for key in value]
        return {key: _read(held[1], value[key], f"{quoted(key)} in {place}", puzzle) for key in keys}
    if outer not in LISTS or not held:
        return value
    if isinstance(value, str) and outer in (Iterable, Collection):
        value = puzzle.settled(value)[0] if held == (Turn,) else _parts(value) if place == "changes" else value.split()
    keep = tuple if outer is tuple or isinstance(value, tuple) else list
    kinds = held if outer is tuple and Ellipsis not in held else held[:1] * len(value := list(value))
    if len(value) != len(kinds):
        raise BadOption(f"{place} is {quoted(value)}: give a list of {' and '.join(map(_called, kinds))}")
    return keep(_each(kinds, value, (f"item {number} of {place}" for number in count(1)), puzzle))


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
