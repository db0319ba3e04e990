"""A quarter turn undone by swaps: numbered labels stuck on the pieces that a turn carries round, and each swap as an arrow.

Exercises about turns: swaps that undo a turn, going there and coming back, sequences with given cycles.
"""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from math import prod

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import FancyArrowPatch
from matplotlib.patheffects import withStroke

from oddswap.describing.changes import changed
from oddswap.errors import BadOption, quoted
from oddswap.lessons.machinery.exercises import out_of_place, parts, slot_names, written
from oddswap.puzzles.base.puzzle import Kind, Puzzle, Turn
from oddswap.puzzles.catalogue import load
from oddswap.showing.ink.arrows import across, lay_arrow
from oddswap.showing.ink.camera import Camera, cameras
from oddswap.showing.ink.canvas import write
from oddswap.showing.ink.cards import PaperCard
from oddswap.showing.ink.palette import BODY, FAINT_INK, HIGHLIGHT, INK, PAPER
from oddswap.showing.ink.scene import scene
from oddswap.showing.ink.widgets import Note, kindly
from oddswap.showing.pictures.cycles import groups_of
from oddswap.values.grammar import counted, listed
from oddswap.values.permutation import cycles, inverse, sign
from oddswap.values.position import Arrangement

FAMILIES = ("corners", "edges")
CARD = PaperCard(side=1.36, pad=0.08, foot=0.3)
GAP, TITLE = 0.12, 0.3
BADGE = {"boxstyle": "circle,pad=0.2", "facecolor": PAPER, "edgecolor": BODY, "lw": 0.8}
BEND = 0.36
"""How far the arrow of a swap is pulled aside."""
INSIDE = 0.5
"""Where the arrow of the turn runs, as a share of the way from the centre to the labels."""
LEAN = 0.5
"""How far the eye leans away from straight above the side that turns: so far to the side on each unit up."""
ORDINALS = ("1st", "2nd", "3rd", "4th", "5th", "6th", "7th", "8th")


def draw_quarter_turn(puzzle: Puzzle, turn: str = "U") -> Figure:
    """A row for the corners, one for the edges: one side before a ``turn``, after it, and after each swap that brings one home.

    Every picture shows what is done next. The pieces are numbered by the slots where they belong, clockwise.

    >>> from oddswap import lessons
    >>> figure = lessons.draw_quarter_turn("cube:3")
    """
    made, *more = puzzle.settled(turn)[0] or (None,)
    kinds = [kind for kind in puzzle.kinds if made and not more and kind.family in FAMILIES and carried_round(puzzle, kind, made)]
    if not kinds:
        raise BadOption(f"{quoted(turn)} carries no corners or edges of {puzzle.name} round: name a turn such as U of cube:3")
    camera = above(puzzle, made)
    rows = [(kind, carried_round(puzzle, kind, made), *way_home(puzzle, kind, puzzle.follow(turn))) for kind in kinds]
    columns = max(len(states) for _, _, states, _ in rows) + 1
    ax, corners = CARD.in_rows(len(rows) * columns, columns, GAP, apart=TITLE + GAP, above=TITLE)
    for row, (kind, numbered, states, swaps) in enumerate(rows):
        left, low = corners[row * columns]
        count = f"{len(numbered)} {kind.family}, {len(swaps)} swaps"
        write(ax, left, low + CARD.height + TITLE - 0.11, count, ha="left", size=11, weight="bold")
        for i, state in enumerate([puzzle.solved, *states]):
            swap = swaps[i - 1] if 0 < i <= len(swaps) else ()
            spot = CARD.picture(ax, corners[row * columns + i], puzzle, state, camera, highlight=frozenset(swap))
            middles = {slot: spot.place(place) for slot, place in _label_places(puzzle, made, numbered, camera).items()}
            for slot, middle in middles.items():
                write(ax, *middle, str(numbered[state.pieces[slot]]), size=8.5, weight="bold", bbox=BADGE, zorder=5)
            centre = np.mean(list(middles.values()), axis=0)
            if i == 0:
                _turn_arrow(ax, list(middles.values()), centre)
            elif swap:
                _swap_arrow(ax, *(middles[slot] for slot in swap), centre)
            words = f"{turn} turns" if i == 0 else f"{ORDINALS[i - 1]} swap" if swap else f"{kind.family} at home"
            write(ax, spot.x, low + CARD.foot / 2, words, size=10, color=INK if i <= len(swaps) else FAINT_INK)
    return ax.figure


def carried_round(puzzle: Puzzle, kind: Kind, turn: Turn) -> dict[int, int]:
    """The slots of a kind that a turn carries round, each with its number from 1, in the turn's own order; none in two rounds."""
    rounds = [found for found in cycles(inverse(puzzle.arrangement(turn.permutation).pieces)) if found[0] in kind.places]
    return {slot: number for number, slot in enumerate(rounds[0] if len(rounds) == 1 else (), 1)}


def way_home(puzzle: Puzzle, kind: Kind, state: Arrangement) -> tuple[list[Arrangement], list[tuple[int, int]]]:
    """Swaps, as pairs of slots, that each bring a piece of the kind home, and the arrangements before, between and after."""
    states, swaps = [state], []
    for slot in kind.places:
        here = states[-1].pieces.index(slot)
        if here != slot:
            swaps.append((here, slot))
            states.append(_brought_home(states[-1], here, slot, kind.twist))
    return states, swaps


def _brought_home(state: Arrangement, here: int, home: int, ways: int) -> Arrangement:
    """The piece in ``here`` goes ``home`` untwisted; the one that it meets there takes its place, and its twist over."""
    pieces, twists = list(state.pieces), list(state.twists)
    pieces[home], pieces[here] = pieces[here], pieces[home]
    twists[home], twists[here] = 0, (twists[home] + twists[here]) % ways
    return replace(state, pieces=tuple(pieces), twists=tuple(twists))


def above(puzzle: Puzzle, turn: Turn) -> Camera:
    """A point of view nearly straight above the side that turns, on the side of the prints' own."""
    axis, usual = np.array(turn.axis), cameras(puzzle)[0]
    direction = axis + LEAN * across(axis, usual.direction)
    return Camera(direction / np.linalg.norm(direction), usual.distance)


def _label_places(puzzle: Puzzle, turn: Turn, slots: Iterable[int], camera: Camera) -> dict[int, np.ndarray]:
    """Where in a picture, by slot, the middle of the sticker is that it shows on the side that turns."""
    places = {}
    for slot in slots:
        panels = scene(puzzle, puzzle.solved, camera).panels
        middles = [panel.vertices.mean(axis=0) for panel in panels if panel.slot == slot and panel.role == "sticker"]
        if not middles:
            raise BadOption(f"{quoted(turn.name)} turns {puzzle.name} out of its outline: name a turn such as U of cube:3")
        places[slot] = camera.project(max(middles, key=lambda middle: middle @ turn.axis))
    return places


def _turn_arrow(ax: Axes, middles: list[np.ndarray], centre: np.ndarray) -> None:
    """An arrow inside the ring of labels, the way that the pieces go: from the first label to beside the last."""
    steps = np.linspace(0, len(middles) - 1, 60)
    closed = np.array([*middles, middles[0]]) - centre
    angles = np.unwrap(np.arctan2(closed[:, 1], closed[:, 0]))
    lengths = np.linalg.norm(closed, axis=1)
    angle, length = (np.interp(steps, np.arange(len(closed)), values) for values in (angles, INSIDE * lengths))
    lay_arrow(ax, centre + length[:, None] * np.stack([np.cos(angle), np.sin(angle)], axis=1), 0.05, 4)


def _swap_arrow(ax: Axes, one: np.ndarray, other: np.ndarray, centre: np.ndarray) -> None:
    """An arrow with two heads from label to label, bent away from the centre of the side."""
    (x, y), (out_x, out_y) = other - one, (one + other) / 2 - centre
    outwards = y * out_x - x * out_y
    bend = np.clip(10 * outwards / np.hypot(x, y), -1, 1) * BEND / np.hypot(x, y)
    style = {"mutation_scale": 10, "shrinkA": 8, "shrinkB": 8, "lw": 2.2, "color": HIGHLIGHT, "zorder": 4}
    cased = [withStroke(linewidth=4.5, foreground=PAPER)]
    arc = f"arc3,rad={bend}"
    ax.add_patch(FancyArrowPatch(one, other, arrowstyle="<|-|>", connectionstyle=arc, path_effects=cased, **style))


@kindly
def check_swaps(swaps: str, count: int, *, turn: str = "U", family: str = "edges", name: str = "cube:3") -> Note:
    """Whether exactly ``count`` swaps (pairs of slots, separated by commas) bring the pieces that a turn moved home.

    Which way round they sit there is not asked.

    >>> check_swaps("UF UL, UL UB, UB UR", 3)
    Yes: all edges that U moved are home after 3 swaps.
    """
    pairs = [pair.removeprefix("swap ").strip() for pair in parts(swaps, "pairs of slots such as: UF UR, UL UB")]
    for pair in pairs:
        if len(pair.split()) != 2:
            return Note(f"Each swap names two slots, as in: UF UR. In your answer there is {quoted(pair)}.")
    puzzle = load(name)
    start = puzzle.follow(turn)
    state = changed(puzzle, [f"swap {pair}" for pair in pairs], start)
    strangers = [slot for pair in pairs for slot in pair.split() if puzzle.kind_of[puzzle.slot(slot)].family != family]
    if strangers:
        return Note(f"Not yet. This exercise is about the {family} alone, and {strangers[0]} is none of them.")
    kinds = [kind for kind in puzzle.kinds if kind.family == family]
    if away := [slot for kind in kinds for slot in kind.places if state.pieces[slot] != slot]:
        odd = prod(sign([state.pieces[slot] - kind.start for slot in kind.places]) for kind in kinds) < 0
        hint = f" {'An odd' if len(pairs) % 2 else 'An even'} number of swaps can never do it: think of the cycles of {turn}."
        told = f"After your {counted(len(pairs), 'swaps')} the pieces in {slot_names(puzzle, away)} still belong elsewhere."
        return Note(f"Not yet. {told}{hint * odd}")
    if len(pairs) != count:
        told = f"All are home, but after {len(pairs)} swaps where {count} are asked for. Two further swaps can always be put in"
        never = "a single one never, because each swap changes odd to even or back"
        return Note(f"{told} so that the second undoes the first; {never}.")
    return Note(f"Yes: all {family} that {turn} moved are home after {count} swaps.")


@kindly
def check_there(there: str, act: str, wanted: str, *, name: str = "cube:3") -> Note:
    """Whether going ``there``, doing ``act`` and coming back changes exactly the pieces in the ``wanted`` slots.

    >>> check_there("R2", "[U R U', L']", "UFL UBL DFR")
    Yes: [R2: [U R U', L']] changes the pieces in UFL, UBL and DFR, and no other.
    """
    puzzle = load(name)
    aim = {puzzle.slot(slot) for slot in wanted.split()}
    set_up = puzzle.read(written(there, "the turns that lead there, such as: R F2"))
    reached = out_of_place(puzzle, puzzle.follow(f"[{set_up}: {act}]"))
    if reached == aim:
        return Note(f"Yes: [{set_up}: {act}] changes the pieces in {slot_names(puzzle, aim)}, and no other.")
    now, there, here = (slot_names(puzzle, slots) for slots in (reached, aim, out_of_place(puzzle, puzzle.follow(act))))
    told = f"Going there and coming back kept the lengths of the cycles, but now they run through {now}."
    return Note(f"Not yet. {told} Your turns must bring the pieces from {there} to {here}, in any order.")


@kindly
def check_cycles(moves: str, wanted: Mapping[str, tuple[int, ...]], *, name: str = "cube:3") -> Note:
    """Whether turns have just the ``wanted`` lengths of cycles, by family, longest first; a piece turned in its slot has 1.

    What does not show of the centres is not asked.

    >>> check_cycles("R U R' U'", {"corners": (2, 2), "edges": (3,)})
    Yes: corners in cycles of 2 and 2, edges in a cycle of 3.
    """
    puzzle, moves = load(name), written(moves, "turns such as: R U R' U'")
    groups = groups_of(puzzle, puzzle.follow(moves))
    found = {group.title: tuple(sorted((len(c.slots) for c in group.cycles), reverse=True)) for group in groups}
    families = [*FAMILIES, *(family for family in wanted if family not in FAMILIES)]
    found, wanted = ({family: lengths.get(family, ()) for family in families} for lengths in (found, wanted))
    told = ", ".join(f"{family} {_cycle_words(lengths)}" for family, lengths in found.items())
    if found == wanted:
        return Note(f"Yes: {', '.join(f'{family} {_cycle_words(found[family])}' for family in found if found[family])}.")
    quarters = sum(abs(turn.step.amount) % 2 for turn in puzzle.settled(moves)[0])
    return Note(f"Not yet. Your turns give: {told}. {_overlooked(wanted, found, quarters)}")


def _overlooked(wanted: Mapping[str, tuple[int, ...]], found: Mapping[str, tuple[int, ...]], quarters: int) -> str:
    """The law, or else the move, that an answer did not think of."""
    odd = sum(length - 1 for length in wanted["corners"]) % 2
    if any(wanted[family] for family in FAMILIES) and quarters % 2 != odd:
        made, needed = ("an even", "an odd") if odd else ("an odd", "an even")
        law = "Each quarter turn is odd on the corners and on the edges"
        return f"You made {made} number of quarter turns. {law}, and here {needed} number is needed."
    for family in wanted:
        if len(found[family]) > len(wanted[family]) or sum(found[family]) > sum(wanted[family]):
            hint = "A commutator [A, B] disturbs little when A and B have few pieces in common: best of all one."
            return f"Too many {family} are out of place. {hint}"
    return "Something must move: choose A and B such that they have at least one piece in common."


def _cycle_words(lengths: tuple[int, ...]) -> str:
    if not lengths:
        return "at rest"
    return f"in a cycle of {lengths[0]}" if len(lengths) == 1 else f"in cycles of {listed(map(str, lengths))}"
