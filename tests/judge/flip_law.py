"""A second opinion on a proof file by a proof assistant: ``python -m tests.judge.flip_law proof.json >flips.v && coqc flips.v``.

``flip_law.v`` proves the flip law of three slabs for all sequences of turns, from integer vectors. What a ticket adds comes from
its proof file: which edge looks flipped, which edges may be, too, and turns that lead there and back. It is run by hand.
"""

from __future__ import annotations

import json
import sys
from itertools import count, product
from pathlib import Path
from string import Template

from tests.judge.proof_reader import Thing

PROVED = Path(__file__).with_suffix(".v")


def statements(proof: dict) -> str:
    """The whole file for a proof of one edge that looks flipped, where each culprit is one more."""
    thing = Thing(proof)
    named = dict(enumerate(thing.names))
    (wrong,) = (s for s, looks in enumerate(thing.shows) if proof["seen"][s] != looks[:1])
    culprits = [piece for (piece,) in proof["culprits"]]
    set_ups = {c: alone(thing, proof, wrong, c, culprits) for c in culprits}
    return Template(PROVED.read_text("utf-8")).substitute(
        wrong=place(named[wrong]),
        culprits=";\n  ".join(f"({place(named[c])}, {word(moves)})" for c, moves in set_ups.items()),
        ways=";\n  ".join(map(word, proof["ways"])),
    )


def alone(thing: Thing, proof: dict, wrong: int, culprit: int, culprits: list[int]) -> str:
    """Moves that flip one culprit beside the edge that looks ``wrong``; those of the proof may flip three of the four."""
    start = thing.replay(proof)
    ways = {c: thing.at[start[thing.label[c, 0]]][1] for c in culprits}
    odd = 1 if sum(ways.values()) == 1 else 0
    (marked,) = (c for c in culprits if ways[c] == odd)
    turns = [carried(thing, {wrong: wrong, c: marked}, culprits) for c in culprits if (c == culprit) == odd]
    return " ".join(f"{there} {proof['set_up']} {inverse(there)}" for there in turns)


def carried(thing: Thing, wanted: dict[int, int], culprits: list[int]) -> str:
    """The first of the shortest sequences that takes edges where they are ``wanted``, and culprits to places of culprits."""
    for there in (" ".join(names) for length in count() for names in product(sorted(thing.moves), repeat=length)):
        ends = thing.after(there, thing.solved)
        to = {slot: thing.at[ends[thing.label[slot, 0]]][0] for slot in (*wanted, *culprits)}
        if wanted.items() <= to.items() and {to[c] for c in culprits} == {*culprits}:
            return there
    raise AssertionError


def inverse(moves: str) -> str:
    opposite = {"": "'", "'": "", "2": "2"}
    return " ".join(name[0] + opposite[name[1:]] for name in reversed(moves.split()))


def word(moves: str) -> str:
    """Quarter turns, one by one."""
    times = {"": 1, "2": 2, "'": 3}
    return f"[{'; '.join(name[0] for name in moves.split() for _ in range(times[name[1:]]))}]"


def place(slot: str) -> str:
    return f"between {slot[0]} {slot[1]}"


if __name__ == "__main__":
    print(statements(json.loads(Path(sys.argv[1]).read_text("utf-8"))), end="")
