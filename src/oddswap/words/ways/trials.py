"""What is said of a sequence that was tried, and of a place that was lost."""

from collections.abc import Iterable, Iterator

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.checking.check import LONGEST, Lost, Place, Trial, TriedOtherwise
from oddswap.reasoning.checking.mistakes import Mistake
from oddswap.reasoning.ticket_answers import OnTheWay
from oddswap.values.grammar import listed
from oddswap.words.table import EXPLAINER, Reader, say, says
from oddswap.words.texts import TEXTS
from oddswap.words.to_visitors.places import place_words as slot_words
from oddswap.words.ways.ways_out import effect_of_several

MOST_SLOTS = 8
"""More slots than this are counted and not listed."""
HELD = "the puzzle is taken to be held now as it was at the start"
SAID_SO = "all turns here are said so"
NO_TURN = "No turn was made."
TURN_BY_TURN = "Turn by turn, with the puzzle held as at the start:"
NO_WAY = "Mind that the sequence is no way out, even without a mistake: check it alone first."
SOME_SHOWN = "These are {} of {} that agree with what is seen."
IMPOSSIBLE = "No turns solve this position at all, so the mistake is not in your sequence: ask `oddswap answer`."
MISTAKES = TEXTS["mistakes"]
AT_THE_END = "{made} added at the end"


@says(Mistake)
def mistake_words(mistake: Mistake) -> str:
    """What was done otherwise, and at which turn."""
    words = AT_THE_END if mistake.turn is None else MISTAKES[mistake.sort]
    return words.format(mistake, number=mistake.at + 1, made=" ".join(mistake.made))


def mistakes_words(mistakes: tuple[Mistake, ...]) -> str:
    """Several mistakes, one after another."""
    return "; ".join(map(say, mistakes))


@says(OnTheWay)
def on_the_way(where: OnTheWay) -> str:
    """How far along, with what mistakes, and what is to come."""
    wrong = f" with {mistakes_words(where.mistakes)}" if where.mistakes else ", all of them right"
    rest = f"to come: {' '.join(where.to_come)}" if where.to_come else "nothing is left to do"
    return f"the visitor is after {where.done} of {where.of} turns that were sent{wrong}; {rest}"


def trial_notes(tried: Trial, lost: Lost | None, other: TriedOtherwise | None = None) -> Iterator[str]:
    """Why some data are null, and what is taken for granted."""
    if tried.best is None:
        yield "best is null: " + ("no turns solve this" if tried.impossible else "no way was found in the time allowed")
    if tried.left_after is None:
        yield "left_after is null: it needs a shortest way that is proved, and there is none here"
    if not tried.solves and not tried.looked and not tried.impossible:
        yield f"no near sequences were looked for: at most {LONGEST} turns are"
    yield "place is null: --now was not given" if lost is None else HELD
    yield say(other) if other else "read_otherwise is null: each turn can mean one thing only"


def trial_sentences(puzzle: Puzzle, tried: Trial, reader: Reader = EXPLAINER) -> Iterator[str]:
    """What a sequence does, whether that solves the puzzle, and else up to where it is right."""
    one = len(tried.turns) == 1
    if tried.does:
        does = f"itself it {say(tried.does)}" if one else f"themselves these turns {effect_of_several(tried.does)}"
        yield f"By {does}."
    if tried.solves:
        yield f"It solves the puzzle, in {_turns(len(tried.turns))}."
        return
    which = _places(puzzle, tried.wrong, reader) if len(tried.wrong) <= MOST_SLOTS else f"{len(tried.wrong)} places"
    yield f"At the end {which} {'does' if len(tried.wrong) == 1 else 'do'} not look solved."
    if tried.near:
        kept = tried.near[0].changes[0].at
        stays = f"The {_first(kept)} can stay as {'it is' if kept == 1 else 'they are'}."
        yield stays if kept else "The very beginning has to change."
    if (left := tried.left_after) is not None and left < len(tried.turns):
        begins = f"The {_first(left)} begin{'s' if left == 1 else ''} a shortest way; turn {left + 1} leaves it."
        yield begins if left else "No shortest way begins with turn 1; a longer way may."


def _first(count: int) -> str:
    return "first turn" if count == 1 else f"first {count} turns"


def _places(puzzle: Puzzle, slots: Iterable[str], reader: Reader) -> str:
    return listed(slot_words(puzzle, slot, reader.holding) if reader.plain else slot for slot in slots)


def near_heading(tried: Trial) -> str:
    """What stands over the working sequences close by."""
    how = "one change" if len(tried.near[0].changes) == 1 else "two changes"
    shown = tried.near_count if tried.near_count == len(tried.near) else f"{len(tried.near)} of {tried.near_count}"
    return f"With {how} it works ({shown})"


def none_near(tried: Trial) -> str:
    """Why no working sequence close by is named."""
    if tried.impossible:
        return IMPOSSIBLE
    if tried.looked:
        return f"No sequence with {'one change' if tried.looked == 1 else 'one or two changes'} works: begin afresh."
    return f"It has more than {LONGEST} turns, and near sequences are looked for only up to there."


def best_words(tried: Trial) -> str:
    """How the sequence compares with the shortest way known."""
    count, counted = len(tried.turns), say(tried.counted)
    if tried.impossible:
        return "There is no way out to compare it with."
    if tried.best is None:
        known = f"; none has fewer than {_turns(tried.lower_bound)}" if tried.lower_bound else ""
        return f"No way out was found in the time allowed{known}. Counting: {counted}."
    proof = "proved shortest" if tried.best == tried.lower_bound else f"none has fewer than {tried.lower_bound}"
    if tried.solves and count == tried.best == tried.lower_bound:
        return f"No way is shorter: this is proved ({counted})."
    yours = f"; yours is {_turns(count - tried.best)} longer" if tried.solves and count > tried.best else ""
    return f"The best way known has {_turns(tried.best)} ({proof}){yours}. Counting: {counted}."


def _turns(count: int) -> str:
    return "one turn" if count == 1 else f"{count} turns"


def decided_words(puzzle: Puzzle, lost: Lost, reader: Reader = EXPLAINER) -> str:
    """How far what is seen decides where one is; empty where it does, and nothing else could look like that."""
    if not lost.places:
        up_to = "one mistake" if lost.looked == 1 else "two mistakes"
        return f"No place on this way agrees with what is seen, with up to {up_to}. Look again, or tell a fresh ticket."
    if lost.decided:
        several = any(place.mistakes for place in lost.places[1:])
        return "The first answer needs the fewest mistakes; more mistakes could look the same." if several else ""
    if lost.look_at:
        return f"What is seen does not decide. Look next at {_places(puzzle, lost.look_at[:3], reader)}."
    return "What is seen does not decide, and no place that was not seen would."


def place_words(place: Place, mistakes: str, undo: str, rest: str) -> str:
    """Where one may be and how to go on; ``mistakes``, what will ``undo`` them and the ``rest`` of the way as they are shown."""
    on = f"go on with {rest}" if place.rest else "nothing is left to do"
    if not place.mistakes:
        return f"After {_turns(place.done)}, all of them right: {on}." if place.done else f"Still at the start: {on}."
    return f"{mistakes}; you are after turn {place.done}: {f'take back with {undo}, then ' if place.undo else ''}{on}."
