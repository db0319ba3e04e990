"""Every field of every file, and every text of the command line, takes a hostile text as text or refuses it in one plain line.

The fields are read off the tables by which the files are read, so that a new one is tried as soon as it is there. Those that keep
what stands in them are listed with where `tests/test_hostile.py` has them; it reads whatever is made of them.
"""

from __future__ import annotations

import copy
import tomllib
from collections.abc import Callable
from itertools import cycle
from pathlib import Path

import pytest
import tomli_w

import oddswap
from oddswap.commands.command_line import COMMANDS
from oddswap.describing import habits, in_photographs, seen, ticket, tickets
from oddswap.describing.tickets import parse_ticket, write_ticket
from oddswap.errors import OddswapError
from oddswap.puzzles.base.mechanism import DIRECTIONS
from oddswap.puzzles.catalogue import load
from oddswap.puzzles.files import custom_moves, custom_solid
from oddswap.reasoning.teaching import plans
from oddswap.story.telling import story_file
from oddswap.story.telling.beats import story_of
from oddswap.story.voice import read_timing
from tests.common.hostile import THEMES
from tests.common.outputs import ELSEWHERE, run

TEXTS = [text for theme in THEMES.values() for text in theme]
TEXTS += ["a\x1b[2Jb", "a\u202eb", "../../ZQ", "/dev/zero", "a\nb", "a\0b", "~ZQ", "-ZQ", "x" * 3000, ""]

CUBE = {"puzzle": "cube:3", "after": "R U", "then": [{"did": "R"}], "mine": {}, "notation": {}}
PHOTOGRAPHED = {"puzzle": "cube:3", "photograph": [{"file": "a.png", "corners": {"UFR": [4, 4]}}]}
WHEELS = {"moves": {"a": "(1 2 3)"}, "kind": [{"name": "beads", "slots": "1 2 3"}]}
GRAPH = {"graph": {"edges": "a-b b-c c-a", "blank": "a"}}
PLANES = [{"name": name, "normal": normal.tolist(), "offset": 1} for name, normal in DIRECTIONS.items()]
SOLID = {"facet": PLANES, "cut": [{"name": "U", "normal": [0, 1, 0], "offset": 0, "turns": 4}]}
PLAN = {"name": "plan", "stage": tomllib.loads(plans.LAYERS.read_text("utf-8"))["stage"][:1]}
PLAN["stage"][0]["sequences"] = {"a pair": "R U R'"}


def read_ticket(path: Path) -> object:
    found = parse_ticket(path.read_text("utf-8"), source=path)
    assert parse_ticket(write_ticket(found), source=path) == found
    return found


def read_puzzle(path: Path) -> object:
    return load(f"custom:{path}")


def read_half_spaces(path: Path) -> object:
    return load(f"shape-mod:{path}")


def story() -> dict:
    data = tomllib.loads(story_file.write_story(story_of(oddswap.answer("cube:2", "R U"))))
    return data | {"beat": data["beat"][:2]}


Where = tuple[str | int, ...]
FILES: dict[str, tuple[Callable[[Path], object], dict, Where, list[str]]] = {
    "ticket": (read_ticket, CUBE, (), [*tickets.KEYS]),
    "[mine]": (read_ticket, CUBE, ("mine",), [*ticket.KEYS]),
    "[notation]": (read_ticket, CUBE, ("notation",), [*habits.KEYS]),
    "[[then]]": (read_ticket, CUBE, ("then", 0), [*seen.SAID, *tickets.SEEN]),
    "[[photograph]]": (read_ticket, PHOTOGRAPHED, ("photograph", 0), [*in_photographs.KEYS]),
    "moves": (read_puzzle, WHEELS, (), [*custom_moves.KEYS]),
    "[[kind]]": (read_puzzle, WHEELS, ("kind", 0), ["name", "slots", "twist", "hands", "looks"]),
    "graph": (read_puzzle, GRAPH, (), [*custom_moves.GRAPH_KEYS]),
    "[graph]": (read_puzzle, GRAPH, ("graph",), ["edges", "blank", "looks"]),
    "solid": (read_puzzle, SOLID, (), [*custom_solid.KEYS]),
    "[[facet]]": (read_puzzle, SOLID, ("facet", 0), ["name", "normal", "offset", "paint"]),
    "[[cut]]": (read_puzzle, SOLID, ("cut", 0), ["name", "normal", "offset", "turns"]),
    "half-spaces": (read_half_spaces, {"half_space": PLANES}, (), ["half_space"]),
    "[[half_space]]": (read_half_spaces, {"half_space": PLANES}, ("half_space", 0), ["name", "normal", "offset"]),
    "plan": (plans.read_plan, PLAN, (), ["name", "stage"]),
    "[[stage]]": (plans.read_plan, PLAN, ("stage", 0), [*plans.KEYS]),
    "story": (story_file.read_story, {}, (), [*story_file.TOP]),
    "[[beat]]": (story_file.read_story, {}, ("beat", 0), [*story_file.BEAT]),
    "timing": (read_timing, {"beats": [[1.0]]}, (), ["beats"]),
}
KEEP = {
    "ticket": {"note", "colours"},
    "[mine]": {"colours"},
    "moves": {"title", "colours"},
    "[[kind]]": {"name", "looks"},
    "graph": {"title", "colours"},
    "[graph]": {"looks"},
    "solid": {"title"},
    "[[half_space]]": {"name"},
    "plan": {"name"},
    "[[stage]]": {"name", "sequences", "mends", "slots", "turns", "holdings"},
    "story": {"title", "puzzle", "position", "culprit", "held"},
    "[[beat]]": {"chapter", "says", "large", "marks", "moves", "demo"},
}
"""By file the fields that keep some hostile text."""
LOOKED_UP = {
    "[[stage]]": {"sequences": {"one": ""}, "mends": {"one": ""}, "slots": [""], "turns": [""], "holdings": [""]},
    "story": {"puzzle": "", "position": "", "culprit": [""], "held": ""},
    "[[beat]]": {"marks": [["UFL", ""]], "moves": "", "demo": ""},
}
"""Those of them that are looked up when something is made, with where in them the text goes."""


def shapes(text: str) -> list[object]:
    """A text wherever a value can have it."""
    tables = [{text: text}, {"U": text}, {text: "R U"}, {text: "#D55E00"}, {"1": text}, {"b": text}]
    return [text, [text], [[text]], [{text: text}], *tables]


@pytest.mark.parametrize("file", FILES)
def test_every_field_refuses_in_one_line_or_keeps_text(tmp_path, file):
    read, data, where, keys = FILES[file]
    data, kept, texts, path = data or story(), set(), cycle(TEXTS), tmp_path / "file.toml"
    if file != "[[photograph]]":
        path.write_text(tomli_w.dumps(data), "utf-8")
        read(path)
    for key in keys:
        for number in range(len(shapes("")) * 2):
            changed = copy.deepcopy(data)
            table = changed
            for step in where:
                table = table[step]
            table[key] = shapes(next(texts))[number % len(shapes(""))]
            path.write_text(tomli_w.dumps(changed), "utf-8")
            try:
                read(path)
                kept |= {key} if hostile(table[key]) else set()
            except OddswapError as error:
                assert str(error).isprintable() and 0 < len(str(error)) < 1000, (key, table[key])
    assert kept == KEEP.get(file, set())


def hostile(value: object) -> bool:
    """Whether there is a text in it that can do harm."""
    return any(mark in str(value) for mark in ("ZQ", "\\x1b", "\\u202e"))


def with_text(value: object, text: str) -> object:
    """A value with a text in place of each that is empty."""
    if isinstance(value, dict):
        return {key: with_text(part, text) for key, part in value.items()}
    return [with_text(part, text) for part in value] if isinstance(value, list) else value or text


@pytest.mark.parametrize(("file", "key"), [(file, key) for file, values in LOOKED_UP.items() for key in values])
def test_what_is_looked_up_when_something_is_made_is_refused_then_or_left_out(tmp_path, file, key):
    _, data, where, _ = FILES[file]
    data = copy.deepcopy(data or story())
    table = data
    for step in where:
        table = table[step]
    table[key] = with_text(LOOKED_UP[file][key], "<b>ZQ</b>\u202e" if file == "story" else "<b>ZQ</b>")
    out = tmp_path / "out"
    out.mkdir()
    path, ticket = (tmp_path / "plan.toml" if file == "[[stage]]" else out / "story.toml"), tmp_path / "ticket.toml"
    path.write_text(tomli_w.dumps(data), "utf-8")
    ticket.write_text('puzzle = "cube:2"\nafter = "R U"', "utf-8")
    plan, told = (
        ["plan", "cube:3", "--plan", str(path), "--after", "R U F D"],
        ["story", str(ticket), "--out", str(out), "--only", "script"],
    )
    ended = run(plan if file == "[[stage]]" else told)
    if ended[0] == 0:  # it was not needed for what was made
        path.unlink()
        assert "ZQ" not in ended[1] + "".join(made.read_text("utf-8") for made in out.iterdir() if made.is_file())
    else:
        plain(*ended)


def plain(status: int, said: str, complaint: str) -> None:
    """It was refused, in one line that is nothing but text."""
    assert status == 2 and not said and complaint.startswith("oddswap: ") and complaint.count("\n") == 1, (
        status,
        said,
        complaint,
    )
    assert complaint[:-1].isprintable()


NAMES = [
    (name, names[0], number)
    for name, (_, _, *options) in COMMANDS.items()
    for names, how in options
    for number in range(2)
    if name not in ELSEWHERE
    and "choices" not in how
    and names[0] not in ("--out", "tickets", "ticket")
    and not how.get("default")
    if how.get("action") in (None, "append")
]
"""What each command takes that is no number, no choice and no flag: names of files, of puzzles, turns."""


@pytest.mark.parametrize(("command", "name", "number"), NAMES)
def test_every_text_of_the_command_line_is_refused_in_one_line(tmp_path, command, name, number):
    text = ["\x1b[2J\u202e<b>ZQ</b>", "../`ZQ`/$x$\n[link=a]"][number]
    ticket = tmp_path / "ticket.toml"
    ticket.write_text('puzzle = "cube:2"\nafter = "R U"', "utf-8")
    taken = {"ticket": ticket, "tickets": ticket, "puzzle": "cube:2", "what": "cube:2", "moves": "R", "--out": tmp_path / "out"}
    words = [command]
    for names, _ in COMMANDS[command][2:]:
        given = {"--retake": f"1={text}", "--footage": f"1={text}"}.get(name, text) if names[0] == name else taken.get(names[0])
        if given is not None:
            words += [str(given)] if names[0][0] != "-" else [names[0], str(given)]
    try:
        plain(*run(words))
    except SystemExit as stopped:
        assert stopped.code == 2
