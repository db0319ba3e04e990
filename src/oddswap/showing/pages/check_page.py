"""A sequence that was tried, and a place that was lost, as a page to read and as plain data."""

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.checking.check import Lost, Place, Trial, TriedOtherwise
from oddswap.showing.pages.finding_data import fields_of
from oddswap.showing.pages.markdown import as_code, escaped, page
from oddswap.values.grammar import capital
from oddswap.values.position import START, Appearance
from oddswap.words import say
from oddswap.words.table import EXPLAINER, Reader
from oddswap.words.to_visitors.moves import names_explained
from oddswap.words.to_visitors.places import hold_words
from oddswap.words.ways import trials

MOST_PLACES = 12
"""So many places are shown at most, those with the fewest mistakes first."""


def check_data(puzzle: Puzzle, tried: Trial, lost: Lost | None = None, other: TriedOtherwise | None = None) -> dict:
    """What came of it as plain data, by ``schemas/check.json``."""
    return {
        "puzzle": puzzle.name,
        **fields_of(tried, "turns solves wrong near_count looked left_after best lower_bound impossible"),
        "length": len(tried.turns),
        "does": say(tried.does) if tried.does else "",
        "near": [
            {"moves": near.moves, "length": len(near.moves.split()), "changes": [change.words for change in near.changes]}
            for near in tried.near
        ],
        "counting": say(tried.counted),
        "place": lost and _lost(lost),
        "read_otherwise": other and fields_of(other, "written moves solves"),
        "notes": list(trials.trial_notes(tried, lost, other)),
    }


def _lost(lost: Lost) -> dict:
    return {
        "candidates": [_place(place) for place in lost.places[:MOST_PLACES]],
        "count": len(lost.places),
        **fields_of(lost, "looked decided look_at"),
    }


def _place(place: Place) -> dict:
    return {
        "done": place.done,
        "mistakes": [mistake.words for mistake in place.mistakes],
        **{name: " ".join(getattr(place, name)) for name in ("made", "undo", "rest")},
    }


def check_markdown(
    puzzle: Puzzle,
    tried: Trial,
    lost: Lost | None = None,
    other: TriedOtherwise | None = None,
    reader: Reader = EXPLAINER,
    seen: Appearance | None = None,
    written: str = "",
) -> str:
    """What came of it in words, as a teacher would say it to the ``reader``, whose turns these are.

    With what was ``seen`` it says how to hold it, if they hold it in their own way or have colours of their own; where the moves
    that were ``written`` are other ones than these turns, it shows both.
    """
    title, asked, hold = escaped(puzzle.title), escaped(f"{capital(say(other))}.") if other else "", ""
    if seen is not None and (reader.colours or reader.holding != START):
        hold = escaped(f"{hold_words(puzzle, seen, reader.holding, reader.colours)}: {trials.SAID_SO}.")
    if lost is not None:
        moves = [move for place in lost.places[:MOST_PLACES] for move in (*place.undo, *place.rest)]
        unsure = "" if tried.solves else trials.NO_WAY
        parts = [f"# Where am I? {title}", asked, hold, unsure, *_where(puzzle, lost, reader), f"{capital(trials.HELD)}."]
    else:
        moves = [*tried.turns, *(near.moves for near in tried.near)]
        turns = " ".join(tried.turns)
        made = as_code(turns) or trials.NO_TURN
        if turns and written not in ("", turns):
            made = f"{as_code(written)}\n\n{trials.TURN_BY_TURN} {made}"
        parts = [f"# {'Yes' if tried.solves else 'Not yet'}: {title}", asked, hold, made]
        parts += [*map(escaped, trials.trial_sentences(puzzle, tried, reader)), *([] if tried.solves else _close(tried))]
        parts.append(escaped(trials.best_words(tried)))
    return page(*parts, escaped(names_explained(puzzle, moves)))


def _close(tried: Trial) -> list[str]:
    if not tried.near:
        return [trials.none_near(tried)]
    lines = [f"- `{near.moves or '(no turns)'}` – {escaped(trials.mistakes_words(near.changes))}" for near in tried.near]
    return [f"## {trials.near_heading(tried)}", "\n".join(lines)]


def _where(puzzle: Puzzle, lost: Lost, reader: Reader) -> list[str]:
    shown = [f"- {_at(place)}" for place in lost.places[:MOST_PLACES]]
    more = trials.SOME_SHOWN.format(MOST_PLACES, len(lost.places)) if len(lost.places) > MOST_PLACES else ""
    return [escaped(trials.decided_words(puzzle, lost, reader)), "\n".join(shown), more]


def _at(place: Place) -> str:
    undo, rest = (as_code(" ".join(turns)) for turns in (place.undo, place.rest))
    return trials.place_words(place, escaped(trials.mistakes_words(place.mistakes)), undo, rest)
