"""Two readings of one puzzle, where only measuring tells some of its pieces apart: each with its own verdict.

What an eye takes for alike may be alike, so no verdict stands that holds in one reading alone.
"""

from collections.abc import Callable
from dataclasses import replace

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.budget import Finding
from oddswap.reasoning.laws.lookalikes import lookalikes
from oddswap.reasoning.verdicts.findings import CANNOT_TELL, Culprit, Diagnosis, ToMeasure
from oddswap.values.position import Appearance

APART, ALIKE = "apart", "alike"
"""What measuring shows."""


class Reading(Finding):
    """The verdict if ``measured`` shows the pieces that only measuring tells apart to be so, with its culprits."""

    measured: str
    verdict: str
    culprits: tuple[Culprit, ...]


def to_measure(puzzle: Puzzle) -> tuple[ToMeasure, ...]:
    """All that only measuring tells apart.

    >>> from oddswap.puzzles.catalogue import load
    >>> [pair.one for pair in to_measure(load("shape-mod:cube,axis=U,degrees=44.5"))]
    ['FL', 'FR', 'BL', 'BR']
    """
    pairs = (puzzle.slots_of(list(pair)) for pair in puzzle.nearly)
    return tuple(dict.fromkeys(ToMeasure(*(puzzle.slots[slot] for slot in pair)) for pair in pairs))


def in_both_readings(
    puzzle: Puzzle, appearance: Appearance, apart: Diagnosis, judge: Callable[[Puzzle, Appearance], Diagnosis]
) -> Diagnosis:
    """The diagnosis ``apart``, which takes all for told apart, together with that of `as_measured` alike.

    *Cannot tell yet*, with what to measure, where their verdicts differ.
    """
    other = load(f"{puzzle.name},measured={ALIKE}")
    alike = judge(other, _seen_as(puzzle, other, appearance))
    readings = tuple(Reading(name, one.verdict, one.culprits) for name, one in ((APART, apart), (ALIKE, alike)))
    if apart.verdict == alike.verdict and {one.pieces for one in apart.culprits} == {one.pieces for one in alike.culprits}:
        return apart
    findings = (*apart.findings, *readings)
    if apart.verdict == alike.verdict:
        return replace(apart, findings=findings)
    families, every = lookalikes(other).family_of, to_measure(puzzle)
    accused = [other.slot(name) for culprit in alike.culprits for name in culprit.pieces]
    meant = {families[piece] for piece in accused or (apart.first.displaced() if apart.first else ())}
    asked = tuple(pair for pair in every if meant & {families[other.slot(name)] for name in (pair.one, pair.other)}) or every
    known = {law.name for law in alike.broken}
    broken = tuple(law for law in apart.broken if law.name in known)
    undone = {"broken": broken, "explanation": None, "culprits": (), "asked": (*asked, *apart.asked), "findings": findings}
    return replace(apart, verdict=CANNOT_TELL, **undone)


def _seen_as(puzzle: Puzzle, other: Puzzle, appearance: Appearance) -> Appearance:
    """What is seen, in the looks of the other reading."""
    sights = []
    for kind, sight in zip(puzzle.kind_of, appearance.sights, strict=True):
        labels = list(kind.labels)
        table = dict(zip(puzzle.looks[labels].tolist(), other.looks[labels].tolist(), strict=True))
        sights.append(frozenset(table[look] for look in sight))
    return replace(appearance, puzzle=other.name, sights=tuple(sights))
