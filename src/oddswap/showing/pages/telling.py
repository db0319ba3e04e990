"""The way out of an answer told as a teacher would: in phases, easiest way first; in words and as plain data."""

from collections.abc import Iterable

from oddswap.reasoning.answers import Answer
from oddswap.reasoning.in_hand import InHand, in_hand, rotations_first
from oddswap.reasoning.teaching.phases import HoldOtherwise
from oddswap.reasoning.ticket_answers import NotOnOwnCopy
from oddswap.reasoning.ways.findings import Phase
from oddswap.showing.pages.finding_data import fields_of
from oddswap.showing.pages.markdown import as_code, escaped
from oddswap.values.grammar import capital, uncapital
from oddswap.values.position import START, Holding
from oddswap.words import say
from oddswap.words.laws import value_words
from oddswap.words.table import Reader, at_work
from oddswap.words.to_visitors.moves import names_explained
from oddswap.words.to_visitors.places import hold_words
from oddswap.words.ways import ways_out

FIELDS = ("moves", "length", "lower_bound", "shortest", "counting", "turns", "phases", "alternatives")


def way_data(answer: Answer) -> dict:
    """The way out as plain data, by ``schemas/answer.json``."""
    way = answer.way_out
    if way is None:
        return dict.fromkeys(FIELDS)
    return {
        "moves": _from_described(answer, way.moves),
        **fields_of(way, "length lower_bound shortest counting turns"),
        "phases": [*([phase_data(Phase(HoldOtherwise(), answer.held))] if answer.held else []), *way_phases(answer)] or None,
        "alternatives": [
            {
                "chosen_for": list(taught.sorts),
                "moves": _from_described(answer, taught.moves),
                **fields_of(taught, "length grip_changes effort"),
                "turns_to_remember": taught.remember,
                "awkward_turns": taught.awkward,
                "mends": taught.mends and list(taught.mends.pieces),
                "leaves": list(map(say, taught.leaves)),
                "phases": [phase_data(phase) for phase in taught.phases] or None,
            }
            for taught in answer.told
        ],
    }


def _from_described(answer: Answer, moves: str | None) -> str | None:
    """The same moves from the puzzle as it was described, which may have to be held otherwise first."""
    return moves and f"{answer.held} {moves}".strip()


def way_phases(answer: Answer) -> list[dict]:
    """The phases of the way out itself: its stages, or what its structure tells; empty where it is one stretch."""
    if answer.way_out.phases:
        return list(map(phase_data, answer.way_out.phases))
    return [phase_data(phase) for taught in answer.told if taught.turns == answer.way_out.moves for phase in taught.phases]


def phase_data(phase: Phase) -> dict:
    """A phase as plain data."""
    return {
        **fields_of(phase, "name words moves"),
        "pieces": [{"piece": piece, "from": source, "to": target} for piece, source, target in phase.pieces],
        "tally": [
            {"name": q.name, "before": value_words(q, before), "after": value_words(q, after)} for q, before, after in phase.tally
        ],
    }


def taught_parts(answer: Answer) -> list[str]:
    """Markdown for the ways as they are told; nothing where the way out is one stretch and no other is better."""
    ways, way = answer.told, answer.way_out
    if len(ways) < 2 and (way.phases or not any(taught.phases for taught in ways)):
        return []
    parts = []
    for taught in ways:
        parts.append(f"### {capital(escaped(ways_out.chosen_words(taught, way)))}: `{taught.moves}`")
        parts += [escaped(ways_out.effort_words(taught)), escaped(ways_out.mended_words(taught))]
        parts.append("\n".join(map(_line, taught.phases)))
    return [*filter(None, parts), ways_out.EFFORT]


def _line(phase: Phase) -> str:
    return f"1. **{capital(escaped(phase.name))}** `{phase.moves}`: {escaped(ways_out.phase_words(phase))}"


def hold_lines(done: InHand, reader: Reader) -> list[str]:
    """How to hold it for the moves that follow, in Markdown; nothing where it is held as its slots are named, without colours."""
    puzzle = done.answer.puzzle
    if done.first:
        return [ways_out.TURN_FIRST.format(f"`{done.first}`")]
    if done.eye == START and not reader.colours or not puzzle.alphabet.is_box:
        return []
    hold = hold_words(puzzle, done.answer.appearance, done.holding, reader.colours)
    return [ways_out.held_throughout(escaped(hold), as_code(done.held))]


def from_solved_line(done: InHand, moves: str, reader: Reader) -> str:
    r"""How to make ``moves``, which those hands say, on a solved puzzle, in Markdown.

    >>> import oddswap
    >>> ticket = oddswap.parse_ticket('puzzle = "cube:3"\nafter = "R U"\n[colours]\nU = "white"\nF = "red"')
    >>> from oddswap.reasoning.in_hand import in_hand
    >>> done = in_hand(oddswap.answer(ticket.puzzle, ticket.appearance))
    >>> from_solved_line(done, done.answer.set_up, oddswap.reader_of(ticket))
    'From solved: hold it white on top, red towards you, and make `R U`'
    """
    puzzle = done.answer.puzzle
    if done.first or done.eye == START and not reader.colours or not puzzle.alphabet.is_box:
        return ways_out.set_up_words("", as_code(f"{moves} {done.answer.held_back}".strip()))
    turns, begun = from_solved(done, moves)
    hold = hold_words(puzzle, puzzle.appearance(puzzle.solved), begun, reader.colours)
    return ways_out.set_up_words(escaped(uncapital(hold)), as_code(turns))


def from_solved(done: InHand, moves: str) -> tuple[str, Holding]:
    """The turns of ``moves``, which those hands say, and how they hold the solved puzzle for these."""
    whole = rotations_first(moves)
    return " ".join(moves.split()[len(whole) :]), done.answer.puzzle.settled(" ".join(whole))[1].after(done.eye)


def set_up_lines(answer: Answer, reader: Reader) -> list[str]:
    """How to make what was described on the explainer's copy, in Markdown, or why that cannot be; nothing where no turns do."""
    own, hands = at_work(answer, reader)
    if missing := own.diagnosis.one(NotOnOwnCopy):
        return [f"{capital(escaped(say(missing)))}."]
    if not own.set_up:
        return []
    done = in_hand(own, hands.holding)
    return [from_solved_line(done, done.answer.set_up, hands), *explained(own, [done.answer.set_up])]


def explained(answer: Answer, moves: Iterable[str | None]) -> list[str]:
    """What the names of inner layers and the like in ``moves`` mean, in a paragraph of Markdown."""
    return list(filter(None, [escaped(names_explained(answer.turning, moves))]))


def as_described(answer: Answer) -> str | None:
    """The set-up for what was described, from the puzzle as its slots are named."""
    return None if answer.set_up is None else f"{answer.set_up} {answer.held_back}".strip()
