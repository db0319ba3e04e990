"""What the letters of moves mean, said once below the moves that they stand in."""

import re
from collections.abc import Iterable, Iterator

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.shaped.locking import WedgePuzzle
from oddswap.values.grammar import capital, listed, number_word, ordinal
from oddswap.values.sequence import FACES, MIDDLES, ROTATIONS, Step
from oddswap.words.texts import TEXTS

LAYERS = {"U": "top", "D": "bottom", "F": "front", "B": "back", "L": "left", "R": "right"}
SIDES = {face: f"the {word}" for face, word in LAYERS.items()}
WEDGE_KEY = TEXTS["said once"]["wedges"]
TILE = re.compile(r"r(\d+)c(\d+)")
"""The name of a tile by its row and column."""
FEW = 2
"""So many tiles are explained one by one."""
SEVERAL = 2
"""So many inner layers are explained one by one."""


def letters_explained(puzzle: Puzzle, moves: str) -> str:
    """Say what each letter and sign in ``moves`` means, as somebody reads them who never saw any.

    >>> from oddswap.puzzles.catalogue import load
    >>> letters_explained(load("cube:3"), "R U'")
    "U is the top layer, R right. A letter is a quarter turn clockwise, facing that side; with ', anticlockwise."
    """
    steps = puzzle.read(moves).steps
    if not puzzle.alphabet.is_box:
        return _of_other_puzzles(puzzle, steps)
    outer = [face for face in FACES if any(step.stem == face and step.last == 1 for step in steps)]
    whole = [f"{face} is the {LAYERS[face]} layer" if face == outer[0] else f"{face} {LAYERS[face]}" for face in outer]
    sentences = [f"{', '.join(whole)}."] if whole else []
    sentences += filter(None, [_of_names(steps)])
    return " ".join([*sentences, _amounts(steps, {step.amount for step in steps})])


def names_explained(puzzle: Puzzle, moves: Iterable[str | None]) -> str:
    """Say what the names of turns mean that are not a single letter, of what is no outer layer; empty where there are none.

    >>> from oddswap.puzzles.catalogue import load
    >>> names_explained(load("cube:3"), ["R 2F2", "M' U"])
    '2F is the second layer from the front, alone. M is the middle layer, and turns the way L does.'
    """
    if not puzzle.alphabet.is_box:
        return ""
    return _of_names(tuple(step for text in moves if text for step in puzzle.read(text)))


def move_aloud(puzzle: Puzzle, name: str) -> str:
    """A move as it is read to somebody who sees neither the puzzle nor the letters.

    >>> from oddswap.puzzles.catalogue import load
    >>> [move_aloud(load("cube:3"), name) for name in ("R'", "2F2", "2Rw")]
    ['right layer, anticlockwise', 'second layer from the front, half a turn', 'two layers at the right together, clockwise']
    """
    if puzzle.blank is not None:
        return tile_words(name)
    step = puzzle.read(name).steps[0]
    if not puzzle.alphabet.is_box or step.stem not in LAYERS:
        return next(_special([step]), name) if puzzle.alphabet.is_box else name
    layer = f"{LAYERS[step.stem]} layer" if step.last == 1 else f"{ordinal(step.first)} layer from {SIDES[step.stem]}"
    if step.first < step.last:
        layer = f"{number_word(step.last)} layers at {SIDES[step.stem]} together"
    return f"{layer}, {'half a turn' if abs(step.amount) == 2 else 'clockwise' if step.amount > 0 else 'anticlockwise'}"


def _of_names(steps: Iterable[Step]) -> str:
    special = list(dict.fromkeys(_special(steps)))
    if len(special) > SEVERAL:
        special = list(dict.fromkeys(filter(None, map(_in_general, steps))))
    return " ".join(f"{capital(words)}." for words in special)


def _special(steps: Iterable[Step]) -> Iterator[str]:
    """What turns where it is not just an outer layer."""
    for step in steps:
        face, further = step.stem[0], len(step.stem) - 1
        if face in MIDDLES:
            yield f"{step.name} is the middle layer, and turns the way {MIDDLES[face]} does"
        elif face not in FACES:
            yield f"with {step.name} the whole puzzle turns the way {ROTATIONS[face]} does"
        elif further:
            beyond = "" if further == 1 else f", {number_word(further)} layers out"
            yield f"{step.name} is what sticks out beyond {SIDES[face]}{beyond}"
        elif step.first > 1:
            yield f"{step.name} is the {ordinal(step.first)} layer from {SIDES[face]}, alone"
        elif step.last > 1:
            yield f"{step.name} is the {number_word(step.last)} layers at {SIDES[face]}, together"


def _in_general(step: Step) -> str:
    """What a way of writing means, for any side."""
    if step.stem[0] not in FACES or len(step.stem) > 1:
        return next(_special([step]))
    if step.first > 1:
        return f"a {step.first} before a letter is that side's {ordinal(step.first)} layer alone"
    return f"a letter with w is {number_word(step.last)} layers at that side, together" if step.last > 1 else ""


def _amounts(steps: Iterable[Step], amounts: set[int]) -> str:
    """What stands behind a letter."""
    if {abs(amount) for amount in amounts} == {2}:
        return "A 2 behind a letter is a half turn."
    parts = ["A letter is a quarter turn clockwise, facing that side"] if 1 in amounts else []
    if -1 in amounts:
        parts.append("with ', anticlockwise" if parts else "A letter with ' is a quarter turn anticlockwise, facing that side")
    if 2 in amounts:
        parts.append("with 2 behind it, a half turn")
    return f"{'; '.join(parts)}."


def _of_other_puzzles(puzzle: Puzzle, steps: tuple[Step, ...]) -> str:
    """Of a solid whose sides have names of their own, of wedges, and of flat puzzles."""
    if isinstance(puzzle, WedgePuzzle):
        return WEDGE_KEY.format(puzzle.units)
    names = list(dict.fromkeys(step.name for step in steps))
    if puzzle.blank is not None:
        return " ".join(f"{name} is {tile_words(name)}." for name in names) if len(names) <= FEW else _tile_rule(names[0])
    if puzzle.geometry is None:
        back = "; with ', the other way" if any(step.amount < 0 for step in steps) else ""
        return f"The picture shows what {listed(names)} move{'s' if len(names) == 1 else ''}{back}."
    parts = [
        f"The picture shows where {listed(names)} {'is' if len(names) == 1 else 'are'}. "
        "A name is one step clockwise, facing that side"
    ]
    if any(step.amount < 0 for step in steps):
        parts.append("with ', anticlockwise")
    if any(abs(step.amount) > 1 for step in steps):
        parts.append("with a number behind it, so many steps")
    return f"{'; '.join(parts)}."


def _tile_rule(name: str) -> str:
    """What the names of tiles mean, by the example of one."""
    if not TILE.fullmatch(name):
        return "The picture shows where they lie."
    return f"A name gives the row from the top and the column from the left: {name} is {tile_words(name)}."


def tile_words(name: str) -> str:
    """What lies in a slot of a puzzle with a blank: a tile by its row and column.

    >>> tile_words("r2c3")
    'the tile in row 2, column 3'
    """
    place = TILE.fullmatch(name)
    return f"the tile in row {place[1]}, column {place[2]}" if place else f"what lies at {name}"


def moving_word(puzzle: Puzzle) -> str:
    """What one does with a puzzle: turning or sliding."""
    return "turning" if puzzle.blank is None else "sliding"


def allowed_words(puzzle: Puzzle) -> str:
    """What the allowed moves are called, where others are needed."""
    return f"{moves_word(puzzle)} that {'you named' if puzzle.chosen else 'keep its shape'}"


def moves_word(puzzle: Puzzle) -> str:
    """What its moves are called."""
    return "turns" if puzzle.geometry else "moves"


def moves_introduced(puzzle: Puzzle) -> str:
    """What stands before the moves of a flat puzzle, which is held in one way only; empty for others."""
    if puzzle.geometry:
        return ""
    return (
        "Slide these into the gap, one after the other" if puzzle.blank is not None else "Make these moves, one after the other"
    )
