"""A visitor who looks at a puzzle in their hands and writes a ticket: colours row by row, or piece by piece."""

from __future__ import annotations

import random
from itertools import product

import numpy as np

from tests.judge.cells import AXES, HOLDINGS, Held, Painted, Place, clockwise, direction

COLOURS = "white gold tomato orange teal navy orchid sienna khaki black plum lime pink peru silver olive cyan maroon".split()
CENTRES = ("", "turned cw", "turned half", "turned ccw")
LOOKED_AT = {"U": "B", "D": "F", "F": "U", "B": "U", "L": "U", "R": "U"}
"""For each face the one beyond its upper edge when it is looked at."""


def painted_by(painted: Painted, dice: random.Random) -> dict[str, str]:
    """A visitor's word for the colour of each facet."""
    facets = list(dict.fromkeys(facet for polygons in painted.cells.values() for facet, _ in polygons))
    return dict(zip(facets, dice.sample(COLOURS, len(facets)), strict=True))


def holdings_of(painted: Painted) -> list[np.ndarray]:
    """The ways to hold it in which it has as many layers each way as its name says."""
    return [r for r in HOLDINGS if (np.abs(r) @ painted.layers == painted.layers).all()]


def rows(held: Held, paint: dict[str, str], face: str) -> list[str]:
    """The colours of a face, row by row, as it is looked at."""
    layers, out, up = held.painted.layers, direction(face), direction(LOOKED_AT[face])
    right = np.cross(up, out)
    high, wide, far = (int(np.abs(v) @ layers) for v in (up, right, out))
    table = []
    for row in range(high):
        places = [out * (far - 1) + up * (high - 1 - 2 * row) + right * (2 * column - wide + 1) for column in range(wide)]
        table.append(" ".join(held.shown(tuple(place.tolist()), face, paint) for place in places))
    return table


def as_it_is(table: dict[str, list[str]]) -> dict[str, list[str]]:
    return table


def mirrored(row: str) -> str:
    return " ".join(reversed(row.split()))


def by_a_mirroring_camera(table: dict[str, list[str]]) -> dict[str, list[str]]:
    """Each face was photographed by itself, and each photograph shows it from right to left."""
    return {face: [mirrored(row) for row in rows] for face, rows in table.items()}


def in_a_mirror(table: dict[str, list[str]]) -> dict[str, list[str]]:
    """The whole puzzle was looked at in a mirror: the left side was taken for the right one, too."""
    told = by_a_mirroring_camera(table)
    return told | {"L": told["R"], "R": told["L"]}


def from_behind(face: str):
    return lambda table: table | {face: [mirrored(row) for row in table[face]]}


def by_one_mirroring_camera(faces: str):
    """One photograph of a corner, face by face from right to left."""
    return lambda table: table | {face: [mirrored(row) for row in table[face]] for face in faces}


def bottom_up(face: str):
    return lambda table: table | {face: table[face][::-1]}


def every_face_bottom_up(table: dict[str, list[str]]) -> dict[str, list[str]]:
    return {face: rows[::-1] for face, rows in table.items()}


def exchanged(one: str, other: str):
    return lambda table: table | {one: table[other], other: table[one]}


def told_by_rows(puzzle: str, held: Held, paint: dict[str, str], faces: str = "UDFBLR", more: str = "", read=as_it_is) -> str:
    """The ticket of a visitor who reads faces row by row, as they hold it; ``read`` is the slip that they make."""
    lines = [f'puzzle = "{puzzle}"', more, "[colours]", *(f'{facet} = "{word}"' for facet, word in paint.items())]
    for face, table in read({face: rows(held, paint, face) for face in faces}).items():
        lines += [f"[seen.{face}]", f"rows = {table}".replace("'", '"')]
    return "\n".join(lines) + "\n"


def name_of(place: Place) -> str:
    """A slot by the faces that it touches; only of three layers each way."""
    return "".join(face for face in "UDFBLR" if place[AXES[face][0]] == 2 * AXES[face][1])


def told_by_pieces(puzzle: str, held: Held, paint: dict[str, str], dice: random.Random, unseen=(), more: str = "") -> str:
    """The ticket of a visitor who says which piece sits where, held as it is named; of what looks the same they name any."""
    lines = [f'puzzle = "{puzzle}"', more, "[colours]", *(f'{facet} = "{word}"' for facet, word in paint.items()), "[slots]"]
    for place in held.painted.cells:
        slot = name_of(place)
        if slot:
            words = "?" if slot in unseen else dice.choice(names_for(held, paint, place))
            lines.append(f'{slot} = "{words}"')
    return "\n".join(lines) + "\n"


def names_for(held: Held, paint: dict[str, str], place: Place) -> list[str]:
    """Every piece, with its way round, that looks like what sits at a place.

    The sticker on the first-named face of the piece shows on the first-named face of the slot, before it is flipped or twisted.
    """
    seen, slot = _look(held, held.at(place), held.rotated[held.at(place)], paint), name_of(place)
    found = []
    for home, rotation in product(held.painted.cells, HOLDINGS):
        if (rotation @ home == place).all() and (len(slot) > 1 or home == place) and _look(held, home, rotation, paint) == seen:
            piece = name_of(home)
            if len(slot) == 1:
                quarters = next(k for k in range(4) if (np.linalg.matrix_power(clockwise(slot), k) == rotation).all())
                found.append(f"{slot} {CENTRES[quarters]}".strip())
                continue
            first = next(k for k, face in enumerate(slot) if (rotation @ direction(piece[0]) == direction(face)).all())
            found.append(" ".join((piece, *([_way(slot, first)] if first else []))))
    return found


def _look(held: Held, home: Place, rotation: np.ndarray, paint: dict[str, str]) -> frozenset:
    return frozenset(
        (frozenset(map(tuple, (np.round(corners @ rotation.T, 4) + 0.0).tolist())), paint[facet])
        for facet, corners in held.painted.cells[home]
    )


def _way(slot: str, first: int) -> str:
    """How a piece is turned whose first-named sticker lies on this face of the slot."""
    if len(slot) == 2:
        return "flipped"
    one, two, three = (direction(face) for face in slot)
    clockwise = float(np.cross(one, two) @ three) < 0
    return "twisted cw" if (first == 1) == clockwise else "twisted ccw"


def told_by_turns(puzzle: str, turns: list[tuple[int, str, int]], dice: random.Random, paint: dict[str, str]) -> str:
    """The ticket of a visitor who writes what they turned, as they write it: (layer, face, quarters), one after the other."""
    mark, twice = dice.choice(("i", "-", "~", "x")), dice.choice((True, False)) and all(layer == 1 for layer, _, _ in turns)
    words = []
    for layer, face, quarters in turns:
        number = 2 if quarters == 2 and twice else layer if layer > 1 else ""
        words.append(f"{number}{face}{'2' if quarters == 2 and not twice else mark if quarters == 3 else ''}")
    notation = ["[notation]", f'reverse = ["{mark}"]', f'leading_number = "{"twice" if twice else "slab"}"']
    colours = ["[colours]", *(f'{facet} = "{word}"' for facet, word in paint.items())]
    return "\n".join([f'puzzle = "{puzzle}"', f'after = "{" ".join(words)}"', *notation, *colours]) + "\n"


def told_in_words(puzzle: str, turns: list[tuple[int, str, int]], dice: random.Random, paint: dict[str, str]) -> str:
    """The ticket of a visitor who says what they turned, side by side."""
    sides = {"U": "top", "D": "bottom", "F": "front", "B": "back", "L": "left", "R": "right"}
    ways = {1: ("clockwise",), 2: ("half round", "half a turn"), 3: ("anticlockwise", "counterclockwise")}
    said = [f"{dice.choice(('', 'the '))}{sides[f]}{dice.choice((' ', ' side '))}{dice.choice(ways[q])}" for _, f, q in turns]
    colours = ["[colours]", *(f'{facet} = "{word}"' for facet, word in paint.items())]
    return "\n".join([f'puzzle = "{puzzle}"', f'after = "{dice.choice((", ", ", then ")).join(said)}"', *colours]) + "\n"
