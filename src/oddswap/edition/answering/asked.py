"""An exercise as a page asks it: which checker, what it is given, and what was worked out for it beforehand."""

import re
import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import ExitStack, contextmanager, suppress
from inspect import signature, unwrap
from itertools import combinations
from unittest.mock import patch

from oddswap.edition.answering.program import Program, scripts
from oddswap.errors import OddswapError
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.lookalikes import Lookalikes, TwinFamily, first_sight
from oddswap.reasoning.verdicts.exchanges import hidden_atoms, smallest_sets
from oddswap.reasoning.verdicts.repairs import smallest_repair
from oddswap.showing.ink.widgets import Hint, Note, unread
from oddswap.words.products.notebooks import GIVEN, NOT_GIVEN

LOAD = "oddswap.puzzles.catalogue:load"
STORY = "oddswap.story.telling.beats:story_of"
TIMED = "oddswap.story.telling.timeline:timeline"
RECORDED = re.findall(r"'([\w.]+:\w+)'", scripts()["puzzles.js"].partition("const RECORDED = ")[2].partition("];")[0])
"""What does not depend on an answer: worked out beforehand, call by call."""
ALWAYS = (Lookalikes, TwinFamily, hidden_atoms, smallest_sets, smallest_repair, first_sight, Hint, OddswapError, unread)
"""What the scripts themselves call."""


def program() -> Program:
    """A program with what the scripts need, and no exercise yet."""
    made = Program()
    for each in ALWAYS:
        made.add(each)
    return made


def asked(into: Program, check: Callable[..., Note], given: list, named: Mapping, model: list[str]) -> dict:
    """The exercise as data. ``given`` has ``None`` in the place of each answer; ``model`` are right answers."""
    answers = iter(model)
    usual = [each.default for each in signature(check).parameters.values()]
    for name in re.findall(r"'([a-z-]+:[^']+|[a-z-]+)'", repr([given, dict(named), usual])):
        with suppress(OddswapError):
            into.value(load(name))
    with recording(into, check.__globals__) as found, suppress(OddswapError, Hint):
        check(*(next(answers) if each is None else each for each in given), **named)
        for answer in _choices(found, check):
            check(answer, *given[1:], **named)
    return {
        "model": model,
        "checks": check,
        "check": into.add(check),
        "given": [None if each is None else {"value": each} for each in given],
        "named": dict(named),
        "recorded": found,
    }


def check_gives(*answers: str, cases: Sequence[tuple[str, str]]) -> Note:
    """Whether somebody says what code gives for each of the ``cases``, pairs of what it is given and what it gives.

    >>> check_gives("4", "8", cases=[("2", "4"), ("3", "9")])
    Not yet. For 3 it should give something else.
    """
    told = zip(answers, cases, strict=True)
    wrong = [given for answer, (given, gives) in told if _plain(answer) != _plain(gives)]
    return Note(NOT_GIVEN.format(wrong[0]) if wrong else GIVEN.format(len(answers)))


CONSTANTS = {"true": "True", "false": "False", "none": "None"}


def _plain(text: str) -> list[str]:
    """What is compared: a text with or without quotation marks, a set in any order, a constant in small letters, too."""
    bare = "".join(text.split()).replace('"', "'" if "{" in text else "")
    return sorted(bare.strip("{}").split(",")) if "{" in bare else [CONSTANTS.get(bare, bare)]


def _choices(found: Mapping, check: Callable) -> Iterator[str]:
    """All choices of chapters, where a checker measures how long a clip of them is."""
    for story in found.get(STORY, ()) if "timeline" in check.__code__.co_names else ():
        chapters = [beat.chapter for beat in story.beats]
        for size in range(1, len(chapters) + 1):
            yield from map(",".join, combinations(chapters, size))


@contextmanager
def recording(into: Program, names: dict[str, object]) -> Iterator[dict[str, list]]:
    """What each call of `RECORDED` returns, in order; puzzles that are loaded go into the program."""
    found: dict[str, list] = {}
    patches = []
    for key in (LOAD, TIMED, *RECORDED):
        module, _, name = key.partition(":")
        function = vars(sys.modules[module]).get(name) if module in sys.modules else None

        def kept(*args, _function=function, _key=key, **options):
            if _key == STORY and _key in found:
                return found[_key][0]
            outcome = _function(*args, **options)
            if _key == LOAD:
                into.value(outcome)
            elif _key == TIMED:
                found.setdefault(_key, {})[",".join(beat.chapter for beat in args[0].beats)] = outcome.seconds
            else:
                found.setdefault(_key, []).append(outcome)
            return outcome

        modules = [vars(held) for held in list(sys.modules.values()) if function and vars(held).get(name) is function]
        patches += [patch.dict(held, {name: kept}) for held in modules]
        own = [alias for alias, value in names.items() if function and callable(value) and unwrap(value) is function]
        patches += [patch.dict(names, dict.fromkeys(own, kept))]
    with ExitStack() as stack:
        for each in patches:
            stack.enter_context(each)
        yield found
