"""Inputs by a grammar: puzzle files, tickets, letters that go on, sequences; most of them right, some with slight mistakes.

They are small, so that an answer takes milliseconds and many of them come through to one.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from random import Random

import tomli_w

from oddswap.errors import OddswapError
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import load

NAMED = ["cube:2", "cube:2", "tiles:2x3", "tiles:2x4,letters=AABBCCD", "rings:5+5,cross=2", "graph:1+1+1", "loop:8,window=3"]
NAMED += ["cuboid:1x2x3", "cuboid:2x2x3", "wedges:12", "tetrahedron,tips=no"]
LARGER = ["cube:3", "shape-mod:prism8", "cuboid:2x2x4"]
"""Those on which only what has a limit of time is asked."""
FACES = "UDFBLR"
COLOURS = ["white", "yellow", "red", "orange", "green", "blue", "W", "é", "sea green", "#D55E00"]
CHARACTERS = "()[]{}'\"=,:;|?+-*#\n\\ 0129aURFx²é\u202e\0\x1b"


def case(seed: int, folder: Path) -> list[str]:
    """The arguments of a command, whose files lie in ``folder``."""
    rng = Random(seed)
    name = _own(rng, folder / f"{seed}.toml") if rng.random() < 0.3 else rng.choice(NAMED + LARGER)
    ticket = folder / "ticket.toml"
    ticket.write_text(_mutated(rng, tomli_w.dumps(_ticket(rng, name)), 0.15), "utf-8")
    moves = _mutated(rng, _sequence(rng, name), 0.1)
    seconds = "0.2" if seed % 16 == 0 else "0.04"  # which larger puzzles use up
    commands = [
        *3 * [["answer", "TICKET", "--seconds", seconds]],
        ["answer", "TICKET", "--seconds", seconds, "--json"],
        ["check", "TICKET", moves.lstrip("-") or "x", "--seconds", "1"],
        ["postcard", "TICKET"],
        ["proof", "TICKET", "--seconds", seconds],
        ["laws", name, "--json"],
    ]
    chosen = rng.choice(commands[:4] if name in LARGER else commands)
    return [str(ticket) if word == "TICKET" else word for word in chosen]


def _mutated(rng: Random, text: str, share: float) -> str:
    """The text, or with ``share`` one to three slips of the keyboard in it."""
    for _ in range(rng.randint(1, 3) if rng.random() < share else 0):
        at, length = rng.randrange(len(text) + 1), rng.choice([0, 1, 1, 2, 9])
        put = rng.choice(["", rng.choice(CHARACTERS), text[at : at + rng.randint(1, 20)] * rng.randint(1, 3)])
        text = text[:at] + put + text[at + length :]
    return text


@cache
def _named(name: str) -> Puzzle:
    return load(name)


def _puzzle(name: str) -> Puzzle | None:
    try:
        return _named(name) if name in NAMED + LARGER else load(name)
    except OddswapError:
        return None


def _sequence(rng: Random, name: str) -> str:
    """Turns that the puzzle makes, with brackets, powers and commutators."""
    puzzle = _puzzle(name)
    moves = [*puzzle.turns][:40] if puzzle else ["R", "U"]
    if name.startswith("wedges"):
        moves = ["/", "(3, 0)", "(3, -3) /", "(0, 6) /"]
    if puzzle and not puzzle.steady and not name.startswith("wedges"):
        return _slides(rng, puzzle)

    def part(depth: int) -> str:
        some = [rng.choice(moves) for _ in range(rng.randint(1, 4))]
        if depth and rng.random() < 0.3:
            one, other = part(depth - 1), part(depth - 1)
            some.append(rng.choice([f"[{one}, {other}]", f"[{one}: {other}]", f"({one}){rng.randint(1, 4)}", f"({one})'"]))
        return " ".join(some)

    return part(2) if rng.random() < 0.9 else rng.choice(["", "Rw 2L", "front clockwise", "x R' y", "M E S", "3Rw2", "U3 U0"])


def _slides(rng: Random, puzzle: Puzzle) -> str:
    """A walk of the blank; seldom to where it is."""
    state, walk = puzzle.solved, []
    for _ in range(rng.randint(0, 8)):
        step = rng.choice([name for name in puzzle.slots if _slid(puzzle, state, name) is not None])
        state = _slid(puzzle, state, step)
        walk.append(step)
    return " ".join(walk + [rng.choice(puzzle.slots)] * (rng.random() < 0.05))


def _slid(puzzle: Puzzle, state: object, step: str) -> object | None:
    try:
        return puzzle.follow(step, state)
    except OddswapError:
        return None


def _change(rng: Random, name: str) -> str:
    puzzle = _puzzle(name)
    kinds = [kind.slots for kind in puzzle.kinds] if puzzle else [("a", "b", "c")]
    slots = rng.choice(kinds)
    some = rng.sample(slots, min(len(slots), rng.randint(2, 3)))
    twist = puzzle.kind_of[puzzle.slot(slots[0])].twist if puzzle else 2
    turned = [(f"+{rng.randrange(1, twist)}" if twist > 1 and rng.random() < 0.2 else "") + " " for _ in some]
    moved = "".join(slot + turn for slot, turn in zip(some, turned, strict=True)).strip()
    one = rng.choice(slots)
    way = rng.choice(["cw", "ccw", "half"])
    moving = f"{'swap' if len(some) == 2 else 'cycle'} {moved}" if len(some) > 1 else f"flip {one}"
    in_place = {1: moving, 2: f"flip {one}", 3: f"twist {one} {way.replace('half', 'cw')}"}.get(twist, f"turn {one} {way}")
    return rng.choice([moving, in_place]) if rng.random() < 0.95 else f"twist {one} {way}"


def _rows(rng: Random, size: int) -> dict:
    """Faces of a cube of that size, solved but for some stickers."""
    stickers = {face: [face] * size**2 for face in FACES}
    for _ in range(rng.randint(0, 3)):
        (one, i), (other, j) = ((rng.choice(FACES), rng.randrange(size**2)) for _ in range(2))
        stickers[one][i], stickers[other][j] = stickers[other][j], stickers[one][i]
    for _ in range(rng.randint(0, 2)):
        stickers[rng.choice(FACES)][rng.randrange(size**2)] = rng.choice(["?", "U|F", "red", "F|?"])
    shown = rng.sample(FACES, rng.choice([2, 3, 6, 6]))
    return {f: {"rows": [" ".join(stickers[f][at : at + size]) for at in range(0, size**2, size)]} for f in shown}


def _slots(rng: Random, name: str) -> dict:
    puzzle = _puzzle(name)
    if puzzle is None:
        return {"a": "b"}
    chosen = rng.sample(range(len(puzzle.slots)), min(len(puzzle.slots), rng.randint(1, 4)))
    ways = {1: [""], 2: ["", " flipped"], 3: ["", " twisted cw", "+1"]}
    shows = {
        puzzle.slots[i]: rng.choice(k.slots) + rng.choice(ways.get(k.twist, ["", " turned half"]))
        for i, k in _kinds(puzzle, chosen)
    }
    return {slot: rng.choice([said, said, said, "?", "foreign", f"{said}|{slot}"]) for slot, said in shows.items()}


def _kinds(puzzle: Puzzle, slots: list[int]) -> list[tuple]:
    return [(number, puzzle.kind_of[number]) for number in slots]


def _look(rng: Random, name: str) -> dict:
    """What is seen, in one of the ways of saying it."""
    how = rng.randrange(5)
    if how == 0 and name in ("cube:2", "cube:3"):
        return {"seen": _rows(rng, int(name[-1]))}
    if how == 1:
        return {"slots": _slots(rng, name)}
    told = {} if how == 2 else {"changes": [_change(rng, name) for _ in range(rng.randint(1, 2))]}
    return told | ({"after": _sequence(rng, name)} if how != 3 else {})


def _held(rng: Random) -> str:
    return rng.choice(["U up, F in front", "red up, W in front", "F on top, R towards me", "U up", "wherever"])


def _ticket(rng: Random, name: str) -> dict:
    data = {"puzzle": name, **_look(rng, name)}
    optional = {
        "note": lambda: "".join(rng.choice(CHARACTERS[:-4]) for _ in range(9)),
        "then": lambda: [_message(rng, name) for _ in range(rng.randint(1, 2))],
    }
    faces = {
        "colours": lambda: dict(zip(rng.sample(FACES, 3), rng.sample(COLOURS, 3), strict=True)),
        **({"held": lambda: _held(rng)} if name in ("cube:3", "cuboid:1x2x3") else {}),
        "turns": lambda: rng.choice(["all", "half", ["R2", "U"]]),
        "copy": lambda: rng.choice(["all", "half", ["R2", "U"]]),
        "notation": lambda: {"reverse": rng.choice([["i"], ["-"], ["'", "i"]]), "leading_number": rng.choice(["twice", "slab"])},
        "mine": lambda: {"colours": {"U": rng.choice(COLOURS)}, "turns": rng.choice(["all", "half", ["R", "U2"]])},
    }
    optional |= {"elsewhere": lambda: rng.choice(["in place", "turned"])} if "slots" in data or "seen" in data else {}
    optional |= faces if name.startswith("cu") or rng.random() < 0.1 else {}
    return data | {key: make() for key, make in optional.items() if rng.random() < 0.12}


def _message(rng: Random, name: str) -> dict:
    said = {"did": _sequence(rng, name)} if rng.random() < 0.6 else {}
    look = _look(rng, name) if not said or rng.random() < 0.6 else {}
    look |= {"sent": _sequence(rng, name)} if rng.random() < 0.2 else {}
    return said | (look if rng.random() < 0.9 else {"postcard": rng.choice(["odd1;cube:2;AGRJNXNFYAAEH2KB", "odd1;tiles:2x3;"])})


def _own(rng: Random, path: Path) -> str:
    """A file of moves, or of a graph."""
    path.write_text(_mutated(rng, tomli_w.dumps(_moves(rng) if rng.random() < 0.7 else _graph(rng)), 0.1), "utf-8")
    return f"custom:{path}"


def _moves(rng: Random) -> dict:
    kinds, cycles = [], {name: "" for name in "abc"[: rng.randint(1, 3)]}
    for letter in "ABC"[: rng.randint(1, 3)]:
        slots, twist = [f"{letter}{i}" for i in range(1, rng.randint(2, 6) + 1)], rng.choice([1, 1, 2, 3])
        kind = {"name": f"kind {letter}", "slots": " ".join(slots)} | ({"twist": twist} if twist > 1 else {})
        if rng.random() < 0.5:
            every = [f"look {i}" for i in range(twist)] if rng.random() < 0.9 else ["one", "one", "two"][:twist]
            kind["looks"] = {slot: rng.choice([every, "red"]) for slot in rng.sample(slots, rng.randint(1, len(slots)))}
        if rng.random() < 0.1:
            kind["hands"] = twist * 2
        kinds.append(kind)
        for name in cycles:
            if rng.random() < 0.8:
                some = rng.sample(slots, rng.randint(2, len(slots)))
                turns = [
                    f"+{rng.randrange(1, twist)}" if i and twist > 1 and rng.random() < 0.3 else "" for i in range(len(some))
                ]
                cycles[name] += f"({' '.join(map(str.__add__, some, turns))})"
    data = {"moves": {name: moves or "(A1 A2)" for name, moves in cycles.items()}, "kind": kinds}
    if rng.random() < 0.2:
        data |= {"title": rng.choice(["two wheels", "", "é"]), "colours": {"red": "#D55E00"}}
    return data


def _graph(rng: Random) -> dict:
    nodes = "abcdefg"[: rng.randint(3, 7)]
    edges = {f"{nodes[rng.randrange(i)]}-{nodes[i]}" for i in range(1, len(nodes))}
    for _ in range(rng.randint(0, 3)):
        one, other = sorted(rng.sample(nodes, 2))
        edges.add(f"{one}-{other}")
    looks = {node: rng.choice(["red", "blue", node]) for node in nodes[1:] if rng.random() < 0.5}
    graph = {"edges": " ".join(sorted(edges)), "blank": nodes[0]} | ({"looks": looks} if looks else {})
    return (
        {"graph": graph, "places": {node: [i, i % 2] for i, node in enumerate(nodes)}} if rng.random() < 0.3 else {"graph": graph}
    )
