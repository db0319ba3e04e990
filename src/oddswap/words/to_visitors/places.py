"""Where a piece sits, what looks wrong, and how to hold it, as somebody says it who has the puzzle: by no letter."""

import re
from collections.abc import Mapping, Sequence

from oddswap.describing.sights import FOREIGN, sight_words
from oddswap.describing.stickers import stickers
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.values.grammar import capital, listed, number_word, ordinal, singular
from oddswap.values.position import START, Appearance, Arrangement, Holding
from oddswap.values.sequence import FACES, OPPOSITE
from oddswap.words.table import Reader
from oddswap.words.texts import TEXTS
from oddswap.words.to_visitors.moves import LAYERS, TILE, tile_words

FAMILIES = TEXTS["families"]
"""What a family of pieces is called by whoever has no word for it."""


def family_words(puzzle: Puzzle, family: str) -> str:
    """What a family of pieces is called, where no other family of the puzzle would be called so; else its name."""
    families = {kind.family for kind in puzzle.kinds}
    words = FAMILIES.get(family, family)
    return words if sum(FAMILIES.get(other, other) == words for other in families) == 1 else family


def place_words(puzzle: Puzzle, slot: str, holding: Holding) -> str:
    """Say where a slot is as the puzzle is held, with its article; slots of other solids and flat puzzles by their names.

    >>> from oddswap.puzzles.catalogue import load
    >>> from oddswap.values.position import START
    >>> place_words(load("cube:3"), "UFR", START.turned("y")), place_words(load("cube:4"), "FR.u2", START)
    ('the top front left corner', 'the front right edge block in the second layer from the top')
    """
    family = puzzle.kind_of[puzzle.slot(slot)].family
    if not puzzle.alphabet.is_box:
        return tile_words(slot) if TILE.fullmatch(slot) else f"the {singular(family)} {slot}"
    faces, _, layers = slot.partition(".")
    at = {holding.hand(face) for face in faces if OPPOSITE[face] not in faces}
    where = " ".join(LAYERS[face] for face in FACES if face in at)
    noun = {1: "middle block", 2: "edge", 3: "corner"}.get(len(faces), "block")
    if not at:
        return "the middle block"
    if len(at) < len(faces):
        noun = "block"
    if not layers:
        return f"the {noun} on the {where} side" if noun == "middle block" else f"the {where} {noun}"
    inner = [
        f"the {ordinal(int(count))} layer from the {LAYERS[holding.hand(face.upper())]}"
        for face, count in re.findall(r"([a-z])(\d+)", layers)
    ]
    block = f"the block on the {where} side" if len(faces) == 1 else f"the {where} {noun} block"
    return f"{block} in {listed(inner)}"


def piece_words(puzzle: Puzzle, piece: str, reader: Reader, at: Arrangement | None = None) -> str:
    """A piece, by home slot: by its colours, or by where it sits in the arrangement ``at``, else by where it is at home."""
    number = puzzle.slot(piece)
    words = place_words(puzzle, puzzle.slots[number if at is None else at.pieces.index(number)], reader.holding)
    if puzzle.geometry is None:
        return words
    paints = puzzle.geometry.paints_of(puzzle.geometry.bodies[number])
    colours = [reader.colours[paint] for paint in sorted(paints) if paint in reader.colours]
    if len(colours) < len(paints) or not colours:
        return words
    return f"the {listed(colours)} {singular(puzzle.kind_of[number].family)}" if len(colours) > 1 else f"{words} ({colours[0]})"


FEW = 4
"""So many places that look wrong are named one by one."""
TURNED = TEXTS["turned"]


def wrong_slots(puzzle: Puzzle, appearance: Appearance) -> list[int]:
    """The slots that are seen to hold a piece, and do not look as they should."""
    solved = puzzle.appearance(puzzle.solved).sights
    nothing = {(puzzle.kind_of[b], look) for b in puzzle.void for look in solved[b]}
    sights = enumerate(zip(puzzle.kind_of, appearance.sights, strict=True))
    return [b for b, (kind, at) in sights if len(at) < 2 and at != solved[b] and not {(kind, look) for look in at} & nothing]


def all_words(puzzle: Puzzle) -> str:
    """How many pieces there are, where some places may be empty; else how many places."""
    return f"{number_word(len(puzzle.slots) - len(puzzle.void))} {'pieces' if puzzle.void else 'places'}"


def seen_sentences(puzzle: Puzzle, appearance: Appearance, reader: Reader) -> tuple[str, ...]:
    """What looks wrong, place by place where that is little, as the reader holds it.

    >>> from oddswap.puzzles.catalogue import load
    >>> from oddswap.words.table import visitor
    >>> cube = load("cube:3")
    >>> seen_sentences(cube, cube.appearance(cube.solved), visitor(cube))
    ('What is seen looks solved.',)
    """
    unseen, every, wrong = len(appearance.uncertain), all_words(puzzle), wrong_slots(puzzle, appearance)
    rest = "everything else looks right"
    if unseen:
        rest = f"{number_word(unseen)} more place{'s were' if unseen > 1 else ' was'} not seen for certain"
    if not wrong:
        return ("What is seen looks solved." if not unseen else f"No place that was seen for certain looks wrong; {rest}.",)
    if 2 * len(wrong) > len(puzzle.slots) - len(puzzle.void) - unseen:
        mixed = f"It is well mixed: {number_word(len(wrong))} of its {every} do not look as they should"
        return (f"{mixed}.", *((f"{capital(rest)}.",) if unseen else ()))
    if len(wrong) > FEW:
        return (f"{capital(number_word(len(wrong)))} of {every} do not look as they should; {rest}.",)
    said = (_one(puzzle, slot, sight_words(puzzle, slot, appearance.sights[slot]), reader) for slot in wrong)
    return (*(f"{capital(words)}." for words in said), f"{capital(rest)}.")


def _one(puzzle: Puzzle, slot: int, words: str, reader: Reader) -> str:
    """What is wrong in one place; which way round another piece lies there is not said, as nobody could say it by heart."""
    place = "the gap" if slot == puzzle.blank else place_words(puzzle, puzzle.slots[slot], reader.holding)
    piece, _, way = words.partition(" ")
    if words == FOREIGN:
        return f"{place} shows what no piece of the puzzle can show"
    if piece == puzzle.slots[slot]:
        return f"{place} is at home, but {TURNED.get(way, way) or 'not as it should be'}"
    other = piece_words(puzzle, piece.partition("+")[0], reader)
    return f"where {place} belongs, you see {other}"


CORNER = ("U", "F", "R")


def hold_words(puzzle: Puzzle, seen: Appearance, holding: Holding, colours: Mapping[str, str]) -> str:
    """Say how to hold what is ``seen``, as an order; ``colours`` are the visitor's words for the colours of facets.

    By the pieces in the middle of the top and of the front, where these never leave them; else by the corner between; and by the
    names that the visitor used where they name no colours.

    >>> from oddswap.puzzles.catalogue import load
    >>> from oddswap.values.position import START
    >>> cube, colours = load("cube:3"), dict(zip("UDFBLR", "white gold red pink teal navy".split()))
    >>> hold_words(cube, cube.appearance(cube.solved), START.turned("y"), colours)
    'Hold it white on top, navy towards you'
    """
    if not puzzle.alphabet.is_box:
        return "Hold it as you described it"
    if said := _by_middles(puzzle, holding, colours):
        return said
    if corner := _corner(puzzle, seen, holding, colours):
        return f"Hold it so that the {listed(corner)} corner is at the top front right, with {corner[0]} on top"
    said = "Hold it as you described it, with " if holding == START else "Hold it with the side that you called "
    return f"{said}{holding.own('U')} on top and {holding.own('F')} towards you"


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


def hold_sentences(puzzle: Puzzle, seen: Appearance, holding: Holding, colours: Mapping[str, str]) -> tuple[str, ...]:
    """The same as orders that are soon said."""
    if corner := not _by_middles(puzzle, holding, colours) and _corner(puzzle, seen, holding, colours):
        return f"Find the {listed(corner)} corner.", f"Hold it at the top front right, with {corner[0]} on top."
    return (f"{hold_words(puzzle, seen, holding, colours)}.",)


def _corner(puzzle: Puzzle, seen: Appearance, holding: Holding, colours: Mapping[str, str]) -> Sequence[str]:
    """The colours of the corner between top, front and right; empty unless they are seen, and all three differ."""
    table, faces = stickers(puzzle), [holding.own(face) for face in CORNER]
    slot = next((b for b, name in enumerate(puzzle.slots) if sorted(name) == sorted(faces)), None)
    if table is None or slot is None:
        return ()
    looks = {table.shown[slot, label] for label in puzzle.kind_of[slot].labels if puzzle.looks[label] in seen.sights[slot]}
    if len(looks) != 1:
        return ()
    shown = dict(zip(puzzle.slots[slot], looks.pop(), strict=True))
    words = [colours.get(shown[face], "") for face in faces]
    if not all(words) or len(set(words)) < len(words):
        return ()
    return words
