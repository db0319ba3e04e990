"""What looks wrong on a puzzle, in sentences that can be spoken to whoever has it in their hands."""

from oddswap.describing.sights import FOREIGN, sight_words
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.values.appearance import Appearance
from oddswap.values.grammar import capital, number_word
from oddswap.words.reader import Reader
from oddswap.words.to_visitors.places import piece_words, place_words

FEW = 4
"""So many places that look wrong are named one by one."""
TURNED = {
    "flipped": "flipped",
    "turned half": "turned by half",
    "turned cw": "turned clockwise",
    "turned ccw": "turned anticlockwise",
    "twisted cw": "twisted clockwise",
    "twisted ccw": "twisted anticlockwise",
}


def seen_sentences(puzzle: Puzzle, appearance: Appearance, reader: Reader) -> tuple[str, ...]:
    """What looks wrong, place by place where that is little, as the reader holds it.

    >>> from oddswap.puzzles.catalogue import load
    >>> from oddswap.words.reader import visitor
    >>> cube = load("cube:3")
    >>> seen_sentences(cube, cube.appearance(cube.solved), visitor(cube))
    ('What is seen looks solved.',)
    """
    solved = puzzle.appearance(puzzle.solved).sights
    unseen, slots = len(appearance.uncertain), len(solved)
    wrong = [b for b, sight in enumerate(appearance.sights) if len(sight) < 2 and sight != solved[b]]
    rest = "everything else looks right"
    if unseen:
        rest = f"{number_word(unseen)} more place{'s were' if unseen > 1 else ' was'} not seen for certain"
    if not wrong:
        return ("What is seen looks solved." if not unseen else f"Nothing that is seen looks wrong; {rest}.",)
    if 2 * len(wrong) > slots - unseen:
        mixed = f"It is well mixed: {number_word(len(wrong))} of its {number_word(slots)} places do not look as they should"
        return (f"{mixed}.", *((f"{capital(rest)}.",) if unseen else ()))
    if len(wrong) > FEW:
        return (f"{capital(number_word(len(wrong)))} of {number_word(slots)} places do not look as they should; {rest}.",)
    said = (_one(puzzle, slot, sight_words(puzzle, slot, appearance.sights[slot]), reader) for slot in wrong)
    return (*(f"{capital(words)}." for words in said), f"{capital(rest)}.")


def _one(puzzle: Puzzle, slot: int, words: str, reader: Reader) -> str:
    """What is wrong in one place; which way round another piece lies there is not said, as nobody could say it by heart."""
    place = place_words(puzzle, puzzle.slots[slot], reader.holding)
    piece, _, way = words.partition(" ")
    if words == FOREIGN:
        return f"{place} shows what no piece of the puzzle can show"
    if piece == puzzle.slots[slot]:
        return f"{place} is at home, but {TURNED.get(way, way) or 'not as it should be'}"
    other = piece_words(puzzle, piece.partition("+")[0], reader)
    return f"where {place} belongs, you see {other}"
