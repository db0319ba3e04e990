"""Laws and culprits as somebody hears them who never read a word of ours: no slots, no names of laws."""

from collections import Counter

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.laws.characters import CharacterLaw
from oddswap.reasoning.laws.law import Law
from oddswap.reasoning.laws.sectors import Sector
from oddswap.reasoning.verdicts.exchanges import HiddenTurn
from oddswap.reasoning.verdicts.findings import Culprit
from oddswap.values.arrangement import Arrangement
from oddswap.values.grammar import listed, number_word, singular, uncapital
from oddswap.words.laws import step_word
from oddswap.words.reader import Reader
from oddswap.words.table import say
from oddswap.words.to_visitors.places import place_words

NOUNS = ("cube", "box", "prism", "tetrahedron", "octahedron", "dodecahedron")
TIMES = {3: "a multiple of three", 4: "a multiple of four", 5: "a multiple of five"}


def puzzle_noun(puzzle: Puzzle) -> str:
    """What its owner calls it: cube, box, prism, tiles, else puzzle."""
    return next((noun for noun in NOUNS if noun in puzzle.title.split()), "puzzle")


def law_for_anybody(puzzle: Puzzle, law: Law, reader: Reader) -> str:
    """A law as one sentence, without its capital letter."""
    counts = _counts(puzzle, law, reader)
    signs, twists = counts["sign"], counts["twist"]
    if not signs and not twists:
        return uncapital(say(law, reader))
    if law.modulus > 2:
        return f"every turn keeps {listed(twists)}, added up clockwise, at {TIMES.get(law.modulus, 'whole circles')}."
    if not signs and len(twists) == 1:
        return f"every turn keeps {twists[0]} even in number."
    if not twists and len(signs) == 1:
        gap = "with the gap at home, " if puzzle.blank is not None else ""
        return f"{gap}{signs[0]} always need an even number of swaps."
    if not twists and len(signs) == 2:
        return f"{listed(signs)} always need both an odd, or both an even, number of swaps."
    every = [*twists, *(f"the swaps that {who} need" for who in signs)]
    together = "both odd, or both even, in number" if len(every) == 2 else "even in number when all are added up"
    return f"{listed(every)} are always {together}."


def seen_of_law(puzzle: Puzzle, law: Law, first: Arrangement, reader: Reader) -> str:
    """What an arrangement makes of a broken law, as one sentence about *yours*."""
    counts = _counts(puzzle, law, reader)
    signs, twists = counts["sign"], counts["twist"]
    if not signs and not twists:
        return "Yours does not fit that."
    image = puzzle.permutation(first)
    if law.modulus > 2:
        return f"Yours comes to {number_word(law.value(image))} more than that."
    if not twists and len(signs) == len(law.parts) == 2:
        odd = [bool(part.value(image)) for part in law.parts]
        return f"Yours need an odd number for {signs[odd.index(True)]}, and an even one for {signs[odd.index(False)]}."
    if len(signs) + len(twists) == 2:
        return "In yours, one is odd and the other even."
    flipped = None if signs else _flipped_at_home(law, first)
    return "In yours, it is odd." if flipped is None else f"You can see {number_word(flipped)}."


def _flipped_at_home(law: CharacterLaw, first: Arrangement) -> int | None:
    """How many pieces of a law are flipped in their own slots; ``None`` where some are in others."""
    slots = [slot for part in law.parts for slot in part.sector.slots]
    if any(first.pieces[slot] != slot for slot in slots):
        return None
    return sum(first.twists[slot] != 0 for slot in slots)


def _counts(puzzle: Puzzle, law: Law, reader: Reader) -> dict[str, list[str]]:
    """What a law of plain sums counts: whose swaps, and which turns of pieces; both empty for another law."""
    found: dict[str, dict[str, None]] = {"sign": {}, "twist": {}}
    whats = {part.what for part in getattr(law, "parts", ())}
    if isinstance(law, CharacterLaw) and set(law.weights) == {1} and (law.modulus == 2 or whats == {"twist"}):
        for part in law.parts:
            owner = _owner(puzzle, part.sector, reader)
            found[part.what][owner if part.what == "sign" else f"the {step_word(part)} of {owner}"] = None
    return {what: list(words) for what, words in found.items()}


def _owner(puzzle: Puzzle, sector: Sector, reader: Reader) -> str:
    """Whose swaps or twists: a family of pieces; where the turns split it, the pieces like one of them."""
    family = sector.kind.family
    alike = [kind for kind in puzzle.kinds if kind.family == family]
    if sector.whole and (len(alike) == 1 or all(len(kind.slots) == 1 for kind in alike)):
        return f"the {family}"
    return f"the {family} like {place_words(puzzle, sector.names[0], reader.holding)}"


def culprit_for_anybody(puzzle: Puzzle, culprit: Culprit, first: Arrangement, reader: Reader) -> str:
    """The pieces of a culprit as the visitor finds them on the puzzle; twins that are called alike are counted."""
    counts = Counter(piece_words(puzzle, piece, first, reader) for piece in culprit.pieces)
    return listed(words if count == 1 else f"{number_word(count)} of {words}s" for words, count in counts.items())


def sort_of_culprit(culprit: Culprit) -> str:
    """What sort of pieces a culprit is, where there are too many to name each."""
    words = [
        f"one of the {change.family}" if isinstance(change, HiddenTurn) else f"two of the {change.family} that look alike"
        for change in culprit.changes
    ]
    return listed(dict.fromkeys(words))


def piece_words(puzzle: Puzzle, piece: str, at: Arrangement, reader: Reader) -> str:
    """A piece, by home slot: by its colours, or by where it sits in the arrangement ``at`` as the reader holds it."""
    number = puzzle.slot(piece)
    slot = puzzle.slots[at.pieces.index(number)]
    words = place_words(puzzle, slot, reader.holding)
    if puzzle.geometry is None:
        return words
    paints = puzzle.geometry.paints_of(puzzle.geometry.bodies[number])
    colours = [reader.colours[paint] for paint in sorted(paints) if paint in reader.colours]
    if len(colours) < len(paints) or not colours:
        return words
    return f"the {listed(colours)} {singular(puzzle.kind_of[number].family)}" if len(colours) > 1 else f"{words} ({colours[0]})"
