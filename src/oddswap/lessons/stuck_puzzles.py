"""A stuck puzzle beside the four causes that it can have, in the order in which they are ruled out.

Exercises that check themselves by computing, and whose hint names the law that an answer overlooked.
"""

import textwrap
from collections.abc import Iterable, Mapping
from dataclasses import replace

import numpy as np
from matplotlib.figure import Figure

from oddswap.describing.changes import changed
from oddswap.errors import OddswapError
from oddswap.lessons.machinery.exercises import parts
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.verdicts.diagnosis import LOOKALIKE, NOT_BY_TURNING, ORDINARY, OTHER_TURNS, Diagnosis, diagnose
from oddswap.showing.ink.arrows import draw_arrows
from oddswap.showing.ink.camera import cameras, reach
from oddswap.showing.ink.canvas import sheet, write
from oddswap.showing.ink.marking import hatched_pieces, slot_numbers
from oddswap.showing.ink.notes import Note, kindly
from oddswap.showing.ink.painting import Inks, paint
from oddswap.showing.ink.palette import FAINT_INK, HIGHLIGHT, colours_for
from oddswap.showing.ink.paper_card import PaperCard
from oddswap.showing.ink.scene import Scene, scene
from oddswap.values.position import Arrangement
from oddswap.words.verdicts import WORDINGS

CAUSES = tuple((verdict, WORDINGS[verdict].cause) for verdict in (ORDINARY, LOOKALIKE, OTHER_TURNS, NOT_BY_TURNING))
TURNED = {ORDINARY: ("U", 0.35), OTHER_TURNS: ("F", 0.4)}
"""The turn on a card, and how far it is done."""
PHOTO, SMALL, WORDS, PAD, GAP, MARGIN = 2.3, 1.4, 1.85, 0.09, 0.14, 0.18
CARD = PaperCard(SMALL, PAD, foot=PAD, beside=WORDS + PAD)
INCHES = 0.9
LINES = 22
"""How many letters of a card's text fit on a line."""
LIFT = 0.95
"""How far the lifted piece stands out, in half-edges."""


def draw_causes(puzzle: Puzzle, shown: Arrangement, *, lifted: str | int = 0, highlight: Iterable[str | int] = ()) -> Figure:
    """The puzzle as it was brought, and four cards: turns, lookalikes, other turns, slips and hands.

    The fourth lifts the piece out of the slot ``lifted``. The pieces in the slots of ``highlight`` are outlined on the large
    picture.

    >>> from oddswap import lessons
    >>> figure = lessons.draw_causes("shape-mod:prism8", "flip UF", lifted="UFR", highlight=["UF"])
    """
    inks, camera = Inks(colours_for(puzzle)), cameras(puzzle)[0]
    photo = PaperCard(PHOTO, PAD, foot=2 * CARD.height + GAP - PAD - PHOTO)
    ax = sheet(2 * MARGIN + photo.width + 2 * (CARD.width + GAP), 2 * MARGIN + photo.height, inches=INCHES)
    spot = photo.picture(ax, (MARGIN, MARGIN), puzzle, shown, highlight=frozenset(slot_numbers(puzzle, highlight)))
    write(ax, spot.x, MARGIN + photo.foot / 2 + 0.06, "It is stuck.\nFour possible causes:", size=10.5, linespacing=1.5)
    for i, (verdict, words) in enumerate(CAUSES):
        left = MARGIN + photo.width + GAP + i % 2 * (CARD.width + GAP)
        base = MARGIN + (1 - i // 2) * (CARD.height + GAP)
        spot = CARD.lay(ax, left, base, 1.22 * reach(puzzle))
        x, top = left + 2 * PAD + SMALL, base + CARD.height
        write(ax, x, top - 0.3, f"{i + 1}  {verdict}", size=10, weight="bold", color=HIGHLIGHT, ha="left")
        lines = textwrap.fill(words, LINES)
        write(ax, x, top - 0.52, lines, size=9, color=FAINT_INK, ha="left", va="top", linespacing=1.35)
        if verdict in TURNED:
            name, done = TURNED[verdict]
            paint(ax, scene(puzzle, shown, camera, [(puzzle.turns[name], done)]), replace(inks, lifted=True), spot)
            draw_arrows(ax, puzzle, shown, [puzzle.turns[name]], camera, spot, zorder=3)
        elif verdict == LOOKALIKE:
            paint(ax, scene(puzzle, shown, camera).open(), replace(inks, hatched=hatched_pieces(puzzle, True)), spot)
        else:
            for part in lifted_out(scene(puzzle, shown, camera), *slot_numbers(puzzle, [lifted])):
                paint(ax, part, inks, spot)
    return ax.figure


def lifted_out(seen: Scene, slot: int) -> tuple[Scene, Scene]:
    """A scene without the piece in ``slot``, and that piece alone, moved outwards and towards the eye."""
    rest = tuple(panel for panel in seen.panels if panel.slot != slot)
    own = [panel for panel in seen.panels if panel.slot == slot]
    outwards = np.concatenate([panel.vertices for panel in own]).mean(axis=0)
    step = LIFT * outwards / np.linalg.norm(outwards)
    piece = tuple(panel._replace(vertices=panel.vertices + step) for panel in own)
    return Scene(rest, seen.camera), Scene(piece, seen.camera)


@kindly
def check_changes(changes: str, wanted: Mapping[str, str]) -> Note:
    """Whether changes by hand (separated by commas) get the ``wanted`` verdict on each puzzle, by its name.

    Every right answer is accepted, and any text at all gets a kind sentence.

    >>> check_changes("flip UF", {"cube:3": "ordinary"})
    Not yet. On "cube:3" the verdict is "not by turning" where "ordinary" is asked for. Look
    at this law: The number of flipped edges is always even.
    """
    steps = parts(changes, "changes such as: flip UF, swap UR UB")
    for name, verdict in wanted.items():
        puzzle = load(name)
        try:
            seen = puzzle.appearance(changed(puzzle, steps))
        except OddswapError as error:
            return Note(f'On "{name}" that cannot be read yet: {error}.')
        if seen == puzzle.appearance(puzzle.solved):
            return Note(f'Not yet. On "{name}" nobody can see these changes: it looks solved, so nobody would bring it.')
        found = diagnose(puzzle, seen)
        if found.verdict != verdict:
            told = f'On "{name}" the verdict is "{found.verdict}" where "{verdict}" is asked for.'
            return Note(f"Not yet. {told} {_hint(name, found, verdict)}")
    return Note("Yes: " + ", and ".join(f'"{verdict}" on "{name}"' for name, verdict in wanted.items()) + ".")


def _hint(name: str, found: Diagnosis, wanted: str) -> str:
    if found.broken and wanted != NOT_BY_TURNING:
        return f"Look at this law: {found.broken[0].statement}"
    laws = [law for law in law_book(load(name)).laws if wanted == ORDINARY or law.seen == (wanted == NOT_BY_TURNING)]
    if laws:
        hidden = " and lookalikes can mend it" if wanted == LOOKALIKE else ""
        return f"Break a law here{hidden}: {laws[0].statement}"
    return "No law of this puzzle can give that verdict: choose other changes or another puzzle."
