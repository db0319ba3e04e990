"""How to hold a puzzle, said by the visitor's own colours."""

from collections.abc import Mapping

from oddswap.describing.stickers import stickers
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.values.appearance import Appearance
from oddswap.values.grammar import listed
from oddswap.values.holding import START, Holding

CORNER = ("U", "F", "R")


def hold_words(puzzle: Puzzle, seen: Appearance, holding: Holding, colours: Mapping[str, str]) -> str:
    """Say how to hold what is ``seen``, as an order; ``colours`` are the visitor's words for the colours of facets.

    By the pieces in the middle of the top and of the front, where these never leave them; else by the corner between; and by the
    names that the visitor used where they name no colours.

    >>> from oddswap.puzzles.catalogue import load
    >>> from oddswap.values.holding import START
    >>> cube, colours = load("cube:3"), dict(zip("UDFBLR", "white gold red pink teal navy".split()))
    >>> hold_words(cube, cube.appearance(cube.solved), START.turned("y"), colours)
    'Hold it white on top, navy towards you'
    """
    if not puzzle.alphabet.is_box:
        return "Hold it as you described it"
    said = "Hold it as you described it, with " if holding == START else "Hold it with the side that you called "
    return (
        _by_middles(puzzle, holding, colours)
        or _by_corner(puzzle, seen, holding, colours)
        or f"{said}{holding.own('U')} on top and {holding.own('F')} towards you"
    )


def _by_middles(puzzle: Puzzle, holding: Holding, colours: Mapping[str, str]) -> str:
    """The colours of the middle pieces of top and front; empty unless each is alone in having its colours."""
    if puzzle.rotations or not set("UF") <= set(puzzle.slots):
        return ""
    geometry, faces = puzzle.geometry, (face for face in puzzle.alphabet.faces if face in puzzle.slots)
    shown = {face: geometry.paints_of(geometry.bodies[puzzle.slot(face)]) for face in faces}
    words = []
    for face in ("U", "F"):
        own = shown.get(holding.own(face))
        if not own or not own <= set(colours) or list(shown.values()).count(own) > 1:
            return ""
        words.append(listed(colours[facet] for facet in sorted(own)))
    return f"Hold it {words[0]} on top, {words[1]} towards you"


def _by_corner(puzzle: Puzzle, seen: Appearance, holding: Holding, colours: Mapping[str, str]) -> str:
    """The colours of the corner between top, front and right; empty unless they are seen, and all three differ."""
    table, faces = stickers(puzzle), [holding.own(face) for face in CORNER]
    slot = next((b for b, name in enumerate(puzzle.slots) if sorted(name) == sorted(faces)), None)
    if table is None or slot is None:
        return ""
    looks = {table.shown[slot, label] for label in puzzle.kind_of[slot].labels if puzzle.looks[label] in seen.sights[slot]}
    if len(looks) != 1:
        return ""
    shown = dict(zip(puzzle.slots[slot], looks.pop(), strict=True))
    words = [colours.get(shown[face], "") for face in faces]
    if not all(words) or len(set(words)) < len(words):
        return ""
    return f"Hold it so that the {listed(words)} corner is at the top front right, with {words[0]} on top"
