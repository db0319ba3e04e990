"""A plan carried out, as a page to read and as plain data."""

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.teaching.carried_out import CarriedOut, Done
from oddswap.showing.pages.markdown import escaped
from oddswap.values.grammar import capital, listed
from oddswap.words import say
from oddswap.words.alarms import law_statements

COUNTING = "each stage takes as few turns and sequences as it can, a sequence counting as one; the whole is not the shortest way"


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
        "notes": [COUNTING, *([] if scramble else ["scramble is null: none was asked for"])]
        + ([] if done.stuck else ["stuck is null: the plan went through"]),
    }


def _event(event) -> dict:
    if isinstance(event, Done):
        parts = [{"name": part.name or None, "holding": part.holding, "moves": part.moves} for part in event.parts]
        return {"sort": "done", "stage": event.stage, "slots": list(event.slots), "parts": parts}
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
            parts += _trouble(event)
            said = None
            continue
        if event.stage != said:
            parts.append(f"## {capital(escaped(event.stage))}")
            said = event.stage
        parts.append(f"{escaped(listed(event.slots))}: {_describe_parts(event)}")
    if done.stuck:
        parts.append(f"**Stuck:** {escaped(say(done.stuck))}")
    else:
        parts.append(f"**Done** after {_length(puzzle, done)} turns; {COUNTING}.")
    return "\n\n".join(parts) + "\n"


def _describe_parts(event: Done) -> str:
    if not event.parts:
        return "right already."
    words = []
    for part in event.parts:
        name = f"*{escaped(part.name)}*" if part.name else ""
        if part.holding:
            name += f" (held after `{part.holding}`)"
        words.append(f"{name} `{part.moves}`".strip())
    return ", then ".join(words) + "."


def _trouble(event) -> list[str]:
    broken = f" {escaped(law_statements(event.laws))}" if event.laws else ""
    others = [escaped(listed(culprit.pieces)) for culprit in event.culprits[1:]]
    blame = f"**To blame:** {escaped(event.words)}." + (f" It could as well be {' or '.join(others)}." if others else "")
    back = f"Back to the stage *{escaped(event.back_to)}*"
    how = f"Hold it otherwise, `{event.moves}`. {back}." if event.moves else f"{back}, and place it the other way round."
    return [
        f"## Trouble at the stage {escaped(event.stage)}",
        f"No sequence of this stage goes on from here.{broken}",
        f"{blame} {how}",
    ]
