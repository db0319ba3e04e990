"""What is said of a plan that is carried out: its trouble, who is to blame, and how it goes on."""

from collections.abc import Iterable

from oddswap.errors import printable
from oddswap.reasoning.teaching import phases
from oddswap.reasoning.teaching.carried_out import CarriedOut
from oddswap.reasoning.teaching.plan_culprits import NoTurningHelps, OddSwap, Trouble
from oddswap.values.grammar import listed
from oddswap.words.alarms import law_statements
from oddswap.words.table import say, says

COUNTING = "each stage takes as few turns and sequences as it can, a sequence counting as one; the whole is not the shortest way"
DONE = f"after {{}} turns; {COUNTING}."
AS_IF_HELD = "Keep your hold: *as if held after* says how the whole puzzle would lie for the sequence as the plan has it."


@says(phases.PlaceInStage)
def stage_words(aim: phases.PlaceInStage) -> str:
    """Which slots a stage of a plan fills."""
    return f"{aim.stage}, for {listed(aim.slots)}" + (", the other way round this time" if aim.again else "")


@says(OddSwap)
def odd_swap_words(swap: OddSwap) -> str:
    """Whether an odd swap is real or hides in lookalikes, and who is to blame."""
    if swap.culprits:
        others = len(swap.culprits) - 1
        as_well = f" It could as well be any of {others} other such changes." if others else ""
        hidden = f"this swap is a false parity: {say(swap.culprits[0])}.{as_well}"
        return f"{hidden} That came about in the stage {printable(swap.placed)}; the sequence makes such a change, too"
    makers = ", ".join(swap.turns)
    twins = f" Where {swap.family} look alike, two of those may have been swapped instead." if swap.twins else ""
    return f"this swap of {swap.family} is real: the quarter turns {makers} make three each, and their number was odd.{twins}"


@says(NoTurningHelps)
def no_turning_words(finding: NoTurningHelps) -> str:
    """Why a plan cannot go on."""
    laws = law_statements(finding.laws)
    return f"the stage {printable(finding.stage)} cannot go on, and no turning helps: {laws}".rstrip(": ")


def plan_notes(done: CarriedOut, scramble: str | None) -> Iterable[str]:
    """What was counted, and why some data are null."""
    yield COUNTING
    if not scramble:
        yield "scramble is null: none was asked for"
    if not done.stuck:
        yield "stuck is null: the plan went through"


def halted_words(event: Trouble) -> str:
    """That a stage cannot go on, and which laws are broken."""
    return f"No sequence of this stage goes on from here. {law_statements(event.laws)}".rstrip()


def odd_words(event: OddSwap) -> str:
    """That a stage needs an odd swap, and which sequence makes it."""
    even = f"All other sequences of this stage make an even number of swaps of {event.family}; an odd number is needed."
    return f"{even} The sequence {printable(event.mend)} makes it."


def blamed_words(event: Trouble) -> str:
    """Who is to blame, and who else could be."""
    others = [listed(culprit.pieces) for culprit in event.culprits[1:]]
    return f"{say(event)}." + (f" It could as well be {' or '.join(others)}." if others else "")


def back_words(stage: str, holding: str) -> str:
    """How a plan goes on after trouble: from an earlier stage, and held otherwise if that mends it; both as they are shown."""
    if holding:
        return f"Hold it otherwise, {holding}. Back to the stage {stage}."
    return f"Back to the stage {stage}, and place it the other way round."


def steps_words(steps: Iterable[tuple[str, str, str]]) -> str:
    """What is done in a stage: for each step its name, its holding and its moves, as they are shown; empty what it has not."""
    words = [" ".join(filter(None, (name, holding and f"(as if held after {holding})", moves))) for name, holding, moves in steps]
    return f"{', then '.join(words) or 'right already'}."
