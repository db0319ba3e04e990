"""What sequences do, in words, and how changes of grip are counted."""

from collections import Counter

from oddswap.reasoning.teaching.effects import Deed, Effect
from oddswap.reasoning.teaching.toolbox import Tool
from oddswap.values.grammar import listed, number_word, singular
from oddswap.words.reader import EXPLAINER, Reader
from oddswap.words.table import say, says

GRIPS = "fingers rest on two faces at a time, and a turn of a third face, or turning the whole puzzle, is one change of grip"
"""How changes of grip are counted."""
TURNED = {2: "flip", 3: "twist"}
"""What a piece does that turns in its place, by the order of its twist."""


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


@says(Tool)
def tool_words(tool: Tool, reader: Reader = EXPLAINER) -> str:
    """What a tool does."""
    return say(tool.effect, reader)


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
