"""Three cubes on which two pieces have changed places, all else at home: one alarm, and a different cause on each."""

from __future__ import annotations

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from oddswap.describing.changes import changed
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.verdicts.alarms import Alarm, Swapped, alarms
from oddswap.showing.ink.cards import Card, draw_cards
from oddswap.showing.ink.marking import hatched_pieces
from oddswap.words import say

THREE = (("cube:4", "UF.l2", "UF.r2"), ("cube:4", "UFL", "UFR"), ("cube:3,centres=none", "UF", "UR"))
"""The puzzles, by name, and the two slots whose pieces have changed places."""


def draw_three_alarms(*, ax: Axes | None = None) -> Figure:
    """The three cubes as they look, the two pieces outlined."""
    return draw_cards([_card(load(name), pair, f"{' and '.join(pair)} exchanged") for name, *pair in THREE], ax=ax)


def draw_three_causes(*, ax: Axes | None = None) -> Figure:
    """The same with the cause of each, as the table of alarms tells it; equal pieces that explain the sight are hatched."""
    cards = []
    for name, *pair in THREE:
        puzzle = load(name)
        alarm = alarm_of(puzzle, *pair)
        cause, _, words = say(alarm.reason).partition(": ")
        pieces = [piece for culprit in alarm.culprits for piece in culprit.pieces]
        cards.append(_card(puzzle, pair, cause, words, hatched_pieces(puzzle, pieces) if pieces else {}))
    return draw_cards(cards, ax=ax)


def alarm_of(puzzle: Puzzle, one: str, other: str) -> Alarm:
    """What the table of alarms says of two pieces of a kind that have changed places, nothing else amiss.

    >>> alarm_of(load("cube:2"), "UFL", "UFR").reason.code
    'free sign'
    """
    kind = puzzle.kind_of[puzzle.slot(one)]
    return next(alarm for alarm in alarms(puzzle) if alarm.sort == Swapped(kind.name, kind.twist, 0))


def _card(puzzle: Puzzle, pair: list[str], headline: str, words: str = "", hatched=None) -> Card:
    outlined = frozenset(map(puzzle.slot, pair))
    told = f"{puzzle.title}\n{words}"
    return Card(puzzle, changed(puzzle, [f"swap {' '.join(pair)}"]), headline, told, hatched or {}, outlined)
