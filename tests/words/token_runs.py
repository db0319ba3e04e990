"""Answers of all kinds as plain data, in a process of its own: with their sentences, or with a random token for each of them.

Run as ``python -m tests.words.token_runs sentences|tokens STEP``; a line of JSON for every STEP-th answer, without what is prose.
"""

import json
import sys
from importlib import import_module
from pathlib import Path
from random import Random
from secrets import token_hex

from oddswap.describing.changes import changed
from oddswap.describing.sights import every_look
from oddswap.describing.tickets import read_ticket
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.answers import first_answer, with_ways
from oddswap.reasoning.budget import Budget
from oddswap.showing.pages.report import answer_data
from oddswap.values.position import Appearance
from oddswap.words import table

COUNT = 200
TICKETS = sorted((Path(__file__).parents[2] / "notebooks" / "tickets").rglob("*.toml"))
PUZZLES = (
    *("cube:2", "cube:3", "cube:3,centres=marked", "cube:3,turns=half", "cube:4", "shape-mod:prism8", "corner-cube"),
    *("tetrahedron", "tiles:2x3", "tiles:3x3", "loop:6,window=4", "cuboid:2x2x4,turns=half", "cuboid:2x3x4"),
)
SMALL = {"cube:2", "tetrahedron", "tiles:2x3", "loop:6,window=4"}
"""A shortest way is found at once on these, from anywhere."""
PROSE = {"assumptions", "notes", "ask_next", "words", "others", "cautions", "statement", "counting", "reason"}
OF_FINDINGS = {"assumptions", "notes", "ask_next", "statement"}
"""Prose that is made of nothing but findings."""


class Token(str):
    """What stands for a sentence or a name: new each time that it is asked for."""


def put_tokens() -> None:
    """Let every function that makes the text of a finding, or a short name, return a token."""
    for subject in table.SUBJECTS:
        import_module(f"oddswap.words.{subject}")
    for functions in (table._SENTENCES, table._NAMES):
        for kind in functions:
            functions[kind] = lambda thing: Token(token_hex(8))
    table._Fields.format = lambda *_: Token(token_hex(8))


def told(number: int):
    """The answer of that number: tickets first, then positions drawn by their numbers: turned, changed by hand, or half seen."""
    if number < len(TICKETS):
        ticket = read_ticket(TICKETS[number])
        first = first_answer(ticket.puzzle, ticket.appearance)
        short = first.diagnosis.explanation is not None and ticket.puzzle.name in SMALL
        return with_ways(first, Budget()) if short else first
    rng = Random(f"answer {number}")
    name = PUZZLES[number % len(PUZZLES)]
    puzzle, sort = load(name), rng.choice(("turned", "changed", "changed", "both", "both", "half seen", "half seen", "foreign"))
    moves = [rng.choice(list(puzzle.turns)) for _ in range(2)] if sort in ("turned", "both") and puzzle.blank is None else []
    state = changed(puzzle, [] if sort == "turned" else [by_hand(puzzle, rng)], puzzle.follow(" ".join(moves)))
    sights = list(puzzle.appearance(state).sights)
    for slot in rng.sample(range(len(sights)), min(len(sights), rng.choice((1, 3, 8)))):
        if sort in ("half seen", "foreign"):
            sights[slot] = every_look(puzzle, slot) if sort == "half seen" else frozenset()
    first = first_answer(puzzle, Appearance(puzzle.name, tuple(sights)))
    return with_ways(first, Budget()) if name in SMALL or (sort == "turned" and first.verdict == "ordinary") else first


def by_hand(puzzle, rng: Random) -> str:
    """A change of one kind of pieces."""
    kind = rng.choice([kind for kind in puzzle.kinds if len(kind.slots) > 2 or kind.twist > 1])
    slots = rng.sample([slot for slot in kind.slots if puzzle.slot(slot) != puzzle.blank], min(len(kind.slots) - 1, 3) or 1)
    turn = {2: f"flip {slots[0]}", 3: f"twist {slots[0]} cw", 4: f"turn {slots[0]} cw"}.get(kind.twist)
    swap = [f"swap {slots[0]} {slots[1]}"] if len(slots) > 1 else []
    return rng.choice([*swap, *([f"cycle {' '.join(slots)}"] if len(slots) > 2 else []), *([turn] if turn else [])])


def without_prose(data, key: str = ""):
    """Data in which each sentence, and each name of a law or a quantity, is an empty text."""
    if isinstance(data, dict):
        named = {"name"} if {"statement", "before"} & data.keys() else set()
        return {k: without_prose("" if k in named else v, k) for k, v in data.items()}
    if isinstance(data, list):
        return [without_prose(part, key) for part in data]
    return "" if isinstance(data, str) and key in PROSE | {"before", "after"} else data


def sentences_of(data, key: str = "") -> list[str]:
    """Every text that is to be made of nothing but findings."""
    if isinstance(data, dict):
        return [text for k, v in data.items() for text in sentences_of(v, k)]
    if isinstance(data, list):
        return [text for part in data for text in sentences_of(part, key)]
    return [data] if isinstance(data, str) and key in OF_FINDINGS else []


if __name__ == "__main__":
    tokens, step = sys.argv[1] == "tokens", int(sys.argv[2])
    if tokens:
        put_tokens()
    for number in range(0, COUNT, step):
        data = answer_data(told(number))
        made = sum(isinstance(text, Token) for text in sentences_of(data))
        print(json.dumps({"number": number, "data": without_prose(data), "said": len(sentences_of(data)), "tokens": made}))
