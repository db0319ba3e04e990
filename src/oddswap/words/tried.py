"""What is said of what was tried: why a plan could not go on, and which mistakes a hand may have made in a sequence."""

from oddswap.errors import printable
from oddswap.reasoning.checking.mistakes import Mistake
from oddswap.reasoning.teaching.aims import MeetTrouble
from oddswap.reasoning.teaching.carried_out import TroubleTooOften
from oddswap.reasoning.teaching.plan_culprits import MiddleTurned, NoTurningHelps, Trouble
from oddswap.words.alarms import law_statements
from oddswap.words.reader import EXPLAINER, Reader
from oddswap.words.table import say, says

MISTAKES = {
    "left out": "turn {number}, {0.turn}, left out",
    "reversed": "turn {number}, {0.turn}, reversed",
    "by another amount": "turn {number}, {0.turn}, made {made}",
    "on another slab": "turn {number}, {0.turn}, made on another slab, {made}",
    "made twice": "turn {0.at}, {0.turn}, made twice",
    "added": "{made} added before turn {number}, {0.turn}",
}
PLANS = {
    MiddleTurned: "the middle of the puzzle cannot be seen: it has turned a quarter against the rest",
    NoTurningHelps: "the stage {stage} cannot go on, and no turning helps: {laws}",
    TroubleTooOften: "the plan met trouble more than {0.times} times",
}
AT_THE_END = "{made} added at the end"


@says(Trouble, MeetTrouble)
def blame_words(trouble: Trouble | MeetTrouble, reader: Reader = EXPLAINER) -> str:
    """Who is to blame."""
    return say(trouble.blamed, reader)


@says(*PLANS)
def plan_words(finding, reader: Reader = EXPLAINER) -> str:
    """What has turned where nobody can see it, or why a plan cannot go on."""
    laws = law_statements(getattr(finding, "laws", ()))
    return PLANS[type(finding)].format(finding, stage=printable(getattr(finding, "stage", "")), laws=laws).rstrip(": ")


@says(Mistake)
def mistake_words(mistake: Mistake, reader: Reader = EXPLAINER) -> str:
    """What was done otherwise, and at which turn."""
    words = AT_THE_END if mistake.turn is None else MISTAKES[mistake.sort]
    return words.format(mistake, number=mistake.at + 1, made=" ".join(mistake.made))
