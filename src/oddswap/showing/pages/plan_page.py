"""A plan carried out, as a page to read and as plain data."""

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.teaching.carried_out import CarriedOut, Done
from oddswap.reasoning.teaching.plan_culprits import OddSwap, Trouble
from oddswap.showing.pages.markdown import as_code, escaped
from oddswap.values.grammar import capital, listed
from oddswap.words import say
from oddswap.words.to_visitors.moves import names_explained
from oddswap.words.ways.plans import DONE, back_words, blamed_words, halted_words, odd_words, plan_notes, steps_words


def plan_data(puzzle: Puzzle, done: CarriedOut, scramble: str | None = None) -> dict:
    """What happened as plain data, by ``schemas/plan.json``."""
    return {
        "puzzle": puzzle.name,
        "plan": done.plan.name,
        "scramble": scramble,
        "events": [_event(event) for event in done.events],
        "moves": done.moves,
        "length": _length(puzzle, done),
        "finished": done.finished,
        "stuck": done.stuck and say(done.stuck),
        "notes": list(plan_notes(done, scramble)),
    }


def _event(event: Done | Trouble | OddSwap) -> dict:
    if isinstance(event, Done):
        parts = [{"name": part.name or None, "holding": part.holding, "moves": part.moves} for part in event.parts]
        return {"sort": "done", "stage": event.stage, "slots": list(event.slots), "parts": parts}
    if isinstance(event, OddSwap):
        named = {"sort": "odd swap", "stage": event.stage, "mend": event.mend, "family": event.family, "twins": event.twins}
        culprits = [list(culprit.pieces) for culprit in event.culprits]
        return {**named, "real": not culprits, "culprits": culprits, "placed": event.placed, "words": say(event)}
    return {
        "sort": "trouble",
        "stage": event.stage,
        "laws": [law.statement for law in event.laws],
        "culprits": [list(culprit.pieces) for culprit in event.culprits],
        "words": event.words,
        "back_to": event.back_to,
        "moves": event.moves,
    }


def _length(puzzle: Puzzle, done: CarriedOut) -> int:
    return sum(name in puzzle.turns for name in done.moves.split())


def plan_markdown(puzzle: Puzzle, done: CarriedOut, scramble: str | None = None) -> str:
    """The stages in words, with the trouble where it turned up and what was done about it."""
    parts = [f"# {capital(escaped(done.plan.name))}: {escaped(puzzle.title)}"]
    if scramble is not None:
        parts.append(f"**Scramble:** `{scramble}`")
    said = None
    for event in done.events:
        if not isinstance(event, Done):
            parts += _odd(event) if isinstance(event, OddSwap) else _trouble(event)
            said = None
            continue
        if event.stage != said:
            parts.append(f"## {capital(escaped(event.stage))}")
            said = event.stage
        parts.append(_done(event))
    if done.stuck:
        parts.append(f"**Stuck:** {escaped(say(done.stuck))}")
    else:
        parts.append(f"**Done** {DONE.format(_length(puzzle, done))}")
    if named := names_explained(puzzle, [scramble, done.moves]):
        parts.append(escaped(named))
    return "\n\n".join(parts) + "\n"


def _done(event: Done) -> str:
    steps = [(f"*{escaped(part.name)}*" if part.name else "", as_code(part.holding), as_code(part.moves)) for part in event.parts]
    return f"{escaped(listed(event.slots))}: {steps_words(steps)}"


def _odd(event: OddSwap) -> list[str]:
    words = say(event).rstrip(".")
    return [f"## An odd swap at the stage {escaped(event.stage)}", escaped(odd_words(event)), f"**To blame:** {escaped(words)}."]


def _trouble(event: Trouble) -> list[str]:
    back = back_words(f"*{escaped(event.back_to)}*", as_code(event.moves))
    return [
        f"## Trouble at the stage {escaped(event.stage)}",
        escaped(halted_words(event)),
        f"**To blame:** {escaped(blamed_words(event))} {back}",
    ]
