"""A puzzle without a file: its moves, or a solid and its cuts, told in Python and read as a puzzle file is."""

import json
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from oddswap.errors import BadOption, UnknownPuzzle, quoted
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import keep
from oddswap.puzzles.files.custom import MAKERS
from oddswap.puzzles.files.puzzle_file import BadPuzzleFile, Key, PuzzleFile

FAMILY = "made-up:"


@dataclass(frozen=True, eq=False)
class GivenTables(PuzzleFile):
    """The tables of a puzzle file that nobody wrote into one: what is wrong has no line."""

    def error(self, reason: str, *path: Key) -> BadPuzzleFile:
        where = f", {path[0]} {self.data[path[0]][path[1]]['name']}" if path[1:] and path[0] in ("facet", "cut") else ""
        return BadPuzzleFile(f"{self.name}{where}: {reason}")


def puzzle(
    name: str = "puzzle",
    *,
    moves: Mapping[str, str] | None = None,
    twins: str | Iterable[str] = (),
    kinds: Mapping[str, str | Mapping] | None = None,
    facets: Mapping[str, Mapping] | None = None,
    cuts: Mapping[str, Mapping] | None = None,
) -> Puzzle:
    """The puzzle of these moves, or of a solid with these cuts, by the rules of `oddswap.puzzles.files.custom`.

    ``twins`` are slots whose pieces look alike, such as "1 2". ``kinds`` tell which slots can take each other's pieces, as
    ``{"beads": "1 2 3"}`` or with the keys of a file, ``{"corners": {"slots": "a b", "twist": 3}}``; left out, they all can.
    ``facets`` and ``cuts`` give the keys of a file by name. `OddswapError` says what is wrong.

    >>> wheel = puzzle("wheel of four", moves={"a": "(1 2 3 4)"}, twins=["1 2"])
    >>> wheel, wheel.title, wheel.follow("a").pieces, len(set(wheel.looks))
    (load('made-up:wheel of four'), 'wheel of four', (3, 0, 1, 2), 3)
    """
    if not isinstance(name, str) or not name.strip() or not name.isprintable() or set(name) & set(",=:"):
        raise UnknownPuzzle(f"{quoted(name)} cannot be what a puzzle is called: write a text on one line without , = and :")
    if (moves is None) == (cuts is None) or (facets if cuts is None else twins or kinds):
        raise BadOption("a puzzle is told by its moves (and kinds and twins), or by facets and cuts: give the one or the other")
    data: dict = {"title": name}
    if moves is not None:
        data |= {"moves": dict(moves), "kind": _kinds(moves, kinds, [twins] if isinstance(twins, str) else twins)}
    else:
        data |= {"facet": _named(facets or {}), "cut": _named(cuts)}
    return keep(FAMILY + name.strip(), _build, json.loads(json.dumps(data, default=_plain)))


def _plain(value: object) -> object:
    """An array as a list, and what else no file could hold as a text."""
    return value.tolist() if hasattr(value, "tolist") else str(value)


def _build(name: str, data: dict) -> Puzzle:
    return MAKERS["moves" if "moves" in data else "cut"](GivenTables(name, "", data), name)


def _named(tables: Mapping[str, Mapping]) -> list[dict]:
    return [{"name": name, **table} for name, table in tables.items()]


def _kinds(moves: Mapping[str, str], kinds: Mapping[str, str | Mapping] | None, twins: Iterable[str]) -> list[dict]:
    """The tables of the kinds, with the looks of the twins."""
    every = dict.fromkeys(re.findall(r"[\w.]+", re.sub(r"\+\d+", "", " ".join(map(str, moves.values())))))
    if not every:
        raise BadOption("no move names a slot: give moves such as {'a': '(1 2 3)'}")
    told = kinds or {"pieces": " ".join(every)}
    alike: set[str] = set()
    tables = _named({name: {"slots": kind} if isinstance(kind, str) else kind for name, kind in told.items()})
    for group in twins:
        first, *others = str(group).split() or [""]
        table = next((t for t in tables if {first, *others} <= set(str(t.get("slots")).split())), None)
        if table is None or not others:
            raise BadOption(f"twins: {quoted(group)} are no two slots of one kind: write such as 1 2")
        if twice := alike.intersection((first, *others)):
            raise BadOption(f"twins: {quoted(min(twice))} stands in two groups: write all that look alike in one")
        alike.update((first, *others))
        twist, looks = table.get("twist", 1), table.get("looks", {})
        ways = [f"{first}+{way}" for way in range(1, twist)] if isinstance(twist, int) else []
        if isinstance(looks, Mapping):
            table["looks"] = {**looks, **dict.fromkeys((first, *others), [first, *ways] if ways else first)}
    return tables
