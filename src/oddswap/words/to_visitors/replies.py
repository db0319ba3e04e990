"""The short reply to a visitor: where they are on their way, the answer, why, what to do."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise, zip_longest

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.answers import Answer, MadeByHand, ReadOtherwise
from oddswap.reasoning.checking.mistakes import Mistake
from oddswap.reasoning.in_hand import InHand, in_hand, said_from
from oddswap.reasoning.opening.outside import OnlySearchedOutside
from oddswap.reasoning.ticket_answers import OffTheWay, OnTheWay, SeveralPlaces, sent_at_once
from oddswap.reasoning.verdicts.findings import LOOKALIKE, ORDINARY, OTHER_TURNS
from oddswap.reasoning.verdicts.partly import RestIsFree
from oddswap.reasoning.verdicts.repairs import HandTurn, Repair
from oddswap.reasoning.verdicts.slips import EachFaceMirrored, FaceMirrored, FacesExchanged, FaceTurned, PhotographsMirrored
from oddswap.values.grammar import capital, counted_words, listed, number_word, ordinal, singular, times_word, uncapital
from oddswap.words.table import Reader
from oddswap.words.texts import TEXTS, texts_of
from oddswap.words.to_visitors.heard import heard, piece_names, reader_if, slip_for_anybody
from oddswap.words.to_visitors.moves import LAYERS, SIDES, letters_explained, moves_introduced, moves_word
from oddswap.words.to_visitors.places import hold_words, place_words, wrong_slots
from oddswap.words.to_visitors.why import FEW, called, measuring_for_anybody, verdict_for_anybody, why_sentences
from oddswap.words.verdicts import NOTHING_TO_TURN, REPLY_BY_HAND, REPLY_CLOSED, REPLY_SEARCHED, TO_MEASURE, wording_of

SAYS = texts_of("replies")
WENT_WRONG = TEXTS["went wrong"]


def where_words(puzzle: Puzzle, where: OnTheWay, reader: Reader) -> str:
    """Where they are, and what went wrong."""
    here = f"You have made {counted_words(where.done, moves_word(puzzle))}" if where.done else "You are at the beginning"
    if not where.mistakes:
        return f"{here}, and all is well."
    wrong = listed(_went_wrong(puzzle, mistake, reader) for mistake in where.mistakes)
    return f"{here}. Something went otherwise on the way: {wrong}. {SAYS.soon}"


def _went_wrong(puzzle: Puzzle, mistake: Mistake, reader: Reader) -> str:
    made = " ".join(said_from(puzzle, name, reader.holding) for name in mistake.made)
    words = WENT_WRONG[mistake.sort] if mistake.turn is not None else "{made} was added at the end"
    return words.format(at=number_word(mistake.at + 1), before=number_word(mistake.at), made=made)


def which_words(puzzle: Puzzle, where: SeveralPlaces, reader: Reader) -> str:
    """What to look at, where what is seen does not tell."""
    looks = listed(place_words(puzzle, slot, reader.holding) for slot in where.look_at[:2]) if where.look_at else "every side"
    return SAYS.which.format(places=number_word(where.places), looks=looks)


def what_follows(puzzle: Puzzle, left: int) -> str:
    """What to do after the next turns, when so many are left."""
    if not left:
        return SAYS.last
    return SAYS.then.format(left=counted_words(left, moves_word(puzzle)), remain="remain" if left > 1 else "remains")


MOST, NAMED = 2, 4
"""So many likely slips are told with what to do if they were made, and so many are asked about, if they are of whole faces."""
OF_FACES = PhotographsMirrored, EachFaceMirrored, FacesExchanged, FaceTurned, FaceMirrored
LINE = 20
"""So many turns stand in one line at most."""


@dataclass(frozen=True)
class MovesLine:
    """Moves in a line of their own."""

    text: str


@dataclass(frozen=True)
class Reply:
    """A reply in its order: a greeting, the answer, why, then paragraphs of what to do; plain text throughout."""

    greeting: str
    answer: str
    why: str
    to_do: tuple[str | MovesLine, ...]


def reply(answer: Answer, reader: Reader) -> Reply:
    """What to write to the visitor who reads it as ``reader``."""
    found, puzzle = answer.diagnosis, answer.puzzle
    if where := found.one(OnTheWay):
        return Reply(SAYS.again, where_words(puzzle, where, reader), "", tuple(_step_by_step(answer, reader)))
    if several := found.one(SeveralPlaces):
        return Reply(SAYS.again, which_words(puzzle, several, reader), "", (SAYS.wait,))
    thanks = f"{SAYS.again} {SAYS.elsewhere}" if found.has(OffTheWay) else SAYS.thanks
    first, *rest = why_sentences(answer, reader) or ("",)
    why = " ".join([f"Why: {uncapital(first)}", *rest]) if first else ""
    return Reply(thanks, _opening(answer), why, tuple(_what_to_do(answer, reader)))


def _opening(answer: Answer) -> str:
    """The answer in one sentence."""
    found, puzzle = answer.diagnosis, answer.puzzle
    if answer.untried or found.has(OnlySearchedOutside):
        return REPLY_SEARCHED
    if answer.outside:
        return REPLY_CLOSED
    if found.has(MadeByHand):
        return REPLY_BY_HAND.format(**called(puzzle))
    return TO_MEASURE if found.hangs_on_measuring else verdict_for_anybody(puzzle, wording_of(found))


def _what_to_do(answer: Answer, reader: Reader) -> Iterator[str | MovesLine]:
    found, puzzle = answer.diagnosis, answer.puzzle
    words = called(puzzle)
    if doubt := found.one(ReadOtherwise):
        said = {"written": doubt.written, "which": ordinal(doubt.number), "times": times_word(doubt.number)}
        yield SAYS.asked.format(**said, side=SIDES[doubt.face], outer=LAYERS[doubt.face])
    if answer.way_out is not None:
        yield from _mended(answer, reader)
    elif found.hangs_on_measuring:
        yield from measuring_for_anybody(answer, reader)
    elif found.asked:
        yield f"Please send {', and then '.join(heard(puzzle, asked, reader) for asked in found.asked[:2])}."
        yield SAYS.patience.format(**words, comes="comes" if found.has(RestIsFree) else "may well come")
    elif found.verdict in (ORDINARY, LOOKALIKE) or (found.verdict == OTHER_TURNS and not found.has(MadeByHand)):
        yield SAYS.place_first.format(**words)
    else:
        yield from _looked_again(answer, reader)
        enough = f": {_enough(answer.repair)} by hand is enough" if answer.repair else ""
        so = f"If {'all is as you described it' if found.slips else 'it is so'}, a piece went back wrongly, or a sticker moved."
        mended = any(one.way_out and one.way_out.moves for one in answer.corrected)
        yield f"{SAYS.none_of_these if mended and puzzle.geometry else f'{so} {SAYS.no_force}'}{enough}."


def _step_by_step(answer: Answer, reader: Reader) -> Iterator[str | MovesLine]:
    """The next few moves of somebody who is on the way, and what then follows."""
    if not (answer.way_out and answer.way_out.moves):
        yield from _what_to_do(answer, reader)
        return
    done, hold = _in_hand(answer, reader)
    now = sent_at_once(answer, done.way)
    yield from (f"{hold}:", MovesLine(now), letters_explained(answer.turning, now))
    yield what_follows(answer.puzzle, len(done.way.split()) - len(now.split()))
    yield SAYS.stop if answer.puzzle.geometry else SAYS.stop_flat


def _enough(repair: Repair) -> str:
    """How little a repair by hand is, without saying at which pieces."""
    return listed(
        f"turning one {singular(change.family)} in its place"
        if isinstance(change, HandTurn)
        else f"swapping two {change.family}"
        if len(change.slots) == 2
        else f"moving {number_word(len(change.slots))} {change.family} round"
        for change in repair.by_hand
    )


def _looked_again(answer: Answer, reader: Reader) -> Iterator[str | MovesLine]:
    """The likeliest slips, each with what to do if it was made, or where else an eye may have slipped."""
    puzzle, found, hold = answer.puzzle, answer.diagnosis, ""
    asked, made = "Please look again: perhaps", []
    for number, (slip, corrected) in enumerate(zip_longest(found.slips[:NAMED], answer.corrected)):
        question = f"{asked} {slip_for_anybody(puzzle, slip, reader)}?"
        asked = "Or perhaps"
        if number >= MOST and not isinstance(slip.mistake, OF_FACES):
            continue
        if number >= MOST:
            yield f"{question} Then write, and we send the {moves_word(puzzle)}."
            continue
        way, views = corrected and corrected.way_out, corrected.diagnosis.asked if corrected else ()
        if views:
            yield f"{question} If so, please send {heard(puzzle, views[0], reader_if(puzzle, slip, reader))}."
            continue
        if not way or not way.moves:
            yield f"{question} If so, it is solved already." if way and way.moves == "" else question
            continue
        done, now = _in_hand(corrected, reader_if(puzzle, slip, reader))
        yield f"{question} If so, {'hold it the same way' if now == hold else uncapital(now)}, for {_count(corrected)}:"
        yield from map(MovesLine, _lines(done.way))
        made.append(done.way)
        hold = now
    if made:
        yield letters_explained(answer.turning, " ".join(made))
        return
    odd = sorted(found.first.displaced()) if found.first else wrong_slots(puzzle, answer.appearance)
    if not found.slips and 0 < len(odd) <= FEW:
        places = listed(place_words(puzzle, puzzle.slots[slot], reader.holding) for slot in odd)
        yield f"Please look at {places} again, in good light: an eye slips more easily than a piece."


def _mended(answer: Answer, reader: Reader) -> Iterator[str | MovesLine]:
    """How to hold it, the moves, and what their letters mean."""
    found, way = answer.diagnosis, answer.way_out
    if not way.moves:
        yield "We have not found a way out yet, and go on looking." if way.moves is None else NOTHING_TO_TURN
        return
    done, hold = _in_hand(answer, reader)
    lead = ""
    if found.verdict == LOOKALIKE and len(found.culprits) > 1:
        lead = "You cannot see which, and need not know: these turns mend any of them. "
    elif found.verdict == OTHER_TURNS and answer.copy is None:
        lead = "If your copy makes these turns: "
    yield f"{lead}{uncapital(hold) if lead.endswith(': ') else hold}:"
    yield from map(MovesLine, _lines(done.way))
    yield f"{letters_explained(answer.turning, done.way)} {counted(answer)}."
    for joint in answer.puzzle.joints:
        names = tuple(answer.puzzle.slots[piece] for piece in joint)
        yield f"{capital(piece_names(answer.puzzle, names, reader, found.explanation))} are joined and turn as one."
    if answer.outside or way.phases and answer.turning.leaves_outline:
        yield SAYS.changes_shape
    elif answer.puzzle.shape_first and not answer.puzzle.leaves_outline:
        yield SAYS.blocked
    elif found.verdict == OTHER_TURNS and answer.copy is None:
        yield SAYS.if_they_turn
    else:
        yield SAYS.stop if answer.puzzle.geometry else SAYS.stop_flat


def _in_hand(answer: Answer, reader: Reader) -> tuple[InHand, str]:
    """The answer in the reader's hands, and the order how to hold it throughout."""
    done = in_hand(answer, reader.holding)
    hold = f"{hold_words(answer.puzzle, answer.appearance, done.holding, reader.colours)}, throughout"
    return done, moves_introduced(answer.puzzle) or hold


def counted(answer: Answer) -> str:
    """How many moves the easiest way has, and whether none has fewer."""
    way = answer.easiest
    shortest = "; no way is shorter" if answer.way_out.shortest and way.length == answer.way_out.length else ""
    return f"{capital(_count(answer))}{shortest}"


def _count(answer: Answer) -> str:
    return counted_words(answer.easiest.length, moves_word(answer.puzzle))


def _lines(moves: str) -> list[str]:
    """Moves in lines that an eye can hold, of lengths as equal as can be."""
    names = moves.split()
    lines = -(-len(names) // LINE)
    cuts = [round(k * len(names) / lines) for k in range(lines + 1)]
    return [" ".join(names[a:b]) for a, b in pairwise(cuts)]
