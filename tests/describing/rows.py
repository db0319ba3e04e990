"""How the faces of a cube are read row by row, and the colours of a cube moved in space."""

import random

from tests.common import vectors

FACES = {
    "U": "UBL UB UBR / UL U UR / UFL UF UFR",
    "D": "DFL DF DFR / DL D DR / DBL DB DBR",
    "F": "UFL UF UFR / FL F FR / DFL DF DFR",
    "B": "UBR UB UBL / BR B BL / DBR DB DBL",
    "L": "UBL UL UFL / BL L FL / DBL DL DFL",
    "R": "UFR UR UBR / FR R BR / DFR DR DBR",
}
"""Read off a cube in the hands: U with B at the top, D with F at the top, the others with U at the top."""


def mixed(slabs: int, length: int, seed: object) -> tuple[str, dict]:
    """So many random turns as text, and the colours after them in the model of integer vectors."""
    rng, words, state = random.Random(seed), [], vectors.solved(slabs)
    for _ in range(length):
        face, amount = rng.choice("UDFBLR"), rng.choice((1, 2, 3))
        words.append(face + {1: "", 2: "2", 3: "'"}[amount])
        state = vectors.turned(state, face, amount)
    return " ".join(words), state


def rows_of(state: dict) -> dict[str, list[str]]:
    """The rows of each face, a letter for each sticker."""
    return {
        face: [" ".join(state[vectors.position(slot), vectors.VECTORS[face]] for slot in row.split()) for row in rows]
        for face, rows in ((face, text.split(" / ")) for face, text in FACES.items())
    }
