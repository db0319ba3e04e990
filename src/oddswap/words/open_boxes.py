"""Boxes that leave their outline, joined pieces, and turns that break the laws of others, in words."""

from oddswap.reasoning.opening import outside
from oddswap.reasoning.verdicts.by_shape import AllRoundAsked, EverySideAsked, ShapeUnsure, SlotUnsure, TooFarAway, TooFarOut
from oddswap.reasoning.verdicts.findings import FacesTouch, MayBeBlocked, PiecesJoined, TurnsAsked, WallsApart
from oddswap.reasoning.verdicts.law_breaking import SmallestTurn, TurnsBreak
from oddswap.values.grammar import counted, listed
from oddswap.words.reader import EXPLAINER, Reader
from oddswap.words.table import name_of, says, says_so

says_so(
    {
        outside.CompareOutlines: "after every turn that changes the outline compare the copy with the picture of what it should "
        "now look like; if it catches, line it up, do not push",
        AllRoundAsked: "photographs of every side of the puzzle as it stands",
        EverySideAsked: "photographs of every side of the box as it stands",
        FacesTouch: "nobody has taken it apart, and after every turn all cells touched by whole faces, "
        "which is no model of a mechanism",
        MayBeBlocked: "if a layer will not go on, do not push: stop, line the layers up, or go back a turn",
        outside.NoMechanism: "that the cells touch by whole faces after every turn is a necessary test and no model of "
        "a mechanism: this copy may not make these turns, and then stop",
        outside.OnlySearchedOutside: "turns that leave the outline were only searched, and no way home was found; "
        "that there is none is not proved: one in {0.factor} or more of what its known laws allow is reached",
        outside.ProvedInside: "that turns which keep the outline do not lead home is proved by the laws",
        SlotUnsure: "slot {0.slot} of {0.puzzle} has {0.looks} possible looks, so it may be filled or empty: "
        "say of every slot whether something is there",
        TooFarOut: "no way from this outline back to the closed box was found; that there is none is not proved",
        ShapeUnsure: "what is seen at {0.slots:and} leaves open which shape {0.puzzle} has: say for certain what lies there",
        TooFarAway: "no way from this shape back to that at home was found; that there is none is not proved",
        TurnsAsked: "the turns that were made since it last had its shape, as far as anybody remembers them",
        WallsApart: "it breaks no known law, yet turns are known to reach only one in {0.factor} of what these laws allow; "
        "whether they reach this is not proved",
    }
)


@says(PiecesJoined)
def joined_words(assumed: PiecesJoined, reader: Reader = EXPLAINER) -> str:
    blocks = [f"the block of {listed(block)}" for block in assumed.blocks]
    many = len(blocks) > 1
    return f"{listed(blocks)} {'each move' if many else 'moves'} as one, and no turn cuts {'them' if many else 'it'}"


@says(TurnsBreak)
def breaking_words(finding: TurnsBreak, reader: Reader = EXPLAINER) -> str:
    one, pieces = len(finding.turns) == 1, [counted(number, family) for family, number in finding.leaving]
    broken = listed(name_of(law, reader) for law in finding.laws) if finding.laws else ""
    if pieces:
        alone = sum(number for _, number in finding.leaving) == 1
        broken = f"the orbit law ({listed(pieces)} leave{'s' if alone else ''} their orbits)"
    return f"{'the turn' if one else 'each of the turns'} {' '.join(finding.turns)} breaks {broken}"


@says(SmallestTurn)
def smallest_words(finding: SmallestTurn, reader: Reader = EXPLAINER) -> str:
    pieces = listed(counted(number, family) for family, number in finding.moved)
    shape = f"in the shape that {' '.join(finding.after)} gives" if finding.after else "in the shape that it has"
    return f"{shape}, {finding.turn} moves only {pieces}, and no turn inside the box moves so few pieces"


@says(outside.ProvedOutside)
def proved_words(finding: outside.ProvedOutside, reader: Reader = EXPLAINER) -> str:
    broken = f": {listed(name_of(law, reader) for law in finding.laws)}" if finding.laws else ""
    return f"that turns which leave the outline do not lead home either is proved by the laws of the open box{broken}"


@says(outside.ChangedOutside)
def changed_words(finding: outside.ChangedOutside, reader: Reader = EXPLAINER) -> str:
    laws = "; ".join(name_of(law, reader) for law in finding.laws)
    return f"{' '.join(finding.moves)} opens the box, and when it is closed again these have changed: {laws}"
