"""The short reply to a visitor: the answer, why, what to do."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise, zip_longest

from oddswap.puzzles.boxes.box import BoxPuzzle
from oddswap.puzzles.boxes.lifting import lowered
from oddswap.puzzles.catalogue import with_turns_out_of_the_box
from oddswap.reasoning.answers import SLIPS, Answer, MadeByHand, ReadOtherwise
from oddswap.reasoning.in_hand import in_hand
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.verdicts.findings import CANNOT_TELL, LOOKALIKE, NOT_BY_TURNING, ORDINARY, OTHER_TURNS
from oddswap.reasoning.verdicts.partly import GoOn
from oddswap.values.grammar import capital, counted_words, listed, ordinal, times_word, uncapital
from oddswap.values.holding import START
from oddswap.words.reader import Reader
from oddswap.words.table import say
from oddswap.words.to_visitors.asked import asked_of_anybody
from oddswap.words.to_visitors.holds import hold_words
from oddswap.words.to_visitors.looked_again import reader_if, slip_for_anybody
from oddswap.words.to_visitors.measured import measuring_for_anybody, verdict_for_anybody
from oddswap.words.to_visitors.moves import LAYERS, SIDES, letters_explained, moves_introduced, moves_word
from oddswap.words.to_visitors.plain import culprit_for_anybody, law_for_anybody, puzzle_noun, seen_of_law, sort_of_culprit
from oddswap.words.verdicts import REPLY_BY_HAND, REPLY_CLOSED, REPLY_SEARCHED, TO_MEASURE

FEW = 4
LINE = 20
"""So many turns stand in one line at most."""
THANKS = "Thank you for your ticket."
STOP = "If a layer sticks, or it does not come right, stop and send a photograph from each of two opposite corners."
STOP_FLAT = "If it does not come right, stop and send a photograph from above."
NO_FORCE = "Do not force it; bring it to us and we look at it together. It happens to everybody."
ASKED = (
    "One question first: you wrote {written}. We read that as the {which} layer from {side}, alone. "
    "If you meant the {outer} layer {times}, do not turn yet: tell us, and we answer again."
)
IF_THEY_TURN = "Your copy may not make these turns: if a layer does not want to turn, do not force it; stop, and tell us."
IF_YOURS = (
    "The box changes its shape on the way, and your copy may not make these turns: "
    "if a layer catches, line it up, do not push; stop where it will not go."
)


@dataclass(frozen=True)
class MovesLine:
    """Moves in a line of their own."""

    text: str


@dataclass(frozen=True)
class Reply:
    """A reply in its order: the answer, why, then paragraphs of what to do; plain text throughout."""

    answer: str
    why: str
    to_do: tuple[str | MovesLine, ...]


def reply(answer: Answer, reader: Reader) -> Reply:
    """What to write to the visitor who reads it as ``reader``."""
    return Reply(f"{THANKS} {_opening(answer)}", _why(answer, reader), tuple(_what_to_do(answer, reader)))


def _opening(answer: Answer) -> str:
    """The answer in one sentence."""
    found, puzzle = answer.diagnosis, answer.puzzle
    if found.verdict == NOT_BY_TURNING and found.first is not None and with_turns_out_of_the_box(puzzle):
        return REPLY_SEARCHED
    if answer.outside:
        return REPLY_CLOSED
    if found.has(MadeByHand):
        return REPLY_BY_HAND.format(noun=puzzle_noun(puzzle), turns=moves_word(puzzle))
    return TO_MEASURE if found.hangs_on_measuring else verdict_for_anybody(puzzle, found.verdict)


def _why(answer: Answer, reader: Reader) -> str:
    """The reason, in three sentences or so; empty where it needs a photograph first, or where a search has decided."""
    found, puzzle = answer.diagnosis, answer.puzzle
    if found.verdict == CANNOT_TELL:
        return ""
    if isinstance(puzzle, BoxPuzzle):
        return "Why: we found turns that lead home, and checked each of them." if answer.way_out else ""
    if found.verdict == NOT_BY_TURNING and found.first is None and not found.broken:
        return f"Why: no piece of your {puzzle_noun(puzzle)} looks like that, however it is put together."
    if found.verdict == ORDINARY:
        return f"Why: {_nothing_broken(answer, reader)}"
    if not found.broken:
        return f"Why: no {moves_word(puzzle)} bring the pieces to where they seem to be."
    law = found.broken[0]
    first = lowered(puzzle, answer.turning, found.first) if isinstance(answer.turning, BoxPuzzle) else found.first
    seen = [seen_of_law(puzzle, law, first, reader)] if first else []
    return f"Why: {' '.join([law_for_anybody(puzzle, law, reader), *seen, *_consequence(answer, reader)])}"


def _nothing_broken(answer: Answer, reader: Reader) -> str:
    book = law_book(answer.puzzle)
    if not book.laws:
        return f"the {moves_word(answer.puzzle)} of this puzzle lead to every position that its pieces can have."
    law = law_for_anybody(answer.puzzle, book.laws[0], reader)
    moves = moves_word(answer.puzzle)
    known = f"Nothing else is left that {moves} could not change." if book.complete else f"There are {moves} that lead home."
    return f"{law} What you describe keeps that, and every other such rule. {known}"


def _consequence(answer: Answer, reader: Reader) -> Iterator[str]:
    """What follows from the broken law."""
    found, puzzle = answer.diagnosis, answer.puzzle
    if found.verdict == LOOKALIKE:
        yield "So at least one more piece is not what it seems, though it looks right."
        at = [(culprit, found.first or culprit.arrangement) for culprit in found.culprits]
        several = list(dict.fromkeys(culprit_for_anybody(puzzle, culprit, first, reader) for culprit, first in at))
        if len(several) > FEW:
            several = list(dict.fromkeys(sort_of_culprit(culprit) for culprit in found.culprits))
        if several:
            yield f"It is {listed(several, 'or') if len(several) > 1 else several[0]}."
        if found.surprise and found.surprise.share:
            yield f"{capital(say(found.surprise, reader))}."
    elif found.verdict == OTHER_TURNS:
        yield "The turns that you named never change that" + ("." if found.has(MadeByHand) else "; others do.")
    elif found.verdict == NOT_BY_TURNING and law_book(puzzle).hidden.generators():
        yield "No hidden turn or swap of pieces that look alike can mend it."


def _what_to_do(answer: Answer, reader: Reader) -> Iterator[str | MovesLine]:
    found, way = answer.diagnosis, answer.way_out
    if doubt := found.one(ReadOtherwise):
        said = {"written": doubt.written, "which": ordinal(doubt.number), "times": times_word(doubt.number)}
        yield ASKED.format(**said, side=SIDES[doubt.face], outer=LAYERS[doubt.face])
    if way is not None:
        yield from _turns(answer, reader)
    elif found.hangs_on_measuring:
        yield from measuring_for_anybody(answer, reader)
    elif found.asked:
        if found.has(GoOn):
            yield "Nothing that you told us is impossible so far: what is not placed yet can still make up for it."
        if answer.puzzle.alphabet.is_box:
            yield f"{hold_words(answer.puzzle, answer.appearance, START, reader.colours)}."
        told = replace(reader, holding=START)
        yield f"Please send {', and then '.join(asked_of_anybody(answer.puzzle, one, told) for one in found.asked[:2])}."
    elif found.verdict in (ORDINARY, LOOKALIKE) or (found.verdict == OTHER_TURNS and not found.has(MadeByHand)):
        yield "Place the rest first, as you always do. Then write again what you see, and we send you the turns."
    else:
        yield from _looked_again(answer, reader)
        so = "If all is as you described it" if found.slips else "If it is so"
        yield f"{so}, a piece went back wrongly, or a sticker moved. {NO_FORCE}"
    if any(one.way_out and one.way_out.moves for one in (answer, *answer.corrected)):
        yield STOP if answer.puzzle.geometry else STOP_FLAT


def _looked_again(answer: Answer, reader: Reader) -> Iterator[str | MovesLine]:
    """The likeliest slips, each with what to do if it was made."""
    for slip, corrected in zip_longest(answer.diagnosis.slips[:SLIPS], answer.corrected):
        yield f"Please look again: perhaps {slip_for_anybody(answer.puzzle, slip, reader)}?{' If so:' if corrected else ''}"
        if corrected:
            yield from _turns(corrected, reader_if(answer.puzzle, slip, reader))


def _turns(answer: Answer, reader: Reader) -> Iterator[str | MovesLine]:
    if answer.way_out.moves:
        yield from _way(answer, reader)
    elif answer.way_out.moves is None:
        yield "We have not found a way out yet, and go on looking."
    else:
        yield "It looks solved already: there is nothing to turn."


def _lines(moves: str) -> list[str]:
    """Moves in lines that an eye can hold, of lengths as equal as can be."""
    names = moves.split()
    lines = -(-len(names) // LINE)
    cuts = [round(k * len(names) / lines) for k in range(lines + 1)]
    return [" ".join(names[a:b]) for a, b in pairwise(cuts)]


def _way(answer: Answer, reader: Reader) -> Iterator[str | MovesLine]:
    """How to hold it, the moves, and what their letters mean."""
    found, way = answer.diagnosis, answer.easiest
    done = in_hand(answer, reader.holding)
    hold = moves_introduced(answer.puzzle)
    if not hold:
        hold = f"{hold_words(answer.puzzle, answer.appearance, done.holding, reader.colours)}, throughout"
    lead = ""
    if len(found.culprits) > 1:
        lead = "You cannot see which, and need not know: these turns mend any of them. "
    elif found.verdict == OTHER_TURNS and answer.copy is None:
        lead = "If your copy makes these turns: "
    yield f"{lead}{uncapital(hold) if lead.endswith(': ') else hold}:"
    yield from map(MovesLine, _lines(done.way))
    shortest = "; no way is shorter" if answer.way_out.shortest and way.length == answer.way_out.length else ""
    count = counted_words(way.length, moves_word(answer.puzzle))
    yield f"{letters_explained(answer.turning, done.way)} {capital(count)}{shortest}."
    if answer.outside or answer.way_out.phases and isinstance(answer.turning, BoxPuzzle):
        yield IF_YOURS
    elif found.verdict == OTHER_TURNS and answer.copy is None:
        yield IF_THEY_TURN
