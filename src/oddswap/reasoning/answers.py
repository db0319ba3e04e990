"""The whole answer to one appearance: the diagnosis first, then a way out and a set-up where there is one."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from oddswap.forwards import forwarded
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import load, with_turns_out_of_the_box
from oddswap.reasoning.budget import Clock, Finding, Limit, Reached, started
from oddswap.reasoning.opening import outside
from oddswap.reasoning.opening.outside import ChangedOutside, WayOutside
from oddswap.reasoning.search.shortest import Progress
from oddswap.reasoning.teaching.plans import taught_plan
from oddswap.reasoning.teaching.tool_ways import TaughtWay, every_way
from oddswap.reasoning.verdicts import findings as said
from oddswap.reasoning.verdicts.diagnosis import diagnose, judged
from oddswap.reasoning.verdicts.findings import LOOKALIKE, NOT_BY_TURNING, ORDINARY, OTHER_TURNS, Culprit, Diagnosis
from oddswap.reasoning.verdicts.repairs import Repair
from oddswap.reasoning.ways.way_out import Route, best_way_out, set_up
from oddswap.values.position import Appearance

SLIPS = 3
"""So many likely slips get an answer for what was really there."""
VERDICT, WAY = 0.4, 0.8
"""The share of the time that the verdict may take, and of what is then left the way out; ways as they are told have the rest."""


class HeldOtherwise(Finding):
    """The puzzle is held otherwise here than it was described: after these whole-puzzle rotations."""

    rotations: str


class SeenBefore(Finding):
    """A ticket of that name shows the same position, or its mirror image; ``page`` is where its answer lies, if it has one.

    ``partly``: as far as both were seen; ``slipped``: if one of them was described with a likely slip.
    """

    ticket: str
    mirrored: bool
    page: str | None
    partly: bool = False
    slipped: bool = False


class ReadOtherwise(Finding):
    """A turn was ``written`` with a ``number`` before the letter of a ``face``: read as that slab alone the verdict is ``slab``,
    and if so many turns of the outer one are meant, so that all the turns are ``turns``, it is ``times``.
    """

    written: str
    number: int
    face: str
    slab: str
    turns: str
    times: str


class MadeByHand(Finding):
    """Turns that this copy does not make would lead there; its own ``turns`` do not, so a hand did it."""

    turns: tuple[str, ...]


class NoWayOut(Finding):
    """No turning mends the position, as the ``verdict`` says, so there is no way out."""

    verdict: str


class WayNotFound(Finding):
    """There is a way out, but none was found, for these ``reasons``."""

    reasons: tuple[Finding, ...]


class OneStretch(Finding):
    """The way out is one stretch without phases."""


class NothingToRepair(Finding):
    """No law that can be seen is broken, so nothing is to be repaired by hand."""


class CameAbout(Finding):
    """How what is seen can have come about by honest steps: these ``moves`` from solved, where some are known.

    Where something is not what it seems, the ``culprit`` was placed by sight, in this ``stage`` of the layer method if known.
    ``closed`` is what a box's way of closing changed, where turns inside it could not.
    """

    verdict: str
    moves: str | None
    culprit: Culprit | None
    stage: str | None
    closed: ChangedOutside | None = None


@forwarded
@dataclass(frozen=True)
class Answer:
    """What is said about one appearance of a puzzle; ``way_out`` and ``set_up`` only where turning helps.

    Both speak of the puzzle as the diagnosis has it, which may be held otherwise than it was described. ``outside`` is the
    way through an open box that decided the verdict, where one did. ``told`` are the ways out as they are told, the easiest to
    follow first, ``reached`` the parts that were cut short, ``corrected`` the answers to what was really there if the likeliest
    slips of the diagnosis were made, in their order. ``made`` is a set-up that makes the first of the culprits, too.
    ``copy`` is the puzzle with the turns that the visitor's copy makes at all, if that was said: the way is made of these.
    ``own`` has the way and the set-up of turns that the explainer's own copy makes, where these are others.
    """

    puzzle: Puzzle
    appearance: Appearance
    diagnosis: Diagnosis
    way_out: Route | None = None
    set_up: str | None = None
    outside: WayOutside | None = None
    told: tuple[TaughtWay, ...] = ()
    reached: tuple[Reached, ...] = ()
    corrected: tuple["Answer", ...] = ()
    copy: Puzzle | None = None
    made: str | None = None
    own: "Answer | None" = None

    @property
    def easiest(self) -> TaughtWay | None:
        """The way out that is easiest to follow, which all that goes out shows; ``None`` where there is nothing to turn."""
        return next(iter(self.told), None)

    @property
    def verdict(self) -> str:
        return self.diagnosis.verdict

    @property
    def held(self) -> str:
        """The whole-puzzle rotations with which a way out begins, from how it was described."""
        return self.diagnosis.held

    @property
    def held_back(self) -> str:
        """Those with which a set-up ends, so that it makes what was described."""
        return self.puzzle.undone(self.held)

    @property
    def untried(self) -> bool:
        """Whether turns that leave the outline may lead home, and nobody has tried them yet."""
        found = self.diagnosis
        open_to_it = found.verdict == NOT_BY_TURNING and found.first is not None and self.puzzle.steady
        settled = found.has(outside.OnlySearchedOutside) or found.has(outside.ProvedOutside)
        return open_to_it and not settled and with_turns_out_of_the_box(self.puzzle) is not None

    @property
    def repair(self) -> Repair | None:
        """The smallest repair by hand; ``None`` where none is needed, or as long as other turns were not tried."""
        return None if self.untried else self.diagnosis.repair

    @property
    def came_about(self) -> CameAbout:
        """How what is seen can have come about."""
        culprit, stages = next(iter(self.diagnosis.culprits), None), taught_plan(3).stages
        fits = {s for stage in stages for s in stage.slots if len(s) > 1} == {s for s in self.puzzle.slots if len(s) > 1}
        placed = [stage.name for stage in stages if fits and culprit and set(culprit.pieces) <= set(stage.slots)]
        moves = self.made and f"{self.made} {self.held_back}".strip()
        verdict = NOT_BY_TURNING if self.diagnosis.has(MadeByHand) else self.verdict
        return CameAbout(verdict, moves, culprit, next(iter(placed), None), self.diagnosis.one(ChangedOutside))

    @property
    def turning(self) -> Puzzle:
        """The puzzle with the turns that the way out is made of: all of them where this copy's do not lead out."""
        explanation = self.diagnosis.explanation
        return load(explanation.puzzle) if self.verdict == OTHER_TURNS and explanation else self.puzzle


def answer(
    puzzle: Puzzle, appearance: Appearance, budget: Limit = None, progress: Progress | None = None, copy: Puzzle | None = None
) -> Answer:
    """Diagnose an appearance and look for the shortest way out within ``budget``, by turns that the ``copy`` makes.

    >>> from oddswap import load
    >>> cube = load("cube:3")
    >>> found = answer(cube, cube.appearance(cube.follow("R U")))
    >>> found.verdict, found.way_out.moves, found.set_up
    ('ordinary', "U' R'", 'R U')
    """
    clock = started(budget)
    return with_ways(first_answer(puzzle, appearance, clock, copy), clock, progress)


def first_answer(puzzle: Puzzle, appearance: Appearance, budget: Limit = None, copy: Puzzle | None = None) -> Answer:
    """Return the answer as far as its verdict, which is final; a way is looked for only where the verdict hangs on one.

    >>> from oddswap.puzzles.catalogue import load, with_turns_out_of_the_box
    >>> cube = load("cube:3")
    >>> first = first_answer(cube, cube.appearance(cube.follow("R U")))
    >>> first.verdict, first.way_out
    ('ordinary', None)
    """
    clock = started(budget)
    diagnosis = inside = diagnose(puzzle, appearance, clock.share(VERDICT))
    opened = None
    if diagnosis.verdict == NOT_BY_TURNING and diagnosis.first is not None:
        diagnosis, opened = outside.judged_outside(puzzle, diagnosis, clock)
    if copy is not None and diagnosis.verdict == OTHER_TURNS:
        diagnosis, opened = _on_a_copy(copy, appearance, inside, clock), None
    return Answer(puzzle, appearance, diagnosis, outside=opened, reached=diagnosis.reached, copy=copy)


def _on_a_copy(copy: Puzzle, appearance: Appearance, found: Diagnosis, clock: Clock) -> Diagnosis:
    """The diagnosis *other turns*, explained by what the copy makes, or by a hand."""
    own = judged(copy, appearance, clock)
    if own.verdict in (ORDINARY, LOOKALIKE):
        explained = {"first": own.first, "explanation": own.explanation, "culprits": own.culprits, "held": own.held}
        findings = tuple(finding for finding in found.findings if not isinstance(finding, said.WiderTurns))
        return replace(found, verdict=OTHER_TURNS, slips=(), repair=None, findings=findings, **explained)
    findings = (MadeByHand(tuple(copy.turns)), *found.findings)
    return replace(found, verdict=OTHER_TURNS, explanation=None, culprits=(), findings=findings)


def with_ways(first: Answer, budget: Limit = None, progress: Progress | None = None) -> Answer:
    """Return a `first_answer` with its way out and set-up, looked for within ``budget``.

    Where turning does not help: with the answers to what was really there, if slips were made.
    """
    clock, diagnosis, turning = started(budget), first.diagnosis, first.turning
    if diagnosis.explanation is None:
        return replace(first, corrected=tuple(_corrected(first, clock)))
    diagnosis, way = best_way_out(turning, diagnosis, clock.share(WAY), progress)
    if first.outside is not None:
        way = outside.best_of_two(first.outside, way)
    elif turning.leaves_outline:
        way = outside.told_outside(turning, diagnosis.explanation, way, clock)
        if way.phases:
            diagnosis = replace(diagnosis, findings=(*diagnosis.findings, *outside.CAUTIONS))
    elif turning.shape_first and way.moves:
        diagnosis = replace(diagnosis, findings=(*diagnosis.findings, said.MayBeBlocked()))
    if diagnosis.held:
        diagnosis = replace(diagnosis, findings=(HeldOtherwise(diagnosis.held), *diagnosis.findings))
    reached = () if way.shortest else (Reached("way out", way.lower_bound),)
    laid = set_up(turning, way, diagnosis.explanation, clock)
    told = every_way(turning, diagnosis, way, clock)
    if told and (mended := told[0].mends):
        others = (culprit for culprit in diagnosis.culprits if culprit is not mended)
        diagnosis = replace(diagnosis, culprits=(mended, *others), explanation=mended.arrangement)
    same = not told or told[0].turns == way.moves
    made = laid if same else set_up(turning, replace(way, moves=told[0].turns), diagnosis.explanation, clock)
    if turning.leaves_outline and not diagnosis.has(ChangedOutside) and not clock.spent:
        changed = outside.changed_by_closing(turning, diagnosis.explanation, made)
        diagnosis = replace(diagnosis, findings=(*diagnosis.findings, *changed))
    reached = (*first.reached, *reached, *clock.reached("ways told", len(told)))
    return replace(first, diagnosis=diagnosis, way_out=way, set_up=laid, told=told, reached=reached, made=made)


def _corrected(first: Answer, clock: Clock) -> Iterator[Answer]:
    """The answers to what was there if slips were made, while there is time."""
    slips = first.diagnosis.slips[:SLIPS]
    for number, slip in enumerate(slips):
        if clock.spent:
            return
        yield answer(first.puzzle, slip.appearance, clock.share(1 / (len(slips) - number)), copy=first.copy)
