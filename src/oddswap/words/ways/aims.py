"""What each part of a way is for, and what turns do."""

from collections import Counter

from oddswap.reasoning.opening.outside import ChangeOutside, CloseBox, FinishInside, LeaveBox
from oddswap.reasoning.teaching import aims
from oddswap.reasoning.teaching.effects import Deed, Effect
from oddswap.reasoning.ways import findings
from oddswap.reasoning.ways.findings import Phase
from oddswap.values.grammar import listed, number_word, singular
from oddswap.words.reader import EXPLAINER, Reader
from oddswap.words.table import says, says_so

TURNED = {2: "flip", 3: "twist"}
"""What a piece does that turns in its place, by the order of its twist."""
says_so(
    {
        findings.FromStages: "this way was put together from stages and is not the shortest",
        findings.NotInStages: "nor was a way put together from stages, slot by slot or by three-cycles, that these turns allow",
        findings.ThroughOpenBox: "this way leaves the box, changes what the turns inside cannot change, and finishes with them",
        findings.GoShortest: "the shortest way there is",
        findings.SortIntoOrbits: "bring every piece among its own, the right way round",
        findings.FinishWith: "finish with {0.turns: } alone",
        findings.MakeEven: "make every kind even, and turn straight what only turns in its place",
        findings.BringKindHome: "bring the {0.kind} home, by three-cycles",
        findings.BringOneByOne: "bring the pieces home one by one, sparing those that are there",
        findings.BringShapeHome: "bring the shape home",
        findings.GoRound: "bring the pieces home by round trips, out of the shape and back",
        findings.SlideLoops: "bring the pieces home by loops of the blank",
        LeaveBox: "leave the box",
        ChangeOutside: "exchange",
        CloseBox: "return",
        FinishInside: "finish with turns that keep the outline",
        aims.Approach: "bring the position to where the next part can work on it",
        aims.Finish: "a few turns more, and everything is in place",
        aims.Repeat: "the same few turns {0.times} times; together they make a tool that {0.effect}",
        aims.SetUp: "carry the pieces that have to change to where the tool reaches them",
        aims.UseTool: "the tool itself: from solved it {0.effect}",
        aims.UndoSetUp: "the set-up backwards; all that it disturbed goes back",
        aims.Displace: "take a piece out of the way; what else this disturbs comes back later",
        aims.ExchangePieces: "put another piece where the first one was",
        aims.UndoDisplacing: "the set-up backwards; what it disturbed goes back, except for the pieces that were exchanged",
        aims.PutBack: "the exchange backwards; the four parts together make a tool that {0.effect}",
        aims.HoldOtherwise: "hold it otherwise than it was described",
        Phase: "{0.aim}",
        aims.MeetTrouble: "{0.blamed}",
    }
)


@says(findings.FillSlots)
def fill_words(aim: findings.FillSlots, reader: Reader = EXPLAINER) -> str:
    """Which slots are filled."""
    return f"fill the last {len(aim.slots)} slots together" if aim.last else f"fill {' and '.join(aim.slots)}"


@says(Effect)
def effect_words(effect: Effect, reader: Reader = EXPLAINER) -> str:
    """What a sequence does, as one phrase.

    >>> from oddswap.puzzles.catalogue import load
    >>> from oddswap.reasoning.teaching.effects import effect_of_turns
    >>> effect_words(effect_of_turns(load("cube:3"), "[R U R', D]"))
    'cycles three corners'
    """
    return _deeds(effect, "s")


def effect_of_several(effect: Effect) -> str:
    """What several turns do, as one phrase: ``cycle three corners``."""
    return _deeds(effect, "")


def _deeds(effect: Effect, s: str) -> str:
    """All deeds, with ``s`` at the end of each verb."""
    families = dict.fromkeys(deed.family for deed in effect.deeds)
    together = ([deed for deed in effect.deeds if deed.family == family] for family in families)
    phrases = [phrase for deeds in together for phrase in _phrases(deeds, s)]
    return listed(phrases) if phrases else f"change{s} nothing that shows"


def _phrases(deeds: list[Deed], s: str) -> list[str]:
    """What happens to the pieces of one family."""
    name, phrases, turned = deeds[0].family, [], Counter()
    for deed in deeds:
        if deed.length == 1:
            turned[TURNED.get(deed.twist, "turn")] += deed.count
        elif deed.length == 2:
            phrases.append(f"exchange{s} {'two' if deed.count == 1 else f'{number_word(deed.count)} pairs of'} {name}")
        elif deed.count == 1:
            phrases.append(f"cycle{s} {number_word(deed.length)} {name}")
        else:
            phrases.append(f"move{s} {number_word(deed.count)} circles of {number_word(deed.length)} {name}")
    return phrases + [f"{verb}{s} {number_word(n)} {name if n > 1 else singular(name)}" for verb, n in turned.items()]
