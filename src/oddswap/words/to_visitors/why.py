"""Why it is as the answer says, what is open and what to measure, in a visitor's words: for the reply and for captions."""

from collections.abc import Iterator

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.boxes.box import lowered
from oddswap.reasoning.answers import Answer, MadeByHand
from oddswap.reasoning.verdicts import findings, partly
from oddswap.reasoning.verdicts.findings import CANNOT_TELL, LOOKALIKE, NOT_BY_TURNING, ORDINARY, OTHER_TURNS
from oddswap.reasoning.verdicts.readings import ALIKE, Reading
from oddswap.values.grammar import capital, listed, number_word, uncapital
from oddswap.words.table import Reader, say
from oddswap.words.texts import TEXTS
from oddswap.words.to_visitors.heard import heard, piece_names, sort_of_culprit
from oddswap.words.to_visitors.moves import allowed_words, moves_word, moving_word
from oddswap.words.to_visitors.places import piece_words, place_words
from oddswap.words.to_visitors.plain import law_for_anybody, puzzle_noun, reason_for_anybody, seen_of_law
from oddswap.words.verdicts import WORDINGS, Wording

FEW = 4
"""So many culprits are named one by one."""
LONG = 24
"""In no more words than these."""


def why_sentences(answer: Answer, reader: Reader) -> tuple[str, ...]:
    """The reason in about three sentences."""
    return tuple(f"{capital(words)}." for words in _why(answer, reader) if words)


def _why(answer: Answer, reader: Reader) -> Iterator[str]:
    found, puzzle = answer.diagnosis, answer.puzzle
    noun, moves = puzzle_noun(puzzle), moves_word(puzzle)
    if found.hangs_on_measuring:
        return
    if found.verdict == CANNOT_TELL:
        yield from half_seen_sentences(answer, reader)
    elif puzzle.leaves_outline and found.verdict == ORDINARY:
        yield f"a {noun} like yours can be turned out of its shape and back, and then other blocks lie beside each other"
        yield "so nothing need have been taken apart"
        if answer.way_out and answer.way_out.moves is not None:
            yield f"we found {moves} that lead home, and followed every one of them"
    elif found.verdict == ORDINARY:
        yield from _nothing_broken(answer, reader)
    elif found.verdict == NOT_BY_TURNING and not found.broken and not found.first and not found.has(partly.BrokenAnyhow):
        if strange := [one.slot for one in found.findings if isinstance(one, findings.StrangeSight)]:
            where = [place_words(puzzle, slot, reader.holding) for slot in strange[:FEW]]
            yield f"no piece of your {noun} looks like what you describe at {listed(where)}, however it is put together"
        elif too_often := found.one(findings.SeenTooOften):
            yield f"you describe {piece_names(puzzle, too_often.pieces, reader)} too many times"
        else:
            yield f"the pieces of your {noun} cannot lie as you describe them, however they are put together"
    elif not found.broken:
        yield f"no {moves} bring the pieces to where they seem to be"
        yield from _however_it_lies(found)
    else:
        yield law_and_seen(answer, reader)
        yield from _consequence(answer, reader)


def law_and_seen(answer: Answer, reader: Reader) -> str:
    """The first law that is broken, and what the visitor's puzzle makes of it, as one sentence."""
    puzzle, found, law = answer.puzzle, answer.diagnosis, answer.diagnosis.broken[0]
    anyhow = found.one(partly.BrokenAnyhow)
    first = found.first or (anyhow.first if anyhow else None)
    said = law_for_anybody(puzzle, law, reader)
    if first is None:
        return said
    if answer.turning.leaves_outline and puzzle.steady:
        first = lowered(puzzle, answer.turning, first)
    seen = seen_of_law(puzzle, law, first, reader)
    return f"{said}{', and' if seen.startswith('you') and not seen.startswith('yours') else ';'} {seen}"


def culprits_named(answer: Answer, reader: Reader) -> list[str]:
    """The culprits by the pieces that they are; by their sort where they are many."""
    found = answer.diagnosis
    named = (piece_names(answer.puzzle, culprit.pieces, reader, found.first or culprit.arrangement) for culprit in found.culprits)
    several = list(dict.fromkeys(named))
    if len(several) <= FEW and sum(len(words.split()) for words in several) <= LONG:
        return several
    return list(dict.fromkeys(sort_of_culprit(answer.puzzle, culprit) for culprit in found.culprits))


def _nothing_broken(answer: Answer, reader: Reader) -> Iterator[str]:
    book, moves = answer.puzzle.laws, moves_word(answer.puzzle)
    if not book.laws:
        yield f"the {moves} of this puzzle lead to every position that its pieces can have"
        yield "so they lead to yours, and from yours home again"
        return
    yield law_for_anybody(answer.puzzle, book.laws[0], reader)
    yield "what you describe keeps that, and every other such rule"
    yield f"nothing else is left that {moves} could not change" if book.complete else f"there are {moves} that lead home"


def _consequence(answer: Answer, reader: Reader) -> Iterator[str]:
    """What follows from the broken law."""
    found, puzzle = answer.diagnosis, answer.puzzle
    if found.verdict == LOOKALIKE:
        several = culprits_named(answer, reader)
        fewest = min((len(culprit.pieces) for culprit in found.culprits), default=1)
        more = "so at least one more piece is not what it seems, though it looks right"
        if fewest > 1:
            more = f"so at least {number_word(fewest)} more pieces are not what they seem, though they look right"
        yield f"{more}: {listed(several, 'or')}" if several else more
        if found.surprise and found.surprise.share:
            yield say(found.surprise)
    elif found.verdict == OTHER_TURNS:
        yield f"the {allowed_words(puzzle)} cannot change that{'' if found.has(MadeByHand) else '; others do'}"
    elif found.verdict == NOT_BY_TURNING:
        if reason := reason_for_anybody(puzzle, found.broken[0], reader):
            yield reason
        elif puzzle.laws.hidden.generators():
            yield "no hidden turn, and no swap of pieces that look alike, can mend it"
        yield from _however_it_lies(found)


def _however_it_lies(found: findings.Diagnosis) -> Iterator[str]:
    """Why what is not seen cannot help."""
    if found.has(partly.OneWhole):
        yield "the pieces that we cannot see can lie in one way only, and it does not help"
    elif anyhow := found.one(partly.BrokenAnyhow):
        seen = "you see every piece that this rule counts, so it makes no difference how the hidden ones lie"
        yield seen if anyhow.first else "we counted every way in which the pieces that we cannot see can lie, and none helps"


IN_PLACE = TEXTS["if in place"]
"""What a puzzle is if all the rest is in place, by the verdict on that."""
SAID = (partly.FewWholes, partly.GoOn, partly.IfInPlace, partly.IfOnlyTurned, partly.NotAllInPlace)
"""What is said here in words of its own."""


def half_seen_sentences(answer: Answer, reader: Reader) -> Iterator[str]:
    """What can be said already, without capital letters and full stops."""
    found, puzzle = answer.diagnosis, answer.puzzle
    turning = moving_word(puzzle)
    if found.has(partly.GoOn):
        yield "nothing is impossible so far: pieces that are not placed yet can still make up for what looks wrong"
    if at_home := found.one(partly.IfInPlace):
        so = "if all that we cannot see is in place" + (" as far as it can be" if at_home.nearly else "")
        yield f"{so}, {IN_PLACE[at_home.verdict].format(turning=turning)}"
    if found.has(partly.NotAllInPlace):
        yield "not all that we cannot see is in place: you see some of its pieces elsewhere"
    if (turned := found.one(partly.IfOnlyTurned)) and turned.share.reached:
        one_in = round(turned.share.ways / turned.share.reached)
        if one_in > 1:
            about = "" if turned.share.ways == one_in * turned.share.reached else "about "
            yield f"of all the ways in which it may lie, {turning} leads home from {about}one in {number_word(one_in)}"
    yield from (heard(puzzle, finding, reader) for finding in found.findings if not isinstance(finding, SAID))


def verdict_for_anybody(puzzle: Puzzle, wording: Wording) -> str:
    """What a verdict means for the visitor's own puzzle, in one sentence."""
    return wording.reply.format(**called(puzzle), allowed=allowed_words(puzzle))


def called(puzzle: Puzzle) -> dict[str, str]:
    """What the puzzle, moving it, and its moves are called, for a sentence with these gaps."""
    return {"noun": puzzle_noun(puzzle), "turning": moving_word(puzzle), "turns": moves_word(puzzle)}


def measuring_for_anybody(answer: Answer, reader: Reader) -> Iterator[str]:
    """Which pieces to measure, and what it means if they are alike, or if they differ."""
    puzzle, found = answer.puzzle, answer.diagnosis
    lies = found.first or puzzle.solved

    def pieces(turned: bool) -> list[str]:
        pairs = [one for one in found.asked if isinstance(one, findings.ToMeasure) and (one.one == one.other) == turned]
        return list(dict.fromkeys(piece_words(puzzle, name, reader, lies) for one in pairs for name in (one.one, one.other)))

    if own := pieces(turned=True):
        each = "each of them" if len(own) > 1 else "it"
        yield f"Please measure {listed(own)}: does {each} look the same when it is turned, or is one side longer by a hair?"
    if others := pieces(turned=False):
        yield f"Please measure {listed(others)}: are they as large as one another, and of one shape?"
    for reading in (finding for finding in found.findings if isinstance(finding, Reading)):
        what = f"If you find {'no' if reading.measured == ALIKE else 'a'} difference"
        yield f"{what}: {uncapital(verdict_for_anybody(puzzle, WORDINGS[reading.verdict]))}"
    yield "Tell us what you found, and we answer again. Do not open anything before that."
