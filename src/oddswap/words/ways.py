"""What is said of a way out beside its turns: how it was put together, and what each of its phases is for."""

from oddswap.reasoning.opening.findings import ChangeOutside, CloseBox, FinishInside, LeaveBox
from oddswap.reasoning.teaching import aims
from oddswap.reasoning.ways import findings
from oddswap.reasoning.ways.findings import Composed, Phase
from oddswap.values.grammar import listed
from oddswap.words.reader import EXPLAINER, Reader
from oddswap.words.table import say, says

COMPOSED = {
    findings.FromStages: "this way was put together from stages and is not the shortest",
    findings.NotInStages: "nor was a way put together from stages, slot by slot or by three-cycles, that these turns allow",
    findings.ThroughOpenBox: "this way leaves the box, changes what the turns inside cannot change, and finishes with them",
}
AIMS = {
    findings.GoShortest: "the shortest way there is",
    findings.SortIntoOrbits: "bring every piece among its own, the right way round",
    findings.FinishWith: "finish with {turns} alone",
    findings.MakeEven: "make every kind even, and turn straight what only turns in its place",
    findings.BringKindHome: "bring the {0.kind} home, by three-cycles",
    findings.BringOneByOne: "bring the pieces home one by one, sparing those that are there",
    findings.SlideLoops: "bring the pieces home by loops of the blank",
    LeaveBox: "leave the box",
    ChangeOutside: "exchange",
    CloseBox: "return",
    FinishInside: "finish with turns that keep the outline",
    aims.Approach: "bring the position to where the next part can work on it",
    aims.Finish: "a few turns more, and everything is in place",
    aims.Repeat: "the same few turns {0.times} times; together they make a tool that {effect}",
    aims.SetUp: "carry the pieces that have to change to where the tool reaches them",
    aims.UseTool: "the tool itself: from solved it {effect}",
    aims.UndoSetUp: "the set-up backwards; all that it disturbed goes back",
    aims.Displace: "take a piece out of the way; what else this disturbs comes back later",
    aims.ExchangePieces: "put another piece where the first one was",
    aims.UndoDisplacing: "the set-up backwards; what it disturbed goes back, except for the pieces that were exchanged",
    aims.PutBack: "the exchange backwards; the four parts together make a tool that {effect}",
    aims.HoldOtherwise: "hold it otherwise than it was described",
}


@says(*COMPOSED)
def composed_words(composed: Composed, reader: Reader = EXPLAINER) -> str:
    """How a way was put together."""
    return COMPOSED[type(composed)]


@says(*AIMS)
def aim_words(aim, reader: Reader = EXPLAINER) -> str:
    """What a phase is for."""
    effect = say(aim.effect, reader) if hasattr(aim, "effect") else ""
    return AIMS[type(aim)].format(aim, turns=" ".join(getattr(aim, "turns", ())), effect=effect)


@says(findings.FillSlots)
def fill_words(aim: findings.FillSlots, reader: Reader = EXPLAINER) -> str:
    """Which slots are filled."""
    return f"fill the last {len(aim.slots)} slots together" if aim.last else f"fill {' and '.join(aim.slots)}"


@says(aims.PlaceInStage)
def stage_words(aim: aims.PlaceInStage, reader: Reader = EXPLAINER) -> str:
    """Which slots a stage of a plan fills."""
    return f"{aim.stage}, for {listed(aim.slots)}" + (", the other way round this time" if aim.again else "")


@says(Phase)
def phase_words(phase: Phase, reader: Reader = EXPLAINER) -> str:
    """What a phase is for."""
    return say(phase.aim, reader)
