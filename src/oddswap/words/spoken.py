"""Sentences that can be spoken: what is seen on a puzzle, and notes."""

from oddswap.describing.sights import sight_words
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.values.appearance import Appearance
from oddswap.values.grammar import capital, number_word

FEW = 4
"""So many slots that look wrong are named one by one."""


def introduced(puzzle: Puzzle) -> str:
    """The first sentence about a puzzle.

    >>> from oddswap.puzzles.catalogue import load
    >>> introduced(load("tiles:4x4")), introduced(load("octahedron"))
    ('These are 4 by 4 sliding tiles.', 'This is a face-turning octahedron.')
    """
    title = puzzle.title
    if title[0].isdigit() or title.startswith("two "):
        return f"These are {title}."
    return f"This is {'an' if title[0] in 'aeio' else 'a'} {title}."


def seen_sentences(puzzle: Puzzle, appearance: Appearance) -> tuple[str, ...]:
    """What looks wrong, slot by slot where that is little."""
    solved = puzzle.appearance(puzzle.solved).sights
    unseen, slots = len(appearance.uncertain), len(solved)
    wrong = [b for b, sight in enumerate(appearance.sights) if len(sight) < 2 and sight != solved[b]]
    rest = "everything else looks right"
    if unseen:
        rest = f"{number_word(unseen)} more slot{'s were' if unseen > 1 else ' was'} not seen for certain"
    if not wrong:
        return ("What is seen looks solved." if not unseen else f"Nothing that is seen looks wrong; {rest}.",)
    if 2 * len(wrong) > slots - unseen:
        mixed = f"It is well mixed: {number_word(len(wrong))} of its {number_word(slots)} slots do not look as they should"
        return (f"{mixed}.", *((f"{capital(rest)}.",) if unseen else ()))
    if len(wrong) > FEW:
        return (f"{capital(number_word(len(wrong)))} of {number_word(slots)} slots do not look as they should; {rest}.",)
    words = [_told(puzzle, b, sight_words(puzzle, b, appearance.sights[b])) for b in wrong]
    return (*(f"{capital(said)}." for said in words), f"{capital(rest)}.")


_WAYS_ROUND = {"turned half": "turned by half", "turned cw": "turned clockwise", "turned ccw": "turned anticlockwise"}
_WAYS_ROUND |= {"twisted cw": "twisted clockwise", "twisted ccw": "twisted anticlockwise"}


def _told(puzzle: Puzzle, slot: int, words: str) -> str:
    name = puzzle.slots[slot]
    piece, _, way = words.partition(" ")
    way = _WAYS_ROUND.get(way, way)
    if words == "foreign":
        return f"at {name} is something that no piece of the puzzle can show"
    if piece == name:
        return f"the piece at {name} is in its place, but {way or 'not as it should be'}"
    return f"at {name} sits the {piece} piece" + (f", {way}" if way else "")


def spoken(note: str) -> list[str]:
    """A note as sentences that can be spoken."""
    return [f"{capital(part)}." for part in note.rstrip(".").replace(" × 10^", " times ten to the power of ").split("; ")]
