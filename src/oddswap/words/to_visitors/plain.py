"""Laws as somebody hears them who never read a word of ours: no slots, no names of laws."""

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.laws.characters import CharacterLaw
from oddswap.reasoning.laws.sectors import Law, Sector
from oddswap.values.grammar import listed, number_word, uncapital
from oddswap.values.position import Arrangement
from oddswap.words.laws import step_word
from oddswap.words.table import Reader, say
from oddswap.words.to_visitors.places import family_words, place_words

NOUNS = ("cube", "box", "prism", "tetrahedron", "octahedron", "dodecahedron")
TIMES = {3: "a multiple of three", 4: "a multiple of four", 5: "a multiple of five"}
AMOUNTS = {1: "a quarter turn", 2: "a half turn"}
BLACK = frozenset("UFR")
"""The corner at the top front right of the hands is black, where corners are coloured like a chessboard."""
COLOURED = " ones"
CHESSBOARD = "colour the corners black and white like a chessboard, the top front right one black: then "
MANY = 4
"""So many sorts of pieces are counted, and not named."""


def puzzle_noun(puzzle: Puzzle) -> str:
    """What its owner calls it: cube, box, prism, tiles, else puzzle."""
    return next((noun for noun in NOUNS if noun in puzzle.title.split()), "puzzle")


def law_for_anybody(puzzle: Puzzle, law: Law, reader: Reader) -> str:
    """A law as one sentence, without its capital letter and its full stop."""
    counts = _counts(puzzle, law, reader)
    signs, twists = counts["sign"], counts["twist"]
    if not signs and not twists:
        return uncapital(say(law)).rstrip(".")
    board = CHESSBOARD if any(_by_chessboard(part.sector) for part in law.parts) else ""
    if law.modulus > 2:
        return f"{board}every turn keeps {listed(twists)}, added up clockwise, at {TIMES.get(law.modulus, 'whole circles')}"
    if not signs and len(twists) == 1:
        flipped = twists[0].removeprefix("the flips of the ")
        return f"{board}every turn keeps {twists[0] if flipped == twists[0] else f'the flipped {flipped}'} even in number"
    if not twists and len(signs) == 1:
        gap = "with the gap at home, " if puzzle.blank is not None else ""
        return f"{board}{gap}{signs[0]} always need an even number of swaps"
    if not twists and len(signs) == 2:
        who = "both colours" if all(sign.endswith(COLOURED) for sign in signs) else listed(signs)
        return f"{board}{who} always need both an odd, or both an even, number of swaps"
    if not twists:
        who = listed(signs) if len(signs) < MANY else f"{number_word(len(signs))} sorts of its pieces"
        return f"{board if len(signs) < MANY else ''}the swaps that {who} need are always even in number, all added up"
    every = [*twists, *(f"the swaps that {who} need" for who in signs)]
    together = "both odd, or both even, in number" if len(every) == 2 else "even in number when all are added up"
    return f"{board}{listed(every)} are always {together}"


def reason_for_anybody(puzzle: Puzzle, law: Law, reader: Reader) -> str:
    """Why a law of two signs holds, by a turn that changes both, as a sentence; empty for another law, or where shapes decide."""
    signs = _counts(puzzle, law, reader)["sign"]
    if not puzzle.steady or len(signs) != len(getattr(law, "parts", ())) or len(signs) != 2:
        return ""
    for turn in puzzle.turns.values():
        pieces = puzzle.arrangement(turn.permutation).pieces
        moved = [sum(pieces[slot] != slot for slot in part.sector.slots) for part in law.parts]
        if all(part.value(turn.permutation) and count == 4 for part, count in zip(law.parts, moved, strict=True)):
            amount = AMOUNTS.get(abs(turn.step.amount), "a turn") if puzzle.alphabet.is_box else "a turn"
            round_trip = listed(f"four {family_words(puzzle, part.sector.kind.family)}" for part in law.parts)
            return f"{amount} moves {round_trip} round, three swaps each, and any other turn changes both counts or neither"
    return ""


def seen_of_law(puzzle: Puzzle, law: Law, first: Arrangement, reader: Reader) -> str:
    """What an arrangement makes of a broken law, as the second half of a sentence about *yours*."""
    counts = _counts(puzzle, law, reader)
    signs, twists = counts["sign"], counts["twist"]
    if not signs and not twists:
        return "yours does not fit that"
    image = puzzle.homed(puzzle.permutation(first))
    if law.modulus > 2:
        return f"yours come to {number_word(law.value(image))} more than that"
    if not twists and len(signs) == len(law.parts) == 2:
        odd = next(sign for sign, part in zip(signs, law.parts, strict=True) if part.value(image))
        return f"yours need an odd number for {odd} only"
    if len(signs) + len(twists) == 2:
        return "in yours, one is odd and the other even"
    flipped = None if signs else _flipped_at_home(law, first)
    return "in yours, it is odd" if flipped is None else f"you can see {number_word(flipped)}"


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
    family, words = sector.kind.family, family_words(puzzle, sector.kind.family)
    alike = [kind for kind in puzzle.kinds if kind.family == family]
    if sector.whole and (len(alike) == 1 or all(len(kind.slots) == 1 for kind in alike)):
        return f"the {words}"
    if _by_chessboard(sector):
        at = {reader.holding.hand(face) for face in sector.names[0]}
        return f"the {'white' if len(at - BLACK) % 2 else 'black'}{COLOURED}"
    return f"the {words} like {place_words(puzzle, sector.names[0], reader.holding)}"


def _by_chessboard(sector: Sector) -> bool:
    """Whether it is just the four corners of one colour, where they are coloured like a chessboard."""
    corners = [set(name) for name in sector.names]
    plain = all(len(name) == 3 and set(name) <= set("UDFBLR") for name in sector.names)
    return plain and len(corners) == 4 and len({len(corner - BLACK) % 2 for corner in corners}) == 1
