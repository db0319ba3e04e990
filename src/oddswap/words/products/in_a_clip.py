"""Few words for a clip: sentences cut so that they can be spoken; the law, the culprit and the repair, where pictures point."""

import re

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.answers import Answer
from oddswap.reasoning.laws.rigid import ProgrammeLaw
from oddswap.reasoning.verdicts.exchanges import HiddenSwap, HiddenTurn
from oddswap.reasoning.verdicts.findings import LOOKALIKE, NOT_BY_TURNING, OTHER_TURNS, Culprit
from oddswap.reasoning.verdicts.repairs import HandSwap
from oddswap.values.grammar import capital, listed, number_word, singular
from oddswap.values.position import Arrangement
from oddswap.words.culprits import turn_words, turned_too
from oddswap.words.table import Reader
from oddswap.words.texts import read_texts
from oddswap.words.to_visitors.heard import heard, piece_names
from oddswap.words.to_visitors.places import family_words, place_words
from oddswap.words.to_visitors.why import law_and_seen
from oddswap.words.verdicts import WORDINGS

TEXTS = read_texts("products/stories")
"""What is said in a clip and stands beside it."""
BREATH = 12
"""So many words are said in one go at most, where a sentence has a joint."""
JOINT = re.compile(r"[;:,] (?:and then |and |so )?| (?=(?:and|or|where|which|because|though|although|if|than) )")


def spoken(note: str) -> list[str]:
    """A note as short sentences that can be spoken."""
    return in_short(f"{note.rstrip('.').replace(' × 10^', ' times ten to the power of ')}.")


def in_short(*texts: str) -> list[str]:
    """Sentences of at most `BREATH` words, cut at their joints, the one nearest to the middle first.

    >>> in_short("Every turn keeps the flipped edges even in number, and here you can see just one of them.")
    ['Every turn keeps the flipped edges even in number.', 'Here you can see just one of them.']
    """
    return [short for text in texts for sentence in re.split(r"(?<=[.?!]) |; ", text) for short in _cut(sentence)]


def words_in(sentence: str) -> int:
    """How many words are said."""
    return sum(any(map(str.isalnum, word)) for word in sentence.split())


def _cut(sentence: str) -> list[str]:
    count = words_in(sentence)
    joints = [joint for joint in JOINT.finditer(sentence) if words_in(sentence[: joint.start()])]
    if count <= BREATH or not joints:
        return [f"{capital(sentence).rstrip('.,;:')}{'' if sentence[-1] in '?!…' else '.'}"]
    uneven = lambda joint: abs(2 * joint.start() - len(sentence)) + (0 if joint[0].strip() else len(sentence) / 3)  # noqa: E731
    at = min(joints, key=uneven)
    goes_on = ("…", "… ") if at[0] in (", ", " ") else ("", "")
    return _cut(f"{sentence[: at.start()]} {goes_on[0]}".rstrip()) + _cut(goes_on[1] + sentence[at.end() :])


CODE = re.compile(r"[0-9]|\b[A-Z]+\b")
LONG_NAME = 6
"""What nobody says of a piece, and so many words name pieces at most."""
COUNTS = {"sign": "swaps", "twist": "turns"}
BOTH = "{} and {}: both odd, or both even. Here, only one is odd."
SUM = "Add up the {} of {} sorts of pieces: always even. Here, the sum is odd."
"""Laws of several sorts of pieces, by what they count."""
FEW_PLACES = "These turns bring a piece to some places only.", "Here, some lie as these turns never lay them."
CHANGED = "No {} can change that.", "None of these turns can change that."
"""What is said of a law where turns lead only to some places; and of every law, also where other turns can."""


def law_sentences(answer: Answer, reader: Reader, sort: str) -> tuple[str, ...]:
    """The law that is broken at first sight, in few words where it is of a plain ``sort``; empty where none is."""
    if not answer.diagnosis.broken:
        return ()
    law = answer.diagnosis.broken[0]
    parts = getattr(law, "parts", ())
    told = [(COUNTS.get(part.what), family_words(answer.puzzle, part.sector.kind.family)) for part in parts]
    counted = list(dict.fromkeys(told))
    changed = CHANGED[answer.verdict == OTHER_TURNS].format(move_word(answer.puzzle))
    if law.type == "orbit":
        return *FEW_PLACES, changed
    if sort := "programme" if isinstance(law, ProgrammeLaw) else sort:
        said = TEXTS["counted"][sort].format(*(family for _, family in counted))
    elif law.modulus != 2 or len(told) < 2 or not all(count for count, _ in counted):
        said = f"{law_and_seen(answer, reader)}."
    elif len(counted) == len(told) == 2:
        said = BOTH.format(*(f"{count} of {family}" for count, family in counted))
    else:
        said = SUM.format(listed(dict.fromkeys(count for count, _ in counted)), number_word(len(told)))
    return tuple(in_short(capital(said), changed))


def culprit_sentences(answer: Answer, reader: Reader, culprit: Culprit | None) -> tuple[str, ...]:
    """Who can be the culprit, for instance this one, which comes first."""
    found = answer.diagnosis
    if culprit is None:
        return tuple(in_short(*WORDINGS[LOOKALIKE].captions, "Several swaps at once, too many to be told apart."))
    one = "; ".join(_unseen(answer.puzzle, change, reader, found.first) for change in culprit.changes)
    return tuple(in_short(f"{capital(one)}." if len(found.culprits) == 1 else f"For instance: {one}."))


def _unseen(puzzle: Puzzle, change: HiddenTurn | HiddenSwap, reader: Reader, at: Arrangement | None) -> str:
    """A change that does not show, which was said."""
    names = pointed(puzzle, change.touched, reader, at)
    if isinstance(change, HiddenTurn):
        ways = " or ".join(turn_words(steps, change.order) for steps in change.steps)
        return re.sub(r"(\w+) (\w+) or \1 ", r"\1 \2 or ", f"{names} is {ways}")
    return f"{names} are swapped"


def pointed(puzzle: Puzzle, names: tuple[str, ...], reader: Reader, at: Arrangement | None = None) -> str:
    """Pieces by name; where that is long, as their marks point at them."""
    said = piece_names(puzzle, names, reader, at)
    if len(said.split()) <= LONG_NAME and not CODE.search(said):
        return said
    return "this piece" if len(names) == 1 else f"these {number_word(len(names))}"


def pointing(puzzle: Puzzle, text: str, slot: str, reader: Reader) -> str:
    """A text that names a place; where its name is no word, or the text is long, its mark points at it."""
    name, this = place_words(puzzle, slot, reader.holding), f"this {singular(puzzle.kind_of[puzzle.slot(slot)].family)}"
    if words_in(text) <= BREATH and not CODE.search(name):
        return text
    return text.replace(name, this).replace(capital(name), capital(this))


def these_places(puzzle: Puzzle, slots: tuple[str, ...], reader: Reader) -> str:
    """Places of one kind by name; where that is long, as their marks point at them."""
    said = listed(place_words(puzzle, slot, reader.holding) for slot in slots)
    if len(said.split()) <= BREATH - 3 and not CODE.search(said):
        return said
    return f"these {number_word(len(slots))} {family_words(puzzle, puzzle.kind_of[puzzle.slot(slots[0])].family)}"


def culprit_words(answer: Answer) -> tuple[str, ...]:
    """The headline where the culprits are shown."""
    culprits = answer.diagnosis.culprits
    if len(culprits) == 1:
        return ("Look here.",)
    pairs = " pairs" if all(len(culprit.pieces) == 2 for culprit in culprits) else ""
    return ("Who is it?", f"One of {number_word(len(culprits))}{pairs}: no eye can see which.")[: 1 + bool(culprits)]


def repair_sentences(answer: Answer, reader: Reader) -> tuple[tuple[str, ...], ...]:
    """How it may have come to that, the smallest repair by hand, and its cautions; empty where there is none."""
    if not answer.repair:
        return (), (), ()
    cautions = tuple(TEXTS["safely"][bool(answer.diagnosis.slips) :])
    by_hand = (
        f"{'swap' if len(change.slots) == 2 else 'send round'} {these_places(answer.puzzle, change.slots, reader)} by hand"
        + turned_too(change, place_words(answer.puzzle, change.slots[1], reader.holding))
        if isinstance(change, HandSwap)
        else pointing(answer.puzzle, heard(answer.puzzle, change, reader), change.slot, reader)
        for change in answer.repair.by_hand
    )
    return WORDINGS[NOT_BY_TURNING].captions, tuple(in_short(*(f"{capital(change)}." for change in by_hand))), cautions


def move_word(puzzle: Puzzle) -> str:
    return "turn" if puzzle.blank is None else "slide"
