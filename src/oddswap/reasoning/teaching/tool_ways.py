"""Ways out made of one tool and a short set-up: ``S T S⁻¹``, beside the way that a search found.

From these and from the way that was found the easiest to follow is the one with the least `TaughtWay.effort`; another may have
the fewest changes of grip, by the model of `oddswap.reasoning.teaching.effects`.

Where a culprit was placed, one more way goes through that stage: the layer method carried out, culprit nearest the hand. It is
long, but whoever solves in layers knows all of it: finish, meet the trouble, go back to the stage where the culprit was placed,
put it in the other way round, and go on.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import islice

import numpy as np

from oddswap.errors import OddswapError
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.whole_turns import holdings
from oddswap.reasoning.budget import Clock, Limit, cached, started
from oddswap.reasoning.laws.as_seen import as_seen, wrong
from oddswap.reasoning.teaching.carried_out import Done, carry_out
from oddswap.reasoning.teaching.effects import awkward_turns, grip_changes
from oddswap.reasoning.teaching.phases import MeetTrouble, PlaceInStage, phases, to_remember, written
from oddswap.reasoning.teaching.plans import taught_plan
from oddswap.reasoning.teaching.toolbox import symmetric_names, toolbox
from oddswap.reasoning.verdicts.exchanges import HiddenSwap, HiddenTurn
from oddswap.reasoning.verdicts.findings import Culprit, Diagnosis
from oddswap.reasoning.ways.commutators import Word, image_of, tidied, undone, visible
from oddswap.reasoning.ways.findings import Phase
from oddswap.reasoning.ways.way_out import Route
from oddswap.values.permutation import cycles
from oddswap.values.position import Arrangement

MORE = 6
"""A way made of a tool may have so many turns more than the shortest known."""
LONG = 7
"""A way of fewer turns is learnt as it is: no tool is looked for."""
MOST_LABELS = 150
"""Nor on puzzles with more labels, whose tools take long to mine."""
TOLD = 12
"""So many ways made of tools are compared; those with short set-ups come first."""
SETUPS = 6_000
"""Set-ups of one length are tried if there are at most so many."""
EASIEST, SHORTEST, GRIPS = "easiest to follow", "shortest", "fewest changes of grip"
REMEMBERED = 2
"""A turn to remember costs as much as two that are made: for each the eye goes to the page and back, and may lose the line."""


@dataclass(frozen=True)
class TaughtWay:
    """One way as it is told: for what it was chosen (``sorts``), how it is written, and its ``turns`` one by one.

    ``remember`` is how many turns one has to keep in mind: what is repeated, or undone at the end, counts once, and so does
    what whoever follows a plan knows by name. ``awkward`` turns are those of slabs that fingers have to feel for. ``mends`` is
    the culprit that it puts right, where one looks right that is not, and ``leaves`` what it then leaves that does not show.
    """

    sorts: tuple[str, ...]
    moves: str
    turns: str
    length: int
    remember: int
    grip_changes: int
    awkward: int
    phases: tuple[Phase, ...]
    mends: Culprit | None = None
    leaves: tuple[HiddenTurn | HiddenSwap, ...] = ()

    @property
    def effort(self) -> int:
        """What the way costs, in turns: a change of grip takes about as long as a turn, an awkward turn as long as two.

        Every part weighs more than nothing, so no way is both as good in each and better in one than that with the least effort.
        """
        return self.length + REMEMBERED * self.remember + self.grip_changes + self.awkward


def told_ways(puzzle: Puzzle, start: Arrangement, found: str, budget: Limit = None) -> tuple[TaughtWay, ...]:
    """The way that was found and the best others for it, the easiest to follow first; each leads from ``start`` to solved.

    >>> from oddswap import load
    >>> cube = load("cube:3")
    >>> moves = "F R U R' U' F'"
    >>> ways = told_ways(cube, cube.follow(cube.undone(moves)), moves)
    >>> ways[0].sorts, ways[0].moves
    (('easiest to follow', 'shortest', 'fewest changes of grip'), '[F: [R, U]]')
    """
    known = " ".join(str(step) for step in puzzle.read(found).steps)
    candidates = dict.fromkeys([known])
    if puzzle.steady and len(known.split()) >= LONG and puzzle.degree <= MOST_LABELS:
        most = len(known.split()) + MORE
        candidates |= dict.fromkeys(" ".join(word) for word in islice(by_tools(puzzle, start, most, started(budget)), TOLD))
    told = [taught(puzzle, moves) for moves in candidates]
    easiest = min(told, key=lambda way: (way.effort, way.length))
    grips = min(told, key=lambda way: (way.grip_changes, way.length, way.remember))
    if grips.grip_changes == easiest.grip_changes:
        grips = easiest
    chosen: dict[str, list[str]] = {}
    for sort, way in ((EASIEST, easiest), (SHORTEST, told[0]), (GRIPS, grips)):
        chosen.setdefault(way.turns, []).append(sort)
    return easiest_first(
        replace(way, sorts=tuple(sorts), phases=phases(puzzle, start, puzzle.read(way.moves)) if puzzle.steady else ())
        for turns, sorts in chosen.items()
        for way in told
        if way.turns == turns
    )


def easiest_first(ways: Iterable[TaughtWay]) -> tuple[TaughtWay, ...]:
    """The ways with the least effort first, and that one alone called the easiest; none that is left good for nothing."""
    ordered = sorted(ways, key=lambda way: (way.effort, way.length))
    others = [tuple(sort for sort in way.sorts if sort != EASIEST) for way in ordered]
    named = [(EASIEST, *others[0]), *others[1:]]
    return tuple(replace(way, sorts=sorts) for way, sorts in zip(ordered, named, strict=True) if sorts)


def taught(puzzle: Puzzle, moves: str, sorts: tuple[str, ...] = (), steps: tuple[Phase, ...] = (), parts: int = 0) -> TaughtWay:
    """A way as it is told in ``steps``, of which one has to keep so many ``parts`` in mind; else as its structure is written."""
    sequence = puzzle.read(moves) if steps or not puzzle.steady else written(puzzle, moves)
    hands = grip_changes(puzzle, moves), awkward_turns(puzzle, moves)
    return TaughtWay(sorts, str(sequence), moves, len(sequence), parts or to_remember(sequence), *hands, steps)


def by_tools(puzzle: Puzzle, start: Arrangement, most: int, clock: Clock) -> Iterator[Word]:
    """All ways out of at most ``most`` turns that are a tool with a set-up; each is replayed."""
    image, table, seen = puzzle.permutation(start), _undoing(puzzle, clock), visible(puzzle)
    told = set()
    for whole in (image, as_seen(puzzle, image)):
        for setup in _setups(puzzle):
            if clock.spent:
                return
            s = image_of(puzzle, setup)
            inner = s[whole[np.argsort(s)]]
            for tool in table.get(inner[seen].tobytes(), ()):
                word = tidied(puzzle, (*setup, *tool, *undone(puzzle, setup)))
                if len(word) <= most and word not in told and not wrong(puzzle, image_of(puzzle, word)[image]):
                    told.add(word)
                    yield word


@cached(8)
def _undoing(puzzle: Puzzle, clock: Clock) -> dict[bytes, list[Word]]:
    """For what each tool undoes, labelled and as seen: the tool. With all that symmetry makes of it."""
    table: dict[bytes, list[Word]] = {}
    seen = visible(puzzle)
    for tool in toolbox(puzzle, clock):
        if clock.spent:
            break
        for names in symmetric_names(puzzle):
            forward = tuple(names[turn] for turn in tool.turns)
            for word in (forward, undone(puzzle, forward)):
                back = image_of(puzzle, undone(puzzle, word))
                for image in {back[seen].tobytes(), as_seen(puzzle, back)[seen].tobytes()}:
                    table.setdefault(image, []).append(word)
    return table


@lru_cache(maxsize=8)
def _setups(puzzle: Puzzle) -> tuple[Word, ...]:
    """Set-ups of up to three turns, each effect once, shorter ones first."""
    found: dict[bytes, Word] = {np.arange(puzzle.degree).tobytes(): ()}
    layer: list[Word] = [()]
    for _ in range(3):
        if len(layer) * len(puzzle.turns) > SETUPS:
            break
        following = []
        for word in layer:
            for name in puzzle.turns:
                image = image_of(puzzle, (*word, name)).tobytes()
                if image not in found:
                    found[image] = (*word, name)
                    following.append(found[image])
        layer = following
    return tuple(found.values())


INSIDE = "most turns inside the box"
THROUGH = "through the stage where the culprit was placed"


def through_the_plan(puzzle: Puzzle, start: Arrangement, clock: Clock) -> TaughtWay | None:
    """The layer method from ``start``, if it meets trouble there and comes to its end; ``None`` where it does not fit.

    >>> from oddswap.puzzles.catalogue import load
    >>> from oddswap.describing.changes import changed
    >>> from oddswap.reasoning.budget import Budget
    >>> prism = load("shape-mod:prism8")
    >>> told = through_the_plan(prism, changed(prism, ["flip UF", "flip FL"]), Budget().start())
    >>> prism.appearance(prism.follow(told.turns, changed(prism, ["flip UF", "flip FL"]))) == prism.appearance(prism.solved)
    True
    """
    try:
        found = carry_out(puzzle, taught_plan(3), start, clock)
    except OddswapError:
        return None
    if not (found.finished and found.troubles):
        return None
    steps, again = [], False
    for event in found.events:
        aim = PlaceInStage(event.stage, event.slots, again) if isinstance(event, Done) else MeetTrouble(event.blamed)
        steps += [Phase(aim, event.moves)] if event.moves else []
        again = not isinstance(event, Done) or (again and not event.moves)
    named = sum(len(event.parts) for event in found.events if isinstance(event, Done))
    return taught(puzzle, found.moves, (THROUGH,), tuple(steps), named)


def every_way(puzzle: Puzzle, found: Diagnosis, way: Route, clock: Clock) -> tuple[TaughtWay, ...]:
    """The ways out of what was found as they are told, the easiest to follow first; none where there is nothing to turn.

    Where the eye is misled by lookalikes, the layer method leads through the place where that happened, too, and each way says
    which culprit it mends.
    """
    if not way.length:
        return ()
    ways = _ways(puzzle, found, way, clock)
    if found.explanation not in [culprit.arrangement for culprit in found.culprits]:
        return ways
    return tuple(_mending(puzzle, found, told) for told in ways)


def _ways(puzzle: Puzzle, found: Diagnosis, way: Route, clock: Clock) -> tuple[TaughtWay, ...]:
    if way.phases or not puzzle.steady:
        ways = [taught(puzzle, way.moves, (SHORTEST,), way.phases)]
        if way.easier:
            ways.append(taught(puzzle, " ".join(step.moves for step in way.easier), (INSIDE,), way.easier))
        return easiest_first(ways)
    through = through_the_plan(puzzle, found.explanation, clock) if found.culprits else None
    ways = told_ways(puzzle, found.explanation, way.moves, clock)
    return easiest_first((*ways, through)) if through else ways


def _mending(puzzle: Puzzle, found: Diagnosis, told: TaughtWay) -> TaughtWay:
    """The way with the culprit that it mends: if it was that one, the fewest pieces end where they only look right.

    What its phases do to pieces and to the tally is counted from that culprit.
    """
    ends = {one: puzzle.permutation(puzzle.follow(told.turns, one.arrangement)) for one in found.culprits}
    left = {one: min((end[np.argsort(r)] for _, r in holdings(puzzle)), key=_strays) for one, end in ends.items()}
    culprit = min(left, key=lambda one: _strays(left[one]))
    counted = any(step.tally or step.pieces for step in told.phases)
    steps = phases(puzzle, culprit.arrangement, puzzle.read(told.moves)) if counted else told.phases
    families = {change.family for change in culprit.changes}
    return replace(told, mends=culprit, phases=steps, leaves=tuple(_hidden(puzzle, left[culprit], families)))


def _strays(image: np.ndarray) -> int:
    return int((image != np.arange(len(image))).sum())


def _hidden(puzzle: Puzzle, image: np.ndarray, families: set[str]) -> Iterator[HiddenTurn | HiddenSwap]:
    """What a permutation that does not show does to the pieces of some families."""
    for kind in (kind for kind in puzzle.kinds if kind.family in families):
        slots, twists = np.divmod(image[puzzle.base_label[list(kind.places)]] - kind.first, kind.twist)
        for ring in cycles(slots.tolist()):
            yield HiddenSwap(tuple(kind.slots[s] for s in ring), kind.family)
        for s in np.flatnonzero((slots == np.arange(len(slots))) & (twists > 0)):
            yield HiddenTurn(kind.slots[s], kind.family, (int(twists[s]),), kind.twist)
