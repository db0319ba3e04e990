"""What is said of a way out: what was proved of it, how easy it is, what its phases do, and how to hold the puzzle for it."""

from collections.abc import Sequence

from oddswap.reasoning.teaching.tool_ways import SHORTEST, TaughtWay
from oddswap.reasoning.ways.findings import Phase
from oddswap.reasoning.ways.way_out import Route
from oddswap.values.grammar import capital, listed
from oddswap.words.culprits import hidden_change
from oddswap.words.laws import value_words
from oddswap.words.searches import proved_words
from oddswap.words.verdicts import NOTHING_TO_TURN

EFFORT = (
    "The easiest way is the one with the fewest points. A turn is one point. A change of grip takes about as long, and is one "
    "more: fingers rest on two faces at a time; a turn of a third face, or turning the whole puzzle, is a change. An awkward "
    "turn, of a layer at the back, inside, or sticking out, is one more: fingers have to feel for it. A turn to remember is two "
    "points, because eyes go to the page and back; what is repeated, or known by name, counts once."
)
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
