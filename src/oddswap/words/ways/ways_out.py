"""Ways out and tools: what each part is for, what turns do, what was proved, how easy it is, and how to hold the puzzle."""

from collections import Counter
from collections.abc import Sequence

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.teaching.effects import Deed, Effect
from oddswap.reasoning.teaching.tool_ways import SHORTEST, TaughtWay
from oddswap.reasoning.teaching.toolbox import Tool
from oddswap.reasoning.ways import findings
from oddswap.reasoning.ways.findings import Phase
from oddswap.reasoning.ways.way_out import Route
from oddswap.values.grammar import capital, listed, number_word, singular
from oddswap.words.culprits import hidden_change
from oddswap.words.laws import value_words
from oddswap.words.searches import proved_words
from oddswap.words.table import says
from oddswap.words.texts import TEXTS
from oddswap.words.verdicts import NOTHING_TO_TURN

TURNED = {2: "flip", 3: "twist"}
"""What a piece does that turns in its place, by the order of its twist."""


@says(findings.FillSlots)
def fill_words(aim: findings.FillSlots) -> str:
    """Which slots are filled."""
    return f"fill the last {len(aim.slots)} slots together" if aim.last else f"fill {' and '.join(aim.slots)}"


@says(Effect)
def effect_words(effect: Effect) -> str:
    """What a sequence does, as one phrase.

    >>> from oddswap.puzzles.catalogue import load
    >>> from oddswap.reasoning.teaching.effects import effect_of, image_of_turns
    >>> effect_words(effect_of(load("cube:3"), image_of_turns(load("cube:3"), "[R U R', D]")))
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
            phrases.append(f"swap{s} {'two' if deed.count == 1 else f'{number_word(deed.count)} pairs of'} {name}")
        elif deed.count == 1:
            phrases.append(f"cycle{s} {number_word(deed.length)} {name}")
        else:
            phrases.append(f"move{s} {number_word(deed.count)} circles of {number_word(deed.length)} {name}")
    return phrases + [f"{verb}{s} {number_word(n)} {name if n > 1 else singular(name)}" for verb, n in turned.items()]


UNSTEADY = "a blank or the shape decides on the turns, so that no sequence does the same from everywhere: there are no tools"
NOTES = tuple(TEXTS["tools"])
SHAPES = {"commutator": "a commutator, ", "conjugate": "a conjugate, "}


def tool_notes(puzzle: Puzzle) -> tuple[str, ...]:
    """What was counted, or why there are no tools."""
    return NOTES if puzzle.steady else (UNSTEADY,)


def tool_words(tool: Tool) -> str:
    """How a tool is made, how long it is, and what it does when it is repeated."""
    changed = ", ".join(f"{q.name} {value_words(q, change)}" for q, change in tool.tally if change != 0)
    tally = f"in the tally: {changed}" if changed else "the tally stays as it is"
    again = "" if tool.order == 1 else f"done {tool.order} times it is undone; {tally}"
    return f"{SHAPES.get(tool.shape, '')}{tool.length} turns; {again}"


EFFORT = TEXTS["said once"]["effort"]
"""What makes a way easy, and how changes of grip are counted."""
TURN_FIRST = "First turn the whole puzzle by {}, from how it was described."
"""How to come from the holding in which a puzzle was described to that of a way; the rotations as they are shown."""


def way_words(way: Route) -> str:
    """A way out with its counting: never *shortest* without what was counted."""
    if way.moves is None:
        return f"No way out was found within the budget. {capital(way.reason)}."
    if not way.length:
        return NOTHING_TO_TURN
    return f"{way.length} turns, {proved_words(way)}{'' if way.shortest else ', so a shorter one may exist'} ({way.counting})."


def chosen_words(taught: TaughtWay, way: Route) -> str:
    """What a way is the best in, such as the easiest to follow."""
    proved = "proved shortest" if way.shortest else "the shortest that was found"
    return listed(proved if sort == SHORTEST else sort for sort in taught.sorts)


def effort_words(taught: TaughtWay) -> str:
    """How much a way asks of hands and of memory."""
    grips = {0: "no change of grip", 1: "one change of grip"}.get(taught.grip_changes, f"{taught.grip_changes} changes of grip")
    return f"{taught.length} turns, {taught.awkward or 'none'} of them awkward; {taught.remember} to remember; {grips}."


def mended_words(taught: TaughtWay) -> str:
    """Which of several culprits a way mends, and what it leaves of the kind, by name; empty where it mends none."""
    if not taught.mends:
        return ""
    after = f" It leaves more of the kind: {listed(map(hidden_change, taught.leaves))}." if taught.leaves else ""
    return f"Of the culprits it mends {listed(map(hidden_change, taught.mends.changes))}.{after}"


def phase_words(phase: Phase) -> str:
    """What a phase is for, which pieces it moves, and what it mends in the tally."""
    words, moved = f"{phase.words}.", [_moved(*piece) for piece in phase.pieces]
    if moved:
        words += f" {capital(listed(moved))}."
    mended = [f"{q.name} from {value_words(q, before)} to {value_words(q, 0)}" for q, before, after in phase.tally if after == 0]
    return words + (f" In the tally: {listed(mended)}." if mended else "")


def _moved(piece: str, source: str, target: str) -> str:
    if target == piece:
        return f"piece {piece} comes home"
    if target.split(" ")[0] == source.split(" ")[0]:
        return f"piece {piece} turns in its place"
    return f"piece {piece} goes to {target}"


def held_throughout(hold: str, named: str) -> str:
    """How to hold a puzzle, and the rotations from how its slots are ``named``, empty where there are none; as they are shown."""
    slots = f" Slots are named as it is held before {named} turns the whole puzzle into these hands." if named else ""
    return f"{hold}, throughout.{slots}"


def before_filming(lines: Sequence[str], can_be_made: bool) -> str:
    """What to do before somebody films their hands: the ``lines`` of a set-up, or why there is none."""
    said = " ".join(f"{line.rstrip('.')}." for line in lines)
    if can_be_made:
        return f"Put this on a copy. {said}"
    return said or "No turning sets this up: arrange it by hand, as the page says."


def set_up_words(hold: str, moves: str) -> str:
    """How to set a position up, held otherwise than its slots are named or not; as they are shown."""
    return f"From solved: {hold}, and make {moves}" if hold else f"From solved: {moves}"
