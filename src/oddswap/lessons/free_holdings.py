"""One state held in several ways: what each holding makes of the signs, and whether turns of the slabs alone lead there.

Three cubes on which two pieces have changed places, all else at home: one alarm, and a different cause on each.

Exercises on holdings and signs: a holding that mends a law, and turns that are odd on just some kinds of pieces.
"""

from collections.abc import Iterable, Mapping, Sequence

from matplotlib.figure import Figure

from oddswap.describing.changes import changed
from oddswap.errors import BadOption, quoted
from oddswap.lessons.machinery.exercises import written
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.whole_turns import held_still
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.verdicts.alarms import Alarm, Swapped, alarms
from oddswap.showing.ink.cards import Card, draw_cards
from oddswap.showing.ink.painting import hatched_pieces
from oddswap.showing.ink.widgets import Note, kindly
from oddswap.values.grammar import listed
from oddswap.values.permutation import sign
from oddswap.values.position import Arrangement
from oddswap.values.sequence import ROTATIONS
from oddswap.words.alarms import reason_parts


def always_held(puzzle: Puzzle) -> Puzzle:
    """The same puzzle when it is never held another way: its slabs turn, and that is all.

    >>> from oddswap import load
    >>> [law.name for law in law_book(always_held(load("cube:3,centres=none"))).laws if law.type == "sign"]
    ['sign of corners and edges']
    """
    return held_still(puzzle)


def signs(puzzle: Puzzle, arrangement: Arrangement) -> dict[str, str]:
    """For each kind of two pieces or more, whether they are rearranged evenly or oddly: ``even`` or ``odd``."""
    kinds = [kind for kind in puzzle.kinds if len(kind.slots) > 1]
    moved = {kind.name: sign([arrangement.pieces[slot] - kind.start for slot in kind.places]) for kind in kinds}
    return {name: "odd" if s < 0 else "even" for name, s in moved.items()}


def draw_holdings(puzzle: Puzzle, arrangement: Arrangement, turns: Iterable[str]) -> Figure:
    """A card for each of ``turns`` of the whole puzzle (empty: none): the state held so, its signs, and what can lead there.

    The pieces that are out of place are outlined.

    >>> from oddswap import lessons
    >>> figure = lessons.draw_holdings("cube:3,centres=none", "swap UF UR", ["", "y"])
    """
    astray = {arrangement.pieces[slot] for slot in arrangement.displaced()}
    cards = []
    for turn in turns:
        held = puzzle.follow(turn, arrangement)
        told = ", ".join(f"{kind} {s}" for kind, s in signs(puzzle, held).items())
        reached = law_book(always_held(puzzle)).reaches(held)
        words = f"{told}:\nturns of the layers {'lead' if reached else 'never lead'} here"
        outlined = frozenset(slot for slot, piece in enumerate(held.pieces) if piece in astray)
        cards.append(Card(puzzle, held, f"after {turn}" if turn else "as it was brought", words, highlight=outlined))
    return draw_cards(cards, per_row=2)


THREE_ALARMS = (("cube:4", "UF.l2", "UF.r2"), ("cube:4", "UFL", "UFR"), ("cube:3,centres=none", "UF", "UR"))
"""The puzzles, by name, and the two slots whose pieces have changed places."""


def draw_three_alarms() -> Figure:
    """The three cubes as they look, the two pieces outlined.

    >>> from oddswap import lessons
    >>> figure = lessons.draw_three_alarms()
    """
    return draw_cards([_card(load(name), pair, f"{' and '.join(pair)} swapped") for name, *pair in THREE_ALARMS])


def draw_three_causes() -> Figure:
    """The same with the cause of each, as the table of alarms tells it; equal pieces that explain the sight are hatched.

    >>> from oddswap import lessons
    >>> figure = lessons.draw_three_causes()
    """
    cards = []
    for name, *pair in THREE_ALARMS:
        puzzle = load(name)
        alarm = alarm_of(puzzle, *pair)
        cause, words = reason_parts(alarm.reason)
        pieces = [piece for culprit in alarm.culprits for piece in culprit.pieces]
        cards.append(_card(puzzle, pair, cause, words, hatched_pieces(puzzle, pieces) if pieces else {}))
    return draw_cards(cards)


def alarm_of(puzzle: Puzzle, one: str, other: str) -> Alarm:
    """What the table of alarms says of two pieces of a kind that have changed places, nothing else amiss.

    >>> alarm_of(load("cube:2"), "UFL", "UFR").reason.code
    'free sign'
    """
    kinds = {puzzle.kind_of[puzzle.slot(slot)] for slot in (one, other)}
    found = [alarm for alarm in alarms(puzzle) if {alarm.sort} == {Swapped(kind.name, kind.twist, 0) for kind in kinds}]
    if one == other or not found:
        raise BadOption(f"{quoted(one)} and {quoted(other)} are no two slots of one kind: write such as UF and UR of cube:3")
    return found[0]


def _card(puzzle: Puzzle, pair: list[str], headline: str, words: str = "", hatched=None) -> Card:
    outlined = frozenset(map(puzzle.slot, pair))
    told = f"{puzzle.title}\n{words}"
    return Card(puzzle, changed(puzzle, [f"swap {' '.join(pair)}"]), headline, told, hatched or {}, outlined, letters=True)


@kindly
def check_holding(turns: str, name: str, changes: Sequence[str]) -> Note:
    """Whether these turns of the whole puzzle hold it such that the slabs' turns alone can have led to ``changes``.

    Every right answer is accepted, and any text at all gets a kind sentence.

    >>> check_holding("y2", "cube:3,centres=none", ["swap UF UB"])
    Not yet. Held like that, this law is still broken: The corners and the edges are always
    rearranged either both evenly or both oddly.
    """
    puzzle, turns = load(name), written(turns, "turns of the whole puzzle such as: x2 y")
    steps = puzzle.read(turns).steps
    held = puzzle.follow(turns, changed(puzzle, changes))
    slabs = [str(step) for step in steps if step.stem not in ROTATIONS]
    if slabs:
        return Note(f"Not yet. {slabs[0]} turns only a part of the puzzle. Hold all of it another way, with x, y or z.")
    broken = law_book(always_held(puzzle)).broken(held)
    if broken:
        return Note(f"Not yet. Held like that, this law is still broken: {broken[0].statement}")
    return Note("Yes: held like that no law is broken, so turns of the layers alone can have led here.")


@kindly
def check_signs(moves: str, name: str, wanted: Mapping[str, str]) -> Note:
    """Whether turns are ``even`` or ``odd`` on the pieces of each kind as ``wanted``; other kinds are not asked.

    Every right answer is accepted, and any text at all gets a kind sentence.

    >>> check_signs("R", "cube:4", {"corners": "odd", "wings": "odd"})
    Not yet. Your turns are odd on the corners and even on the wings. A turn such as 2U
    changes that of the wings and no other that is asked for.
    """
    puzzle = load(name)
    found = signs(puzzle, puzzle.follow(written(moves, "turns such as: R U2 2F")))
    if not all(kind in found for kind in wanted):
        raise BadOption(f"{name} has no kind of that name: name some of the {listed(found)}, as even or odd")
    told = listed(f"{found[kind]} on the {kind}" for kind in wanted)
    wrong = [kind for kind in wanted if found[kind] != wanted[kind]]
    if not wrong:
        return Note(f"Yes: your turns are {told}.")
    for turn in puzzle.turns:
        made = signs(puzzle, puzzle.follow(turn))
        if [kind for kind in wanted if made[kind] == "odd"] == wrong:
            hint = f"A turn such as {turn} changes that of the {listed(wrong)} and no other that is asked for."
            return Note(f"Not yet. Your turns are {told}. {hint}")
    return Note(f"Not yet. Your turns are {told}. No single turn changes just that of the {listed(wrong)}: think of two.")
