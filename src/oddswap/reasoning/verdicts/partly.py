"""The verdict on a puzzle of which only a part is seen: exact counts, and always two readings, both said.

*Everything unseen is in place* and *everything unseen has only been turned*. The second one gives the verdict, as it takes
nothing for granted: it is only given where every completion would have it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import with_all_turns
from oddswap.reasoning.verdicts.completions import completions, in_place
from oddswap.reasoning.verdicts.counting import Count, count_explanations
from oddswap.reasoning.verdicts.findings import CANNOT_TELL, LOOKALIKE, NOT_BY_TURNING, ORDINARY, OTHER_TURNS, Diagnosis
from oddswap.values.appearance import Appearance
from oddswap.values.grammar import listed, read_number

FEW = 12
"""So many completions are judged one by one at most."""

Judge = Callable[[Puzzle, Appearance], Diagnosis]

IN_PLACE = {
    ORDINARY: "turning alone leads to it",
    LOOKALIKE: "it is a false parity: some pieces are not what they seem",
    OTHER_TURNS: "only turns that the ticket does not allow lead to it",
    NOT_BY_TURNING: "no turning leads to it",
}


def judged_partly(puzzle: Puzzle, appearance: Appearance, judge: Judge, assumptions: tuple[str, ...]) -> Diagnosis:
    """The verdict where some slots are not seen for certain; ``judge`` gives it for a complete appearance.

    >>> from oddswap.puzzles.catalogue import load
    >>> from oddswap.describing.sights import every_look, own_look
    >>> from oddswap.reasoning.verdicts.diagnosis import judged
    >>> cube = load("cube:3")
    >>> sights = [own_look(cube, slot) if "U" not in name else every_look(cube, slot) for slot, name in enumerate(cube.slots)]
    >>> judged_partly(cube, Appearance(cube.name, tuple(sights)), judged, ()).verdict
    'cannot tell yet'
    """
    count = count_explanations(puzzle, appearance)
    if not count.total:
        note = "no way to put this puzzle's pieces together agrees with what is told: a sticker that was moved, or a slip"
        return Diagnosis(NOT_BY_TURNING, assumptions, notes=(note,))
    if count.appearances <= FEW:
        return _few(puzzle, completions(puzzle, appearance, FEW), judge, assumptions)
    readings = (*_first_reading(puzzle, appearance, judge), *_second_reading(count))
    if count.possible == 0:
        return _unreachable(puzzle, appearance, count, assumptions, readings)
    if count.reachable == count.total:
        return Diagnosis(ORDINARY, assumptions, notes=(*readings, "however the rest lies, turning leads there"))
    return Diagnosis(CANNOT_TELL, assumptions, ask_next=_unseen(puzzle, appearance), notes=(*_go_on(count), *readings))


def _few(puzzle: Puzzle, wholes: list[Appearance], judge: Judge, assumptions: tuple[str, ...]) -> Diagnosis:
    """Every completion judged one by one."""
    found = [judge(puzzle, whole) for whole in wholes]
    if len(found) == 1:
        note = "what is not told can only be one thing, as the puzzle has no other pieces left"
        return replace(found[0], notes=(note, *found[0].notes))
    verdicts = [one.verdict for one in found]
    counted = listed(f"{verdicts.count(verdict)} {verdict}" for verdict in dict.fromkeys(verdicts))
    note = f"what is told leaves {len(found)} ways in which the whole may look: {counted}"
    broken = tuple(law for law in found[0].broken if all(law in one.broken for one in found))
    if len(set(verdicts)) == 1:
        culprits = found[0].culprits if all(one.culprits == found[0].culprits for one in found) else ()
        return Diagnosis(verdicts[0], assumptions, broken, culprits=culprits, notes=(note,))
    differ = [puzzle.slots[b] for b in range(len(puzzle.slots)) if len({next(iter(whole.sights[b])) for whole in wholes}) > 1]
    return Diagnosis(CANNOT_TELL, assumptions, broken, ask_next=tuple(differ), notes=(note,))


def _first_reading(puzzle: Puzzle, appearance: Appearance, judge: Judge) -> tuple[str, ...]:
    nearest = in_place(puzzle, appearance)
    if not nearest.complete:
        return ("not everything that is unseen can be in place, as some of its pieces were seen elsewhere",)
    found = judge(puzzle, nearest)
    solved = puzzle.appearance(puzzle.solved)
    moved = any(nearest.sights[b] != solved.sights[b] for b in appearance.uncertain)
    start = "if everything that is unseen is in place"
    if moved:
        start += " as far as it can be"
    words = [f"{start}: {IN_PLACE[found.verdict]}"]
    if found.broken:
        words.append(f", because of the law of {listed(law.name for law in found.broken)}")
    if found.culprits:
        words.append(f"; one culprit would be that {found.culprits[0].words}")
    return ("".join(words),)


def _second_reading(count: Count) -> tuple[str, ...]:
    start = "if everything that is unseen has only been turned"
    ways = f"of {read_number(count.total)} ways in which the pieces may lie"
    if count.possible is None:
        left = f"{read_number(count.total)} ways are left"
        return (f"{start}: {left}; how many of them turning reaches was not counted ({count.reason})",)
    if not count.possible:
        return (f"{start}: {ways} turning leads to none",)
    share = f"{ways} turning leads to {read_number(count.possible)}"
    if count.total % count.possible == 0 and count.total > count.possible:
        share += f", one in {count.total // count.possible}"
    if count.equal:
        share += "; all classes come out equally often, so what is seen says nothing either way"
    return (f"{start}: {share}",)


def _go_on(count: Count) -> tuple[str, ...]:
    if not count.possible:
        return ()
    return (
        "nothing that is told is impossible so far: pieces that are not placed yet can still make up for it. "
        "Place them first, and look again at what is then left",
    )


def _unreachable(
    puzzle: Puzzle, appearance: Appearance, count: Count, assumptions: tuple[str, ...], readings: tuple[str, ...]
) -> Diagnosis:
    wider = with_all_turns(puzzle)
    more = count_explanations(wider, appearance) if wider else None
    if more is None or more.possible == 0:
        return Diagnosis(NOT_BY_TURNING, assumptions, count.broken, notes=readings)
    others = " ".join(name for name in wider.turns if name not in puzzle.turns)
    note = f"with these turns too, which this copy may not make, {read_number(more.possible or 0)} ways can be reached: {others}"
    if more.possible == more.total:
        return Diagnosis(OTHER_TURNS, assumptions, count.broken, notes=(*readings, note))
    return Diagnosis(CANNOT_TELL, assumptions, count.broken, ask_next=_unseen(puzzle, appearance), notes=(*readings, note))


def _unseen(puzzle: Puzzle, appearance: Appearance) -> tuple[str, ...]:
    return tuple(puzzle.slots[b] for b in appearance.uncertain)
