"""Names of puzzles, taken apart and checked before anything is built from them."""

import re
from collections.abc import Callable, Iterable
from difflib import get_close_matches
from functools import lru_cache
from typing import NamedTuple

from oddswap.errors import BadOption, OtherPuzzle, UnknownPuzzle, quoted
from oddswap.forwards import fetched


class PuzzleFamily(NamedTuple):
    """An example of a family's names, the options that it has, and what makes its puzzles of name, size and options."""

    example: str
    options: tuple[str, ...]
    make: Callable


FAMILIES = {
    "cube": PuzzleFamily("cube:3", ("centres", "joined", "turns"), fetched("puzzles.solids.cubes:cube")),
    "cuboid": PuzzleFamily("cuboid:2x3x4", ("joined", "turns"), fetched("puzzles.boxes.grid:cuboid")),
    "shape-mod": PuzzleFamily(
        "shape-mod:prism8",
        ("slabs", "mechanism", "axis", "degrees", "cut", "shift", "paint", "measured", "joined", "turns"),
        fetched("puzzles.solids.cubes:shape_mod"),
    ),
    "tetrahedron": PuzzleFamily("tetrahedron", ("tips", "joined"), fetched("puzzles.solids.polyhedra:face_turning")),
    "octahedron": PuzzleFamily("octahedron", ("joined",), fetched("puzzles.solids.polyhedra:face_turning")),
    "dodecahedron": PuzzleFamily("dodecahedron", ("joined",), fetched("puzzles.solids.polyhedra:face_turning")),
    "corner-cube": PuzzleFamily("corner-cube", ("joined",), fetched("puzzles.solids.polyhedra:face_turning")),
    "loop": PuzzleFamily("loop:20", ("window", "beads"), fetched("puzzles.flat.loops:loop")),
    "rings": PuzzleFamily("rings:7+7", ("cross", "gap", "beads"), fetched("puzzles.flat.rings:rings")),
    "wedges": PuzzleFamily("wedges:12", ("top", "bottom", "middle", "paint"), fetched("puzzles.shaped.wedges:wedges")),
    "tiles": PuzzleFamily("tiles:4x4", ("letters", "blank"), fetched("puzzles.flat.tiles:tiles")),
    "graph": PuzzleFamily("graph:2+1+2", ("letters", "blank"), fetched("puzzles.flat.tiles:graph")),
    "custom": PuzzleFamily("custom:FILE.toml", ("measured",), fetched("puzzles.files.custom:custom")),
}
"""Every family of the catalogue; a family's own file is loaded when one of its puzzles is."""
MEANT = {
    "cube:{}": r"(?:cube\W*(?:of )?)?([0-9]+)(?:x\1){0,2}",
    "cuboid:{}": r"(?:box\W*(?:of )?)?([0-9]+x[0-9]+x[0-9]+)",
    "shape-mod:prism{}": r"prism\W*([0-9]+)",
    "custom:{}": r"([^:]*\.toml)",
}
"""What people write for a name when they leave out its family, or say another word."""


def parse_name(name: str) -> tuple[str, str, dict[str, str]]:
    """Split ``family:size,option=value,…``; the options are a fresh dictionary that the family empties."""
    head, *pairs = name.strip().split(",")
    family, _, size = head.partition(":")
    options: dict[str, str] = {}
    for pair in pairs:
        key, equals, value = pair.partition("=")
        if not equals or not key or not value:
            raise BadOption(f"{quoted(pair)} in the puzzle's name is not of the form option=value")
        if key.strip() in options:
            raise BadOption(f"the option {quoted(key.strip())} stands twice in the puzzle's name")
        options[key.strip()] = value.strip()
    return family.strip(), size.strip(), options


def checked_name(name: str) -> tuple[str, str, dict[str, str]]:
    """Split a puzzle's name. `UnknownPuzzle` for a family that there is not or that needs a size, `BadOption` for an option
    that the family lacks.

    >>> checked_name("cube:3,centre=none")
    Traceback (most recent call last):
    oddswap.errors.BadOption: cube has no option `centre`: write centres (it knows centres, joined, turns)
    """
    family, size, options = parse_name(name)
    if family not in FAMILIES:
        raise UnknownPuzzle(f"there is no puzzle family {quoted(family)}: {_nearest(family, size)}")
    example, known, _ = FAMILIES[family]
    if not size and ":" in example:
        raise UnknownPuzzle(f"{family} alone names no puzzle: write such as {example}")
    for option in options:
        if option not in known:
            near = nearest(option, known)
            all_known = f"it knows {', '.join(known) or 'none'}"
            raise BadOption(f"{family} has no option {quoted(option)}: {f'write {near} ({all_known})' if near else all_known}")
    return family, size, options


def count(what: str, text: str, least: int, most: int) -> int:
    """Return the number that a name gives, from ``least`` to ``most``; `UnknownPuzzle` says ``what`` it was meant to be."""
    if not re.fullmatch(r"[0-9]{1,3}", text) or not least <= int(text) <= most:
        raise UnknownPuzzle(f"{what} is a whole number from {least} to {most}, not {quoted(text)}")
    return int(text)


def nearest(word: str, known: Iterable[str]) -> str:
    """The known word that is most like another, in whatever case; empty where none is.

    >>> nearest("Tetraeder", FAMILIES), nearest("sphere", FAMILIES)
    ('tetrahedron', '')
    """
    by_case = {one.casefold(): one for one in known}
    return next(iter(by_case[like] for like in get_close_matches(word.casefold()[:30], by_case, 1)), "")


def _nearest(family: str, size: str) -> str:
    for form, pattern in MEANT.items():
        if found := re.fullmatch(pattern, f"{family}:{size}".rstrip(":")):
            return f"write {quoted(form.format(found[1]), 60)[1:-1]}"
    if not (near := nearest(family, FAMILIES)):
        return f"choose from {', '.join(FAMILIES)}"
    example = FAMILIES[near].example
    return f"write such as {example if not size or ':' not in example else f'{near}:{quoted(size)[1:-1]}'}"


def same_but_for_turns(one: str, other: str) -> bool:
    """Whether two names are those of one puzzle, whichever of its turns each copy makes.

    >>> same_but_for_turns("cube:3, turns=half", "cube:3"), same_but_for_turns("cube:3", "cube:3,centres=none")
    (True, False)
    """
    return one == other or _without_turns(one) == _without_turns(other)


@lru_cache(maxsize=256)
def _without_turns(name: str) -> list[str]:
    head, *options = (" ".join(part.split()) for part in name.split(","))
    return [head, *sorted(option for option in options if not option.startswith("turns"))]


def refuse_other(puzzle: str, slots: int, what: str, given: str, length: int) -> None:
    """`OtherPuzzle` unless ``what`` is given for this puzzle of so many ``slots``, or for a copy of it with other turns."""
    if length != slots or not same_but_for_turns(given, puzzle):
        raise OtherPuzzle(f"this {what} is one of {quoted(given, 60)}, not of {quoted(puzzle, 60)}: load its own puzzle")
