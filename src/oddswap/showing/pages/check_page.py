"""A sequence that was tried, and a place that was lost, as a page to read and as plain data."""

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.checking.check import LONGEST, Trial
from oddswap.reasoning.checking.place_lost import Lost, Place
from oddswap.showing.pages.markdown import escaped
from oddswap.values.grammar import capital, listed
from oddswap.words import say
from oddswap.words.ways import effect_of_several

MOST_PLACES = 12
"""So many places are told at most, those with the fewest mistakes first."""

MOST_SLOTS = 8
"""More slots than this are counted and not listed."""

HELD = "the puzzle is taken to be held now as it was at the start"


def check_data(puzzle: Puzzle, tried: Trial, lost: Lost | None = None) -> dict:
    """What came of it as plain data, by ``schemas/check.json``."""
    return {
        "puzzle": puzzle.name,
        "turns": list(tried.turns),
        "length": len(tried.turns),
        "solves": tried.solves,
        "does": say(tried.does),
        "wrong": list(tried.wrong),
        "near": [_near(near) for near in tried.near],
        "near_count": tried.near_count,
        "looked": tried.looked,
        "left_after": tried.left_after,
        "best": tried.best,
        "lower_bound": tried.lower_bound,
        "impossible": tried.impossible,
        "counting": say(tried.counted),
        "place": None if lost is None else _lost(lost),
        "notes": _notes(tried, lost),
    }


def _near(near) -> dict:
    changes = [change.words for change in near.changes]
    return {"moves": near.moves, "length": len(near.moves.split()), "changes": changes}


def _lost(lost: Lost) -> dict:
    return {
        "candidates": [_place(place) for place in lost.places[:MOST_PLACES]],
        "count": len(lost.places),
        "looked": lost.looked,
        "decided": lost.decided,
        "look_at": list(lost.look_at),
    }


def _place(place: Place) -> dict:
    return {
        "done": place.done,
        "mistakes": [mistake.words for mistake in place.mistakes],
        "made": " ".join(place.made),
        "undo": " ".join(place.undo),
        "rest": " ".join(place.rest),
    }


def _notes(tried: Trial, lost: Lost | None) -> list[str]:
    notes = []
    if tried.best is None:
        notes.append("best is null: " + ("no turns solve this" if tried.impossible else "no way was found in the time allowed"))
    if tried.left_after is None:
        notes.append("left_after is null: it needs a shortest way that is proved, and there is none here")
    if not tried.solves and not tried.looked and not tried.impossible:
        notes.append(f"no near sequences were looked for: at most {LONGEST} turns are")
    if lost is None:
        notes.append("place is null: --now was not given")
    else:
        notes.append(HELD)
    return notes


def check_markdown(puzzle: Puzzle, tried: Trial, lost: Lost | None = None) -> str:
    """What came of it in words, as a teacher would say it."""
    if lost is not None:
        title = f"# Where am I? {escaped(puzzle.title)}"
        return "\n\n".join([title, *_not_a_way(tried), *_where(lost), f"{capital(HELD)}."]) + "\n"
    count = len(tried.turns)
    parts = [f"# {'Yes' if tried.solves else 'Not yet'}: {escaped(puzzle.title)}"]
    parts.append(f"`{' '.join(tried.turns)}`" if count else "No turn was made.")
    does = say(tried.does) if count == 1 else effect_of_several(tried.does)
    parts.append(f"By {'itself it' if count == 1 else 'themselves these turns'} {escaped(does)}.")
    if tried.solves:
        parts.append(f"It solves the puzzle, in {_turns(count)}.")
    else:
        which = listed(tried.wrong) if len(tried.wrong) <= MOST_SLOTS else f"{len(tried.wrong)} slots"
        parts.append(f"At the end {escaped(which)} {'does' if len(tried.wrong) == 1 else 'do'} not look solved.")
        parts += _leaves(tried) + _close(tried)
    parts.append(_against_best(tried, count))
    return "\n\n".join(parts) + "\n"


def _turns(count: int) -> str:
    return "one turn" if count == 1 else f"{count} turns"


def _leaves(tried: Trial) -> list[str]:
    """Where it first leaves the right way: beside the nearest sequence, and beside the shortest ways."""
    parts = []
    if tried.near:
        kept = tried.near[0].changes[0].at
        parts.append(
            f"The first {_turns(kept)} can stay as they are."
            if kept > 1
            else "The first turn can stay as it is."
            if kept
            else "The very beginning has to change."
        )
    if tried.left_after is not None and tried.left_after < len(tried.turns):
        parts.append(
            f"The first {_turns(tried.left_after)} begin a shortest way; turn {tried.left_after + 1} leaves it."
            if tried.left_after > 1
            else "The first turn begins a shortest way; turn 2 leaves it."
            if tried.left_after
            else "No shortest way begins with turn 1; a longer way may."
        )
    return parts


def _close(tried: Trial) -> list[str]:
    if tried.near:
        how = "one change" if len(tried.near[0].changes) == 1 else "two changes"
        shown = tried.near_count if tried.near_count == len(tried.near) else f"{len(tried.near)} of {tried.near_count}"
        lines = [f"- `{near.moves or '(no turns)'}` – {escaped('; '.join(c.words for c in near.changes))}" for near in tried.near]
        return [f"## With {how} it works ({shown})", "\n".join(lines)]
    if tried.impossible:
        return ["No turns solve this position at all, so the mistake is not in your sequence: ask `oddswap answer`."]
    if tried.looked:
        return [f"No sequence with {'one change' if tried.looked == 1 else 'one or two changes'} works: begin afresh."]
    return [f"It has more than {LONGEST} turns, and near sequences are looked for only up to there."]


def _against_best(tried: Trial, count: int) -> str:
    if tried.impossible:
        return "There is no way out to compare it with."
    if tried.best is None:
        known = f"; none has fewer than {_turns(tried.lower_bound)}" if tried.lower_bound else ""
        return f"No way out was found in the time allowed{known}. Counting: {escaped(say(tried.counted))}."
    proof = "proved shortest" if tried.best == tried.lower_bound else f"none has fewer than {tried.lower_bound}"
    if tried.solves and count == tried.best == tried.lower_bound:
        return f"No way is shorter: this is proved ({escaped(say(tried.counted))})."
    yours = f"; yours is {_turns(count - tried.best)} longer" if tried.solves and count > tried.best else ""
    return f"The best way known has {_turns(tried.best)} ({proof}){yours}. Counting: {escaped(say(tried.counted))}."


def _not_a_way(tried: Trial) -> list[str]:
    return [] if tried.solves else ["Mind that the sequence is no way out, even without a mistake: check it alone first."]


def _where(lost: Lost) -> list[str]:
    if not lost.places:
        up_to = "one mistake" if lost.looked == 1 else "two mistakes"
        return [f"No place on this way agrees with what is seen, with up to {up_to}. Look again, or tell a fresh ticket."]
    parts = []
    if not lost.decided:
        parts.append(
            f"What is seen does not decide. Look next at {escaped(listed(lost.look_at[:3]))}."
            if lost.look_at
            else "What is seen does not decide, and no slot that was not seen would."
        )
    elif len(lost.places) > 1 and any(place.mistakes for place in lost.places[1:]):
        parts.append("The first answer needs the fewest mistakes; more mistakes could look the same.")
    parts.append("\n".join(f"- {_describe_place(place)}" for place in lost.places[:MOST_PLACES]))
    if len(lost.places) > MOST_PLACES:
        parts.append(f"These are {MOST_PLACES} of {len(lost.places)} that agree with what is seen.")
    return parts


def _describe_place(place: Place) -> str:
    rest = f"go on with `{' '.join(place.rest)}`" if place.rest else "nothing is left to do"
    if not place.mistakes:
        return f"After {_turns(place.done)}, all of them right: {rest}." if place.done else f"Still at the start: {rest}."
    wrong = escaped("; ".join(mistake.words for mistake in place.mistakes))
    undo = f"take back with `{' '.join(place.undo)}`, then " if place.undo else ""
    return f"{wrong}; you are after turn {place.done}: {undo}{rest}."
