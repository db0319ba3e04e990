"""Staged plans as editable data: a list of goals, with the turns and sequences that lead from each to the next.

The layer method that everyone teaches is in ``layer_by_layer.toml`` beside this file, what leads to it from four or five
layers in ``as_three_slabs.toml``. A file of one's own is either a whole
plan of the same form, or only a table ``[sequences."NAME OF A STAGE"]`` of one's own names and sequences, which are then
allowed there too.
"""

from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from types import MappingProxyType

from oddswap.errors import BadPlan, quoted
from oddswap.values.text_file import parse_toml, read_text, refusal, refuse_unseen

LAYERS = Path(__file__).with_name("layer_by_layer.toml")
REDUCTION = Path(__file__).with_name("as_three_slabs.toml")
TOGETHER = "paired"
RIGHT = ("wholly", "way round", "place", TOGETHER)
"""What must be right at the slots of a stage: wholly; the way round, in any of these slots; the place, in any way round; or
what belongs to each block is together, wherever turns could carry it as one."""
SHAPES = ("any", "home")
"""Where the shape decides the turns: a stage may pass through any shape, or never leaves that at home. It always ends at home."""
KEYS = {"name": str, "slots": list, "right": str, "one_by_one": bool, "turns": (list, str), "holdings": list, "sequences": dict}
KEYS |= {"shape": str, "mends": dict}


@dataclass(frozen=True)
class PlanStage:
    """One goal: what must be ``right`` at ``slots``, and how one may go on to it from the last.

    ``turns`` are names of turns, ``None`` for all; ``sequences`` moves by name, each made in any of the ``holdings``
    (whole-puzzle rotations, empty for none). ``one_by_one``: the slots are filled one after another. ``shape``
    is one of `SHAPES`. ``mends`` are sequences for an odd swap that the others cannot make. From a stage
    with pairs on, what a later stage names again need not stay right until then.
    """

    name: str
    slots: tuple[str, ...]
    right: str
    one_by_one: bool
    turns: tuple[str, ...] | None
    holdings: tuple[str, ...]
    sequences: MappingProxyType[str, str]
    shape: str
    mends: MappingProxyType[str, str]


@dataclass(frozen=True)
class Plan:
    """The stages of a method, in order."""

    name: str
    stages: tuple[PlanStage, ...]


def read_plan(path: Path | None = None, layers: int = 3) -> Plan:
    """The plan that is taught for so many layers, or the plan in a file, or the first with the sequences that a file adds.

    `BadPlan` says what is wrong in the file, and where.

    >>> [stage.name for stage in read_plan().stages][:3]
    ['bottom cross', 'bottom corners', 'middle edges']
    """
    return _read(path, layers) if path else taught_plan(layers)


@cache
def taught_plan(layers: int) -> Plan:
    """The plan that comes with the package, read once: the layer method, and above three layers what leads to it."""
    return _read(REDUCTION if layers > 3 else LAYERS, layers)


def _read(where: Path, layers: int) -> Plan:
    said = quoted(where.name)
    data = parse_toml(read_text(where, "the plan", BadPlan), said, BadPlan)
    refuse_unseen(data, refusal(BadPlan, f"{said}, "))
    if "stage" not in data:
        return _extended(said, taught_plan(layers), data)
    _only(said, "the file", data, {"name": str, "stage": list})
    if not data["stage"]:
        raise BadPlan(f"{said} has no stage: write at least one [[stage]]")
    stages = tuple(_stage(said, number, each) for number, each in enumerate(data["stage"], 1))
    names = [stage.name for stage in stages]
    for name in names:
        if names.count(name) > 1:
            raise BadPlan(f"{said} has two stages called {quoted(name)}: give each a name of its own")
    return Plan(data.get("name", where.stem), stages)


def _stage(said: str, number: int, data: object) -> PlanStage:
    where = f"stage {number}"
    if not isinstance(data, dict):
        raise BadPlan(f"{said}, {where}: write it as a table [[stage]]")
    _only(said, where, data, KEYS)
    for key in ("name", "slots"):
        if not data.get(key):
            raise BadPlan(f"{said}, {where} has no {key}: give it {'one' if key == 'name' else 'at least one slot'}")
    where = f"{where} ({quoted(data['name'])})"
    right, shape = data.get("right", RIGHT[0]), data.get("shape", SHAPES[0])
    for key, value, known in (("right", right, RIGHT), ("shape", shape, SHAPES)):
        if value not in known:
            raise BadPlan(f"{said}, {where}: {key} = {quoted(value)} is not one of {', '.join(map(repr, known))}")
    if right in RIGHT[1:3] and data.get("one_by_one"):
        raise BadPlan(f"{said}, {where}: one_by_one goes only with slots that are right wholly")
    turns = data.get("turns", [])
    if isinstance(turns, str) and turns != "all":
        raise BadPlan(f'{said}, {where}: turns = {quoted(turns)} is no list: write "all" or such as ["U", "U2"]')
    sequences = data.get("sequences", {})
    if not turns and not sequences:
        raise BadPlan(f"{said}, {where} allows no turns and no sequences: name some")
    slots, one_by_one = _texts(said, where, "slots", data["slots"]), data.get("one_by_one", False)
    allowed = None if turns == "all" else _texts(said, where, "turns", turns)
    holdings = _texts(said, where, "holdings", data.get("holdings", [""])) or ("",)
    made, mends = (_sequences(said, where, each) for each in (sequences, data.get("mends", {})))
    return PlanStage(data["name"], slots, right, one_by_one, allowed, holdings, made, shape, mends)


def _extended(said: str, plan: Plan, data: dict) -> Plan:
    _only(said, "the file", data, {"name": str, "sequences": dict})
    if not (added := data.get("sequences", {})):
        raise BadPlan(f'{said} has no [[stage]] and no [sequences."NAME OF A STAGE"]: write one of them')
    known = {stage.name: stage for stage in plan.stages}
    for name, sequences in added.items():
        if name not in known:
            raise BadPlan(f"{said} adds sequences to the stage {quoted(name)}, which is none of {', '.join(known)}")
        if not isinstance(sequences, dict):
            raise BadPlan(f"{said}, stage {quoted(name)}: write each sequence as NAME = MOVES")
        both = {**known[name].sequences, **_sequences(said, f"stage {quoted(name)}", sequences)}
        known[name] = replace(known[name], sequences=MappingProxyType(both))
    return Plan(data.get("name", plan.name), tuple(known.values()))


def _sequences(said: str, where: str, data: dict) -> MappingProxyType[str, str]:
    for name, moves in data.items():
        if not isinstance(moves, str) or not moves.strip():
            raise BadPlan(f"{said}, {where}: the sequence {quoted(name)} has no moves: write them as a text")
    return MappingProxyType(dict(data))


def _texts(said: str, where: str, key: str, values: list) -> tuple[str, ...]:
    if not all(isinstance(value, str) for value in values):
        raise BadPlan(f"{said}, {where}: {key} must be a list of texts")
    return tuple(values)


def _only(said: str, where: str, data: dict, keys: dict) -> None:
    for key, value in data.items():
        if key not in keys:
            raise BadPlan(f"{said}, {where}: there is no key {quoted(key)}; it may have {', '.join(keys)}")
        if not isinstance(value, keys[key]):
            raise BadPlan(f"{said}, {where}: {key} is of the wrong type")
