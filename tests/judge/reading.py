"""A person who reads a reply with the puzzle in their hands: takes it as the reply says, and turns what it says."""

from __future__ import annotations

import re

from tests.judge.cells import AXES, HOLDINGS, Held, Place, direction

HOLD = re.compile(r"[Hh]old it ([^.:;`]*? on top[^.:;`]*)")
TOP_AND_FRONT = re.compile(r"(?P<top>.+?) on top,? (?:and )?(?P<front>.+?) towards you")
AS_DESCRIBED = "as you described it, with U on top and F towards you"
BY_A_CORNER = re.compile(r"so that the (?P<corner>.+?) corner is at the top front right,? with (?P<top>.+?) on top")

FOUND = re.compile(r"Find the (?P<corner>[^.:;`]+?) corner[\W\d]+Hold it at the top front right, with (?P<top>[^.:;`]+?) on top")


def play(reply: str, held: Held, paint: dict[str, str]) -> Held:
    """What the puzzle is like after doing what a reply says. `ValueError` for a reply that cannot be followed."""
    return taken_up(reply, held, paint).turned(moves_of(reply))


def promises(reply: str) -> bool:
    """Whether a reply gives moves to make."""
    return bool(_lines(reply))


def moves_of(reply: str) -> str:
    """The moves: they stand alone in their lines. `ValueError` where there are none."""
    if not promises(reply):
        raise ValueError("it gives no moves")
    return " ".join(_lines(reply))


def _lines(reply: str) -> list[str]:
    return [line.strip().strip("`") for line in reply.splitlines() if re.fullmatch(r"`[^`]+`", line.strip())]


def taken_up(reply: str, held: Held, paint: dict[str, str]) -> Held:
    """The puzzle held as a reply says, ``held`` as it was when it was described.

    `ValueError` unless it says exactly one way, by colours that the puzzle has.
    """
    found = HOLD.search(reply)
    if not found:
        raise ValueError("it does not say how to hold the puzzle")
    words = " ".join(found[1].split())
    if words.startswith(AS_DESCRIBED):
        return held
    if by := FOUND.search(reply) or BY_A_CORNER.search(words):
        fitting = [turned for turned in every_way(held) if _has_corner(turned, paint, _colours(by["corner"]), by["top"])]
    elif by := TOP_AND_FRONT.search(words):
        wanted = {"U": _colours(by["top"]), "F": _colours(by["front"])}
        fitting = [turned for turned in every_way(held) if all(middle_of(turned, paint, face) == c for face, c in wanted.items())]
    else:
        raise ValueError(f"nobody can hold it {words}")
    if len(fitting) != 1:
        raise ValueError(f"there are {len(fitting)} ways to hold it {words}")
    return fitting[0]


def every_way(held: Held) -> list[Held]:
    """The puzzle in each holding in which it stands as the hands count its layers."""
    layers = held.painted.layers
    return [held.moved(r) for r in HOLDINGS if (abs(r) @ layers == layers).all()]


def _colours(words: str) -> frozenset[str]:
    return frozenset(re.split(r", | and |-", words.removeprefix("the ")))


def colours_at(held: Held, place: Place, paint: dict[str, str]) -> frozenset[str]:
    """The colours of the block at a place; none where there is no block, as on a box out of its shape."""
    lying = (home for home in held.rotated if held.place(home) == place)
    return frozenset(paint[facet] for home in lying for facet, _ in held.painted.cells[home])


def middle_of(held: Held, paint: dict[str, str], face: str) -> frozenset[str]:
    """The colours of the piece in the middle of a face; empty where a face has no middle piece."""
    place = (direction(face) * (held.painted.layers[AXES[face][0]] - 1)).tolist()
    if any(n % 2 == 0 for axis, n in enumerate(held.painted.layers) if axis != AXES[face][0]):
        return frozenset()
    return colours_at(held, tuple(place), paint)


def _has_corner(held: Held, paint: dict[str, str], colours: frozenset[str], top: str) -> bool:
    x, y, z = held.painted.layers
    corner = (x - 1, y - 1, z - 1)
    return colours_at(held, corner, paint) == colours and held.shown(corner, "U", paint) == top


def spelled_out(text: str) -> str:
    """Moves without brackets: (A B)2 twice, [A, B] there and back crosswise, [A: B] between a turn and its undoing."""
    while found := re.search(r"[\[(]([^\[\]()]*)[\])](\d*)('?)", text):
        parts = [part.strip() for part in re.split(r"[,:]", found[1])]
        word = parts[0]
        if len(parts) == 2:
            one, two = parts
            word = f"{one} {two} {backwards(one)}" + (f" {backwards(two)}" if "," in found[1] else "")
        word = " ".join([backwards(word) if found[3] else word] * int(found[2] or 1))
        text = f"{text[: found.start()]}{word}{text[found.end() :]}"
    return text


def backwards(moves: str) -> str:
    """What undoes moves."""
    return " ".join(m if m.endswith("2") else m.removesuffix("'") if m.endswith("'") else f"{m}'" for m in moves.split()[::-1])
