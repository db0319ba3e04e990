"""What to measure where pieces are nearly alike, and what follows, as somebody hears it who holds the puzzle."""

from collections.abc import Iterator

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.answers import Answer
from oddswap.reasoning.verdicts.findings import ToMeasure
from oddswap.reasoning.verdicts.readings import ALIKE, Reading
from oddswap.values.grammar import listed, uncapital
from oddswap.words.reader import Reader
from oddswap.words.to_visitors.moves import moves_word, moving_word
from oddswap.words.to_visitors.places import piece_words
from oddswap.words.to_visitors.plain import puzzle_noun
from oddswap.words.verdicts import WORDINGS


def verdict_for_anybody(puzzle: Puzzle, verdict: str) -> str:
    """What a verdict means for the visitor's own puzzle, in one sentence."""
    said = {"noun": puzzle_noun(puzzle), "turning": moving_word(puzzle), "turns": moves_word(puzzle)}
    return WORDINGS[verdict].reply.format(**said)


def measuring_for_anybody(answer: Answer, reader: Reader) -> Iterator[str]:
    """Which pieces to measure, and what it means if they are alike, or if they differ."""
    puzzle, found = answer.puzzle, answer.diagnosis
    lies = found.first or puzzle.solved

    def pieces(turned: bool) -> list[str]:
        pairs = [one for one in found.asked if isinstance(one, ToMeasure) and (one.one == one.other) == turned]
        return list(dict.fromkeys(piece_words(puzzle, name, reader, lies) for one in pairs for name in (one.one, one.other)))

    if own := pieces(turned=True):
        each = "each of them" if len(own) > 1 else "it"
        yield f"Please measure {listed(own)}: does {each} look the same when it is turned, or is one side longer by a hair?"
    if others := pieces(turned=False):
        yield f"Please measure {listed(others)}: are they as large as one another, and of one shape?"
    for reading in (finding for finding in found.findings if isinstance(finding, Reading)):
        what = f"If you find {'no' if reading.measured == ALIKE else 'a'} difference"
        yield f"{what}: {uncapital(verdict_for_anybody(puzzle, reading.verdict))}"
    yield "Tell us what you found, and we answer again. Do not open anything before that."
