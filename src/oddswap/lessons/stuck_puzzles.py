"""A stuck puzzle beside the four causes that it can have, in the order in which they are ruled out; and lookalikes, the second.

A strip of tape on a piece shows what cannot be seen without it, before and after the piece has turned in its place. How flips
are counted away from home: a ring for each slot, a dot for each piece; an edge is flipped where they part. The exercises check
themselves by computing, and their hints name the law that an answer overlooked.
"""

import re
import textwrap
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

import numpy as np
from matplotlib.figure import Figure

from oddswap.describing.changes import changed
from oddswap.errors import BadOption, OddswapError, quoted
from oddswap.lessons.machinery.exercises import out_of_place, parts, slot_names, written
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import load
from oddswap.puzzles.solids.looks import looks_of
from oddswap.reasoning.laws.as_seen import free_pieces
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.lookalikes import lookalikes
from oddswap.reasoning.verdicts.diagnosis import LOOKALIKE, NOT_BY_TURNING, ORDINARY, OTHER_TURNS, Diagnosis, diagnose
from oddswap.reasoning.verdicts.mending import smallest_mendings, steady_laws
from oddswap.showing.ink.arrows import draw_arrows
from oddswap.showing.ink.camera import Camera, cameras, looking_at, reach
from oddswap.showing.ink.canvas import sheet, write
from oddswap.showing.ink.cards import Card, PaperCard, draw_cards
from oddswap.showing.ink.painting import Inks, hatched_pieces, paint, slot_numbers, with_tape
from oddswap.showing.ink.palette import BODY, FAINT_INK, HIGHLIGHT, PAPER, colours_for
from oddswap.showing.ink.scene import Scene, scene
from oddswap.showing.ink.widgets import Note, kindly
from oddswap.values.grammar import listed
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
            turns = puzzle.settled(name, shown)[0]
            paint(ax, scene(puzzle, shown, camera, [(turn, done) for turn in turns]), replace(inks, lifted=True), spot)
            draw_arrows(ax, puzzle, shown, turns, camera, spot, zorder=3)
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
    if not own:
        raise BadOption("there is nothing to be seen in the slot to lift from: name another in `lifted`")
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


PARTS = {2: "half a turn", 3: "a third of a turn", 4: "a quarter turn"}


def taped(puzzle: Puzzle, *slots: str) -> Puzzle:
    """The same puzzle with a strip of tape on the pieces that are at home in ``slots``, and with what can now be seen.

    It keeps its name, because tape comes off again. `BadOption` for what is no solid or leaves its outline, `UnknownSlot`
    for a slot that it has not.

    >>> from oddswap import lessons
    >>> lessons.taped("shape-mod:prism8", "FR").title
    'prism on 8 sides in three layers, with tape on FR'
    """
    geometry = puzzle.geometry
    if geometry is None or puzzle.void:
        raise BadOption(f"tape goes on solids that keep their outline, and {quoted(puzzle.name)} is none: try shape-mod:prism8")
    numbers = {puzzle.slot(slot) for slot in slots}
    bodies = tuple(with_tape(body) if b in numbers else body for b, body in enumerate(geometry.bodies))
    looks, _ = looks_of(list(puzzle.kinds), bodies, geometry.placements, geometry.mechanism.rotations, geometry.paints)
    title = f"{puzzle.title}, with tape on {' and '.join(slots)}" if slots else puzzle.title
    return replace(puzzle, title=title, geometry=replace(geometry, bodies=bodies), looks=looks)


def draw_tape(puzzle: Puzzle, slot: str) -> Figure:
    """A piece before and after its smallest hidden turn (or half a turn): above as it is, below with tape on it.

    >>> from oddswap import lessons
    >>> figure = lessons.draw_tape("shape-mod:prism8", "FR")
    """
    number = puzzle.slot(slot)
    kind = puzzle.kind_of[number]
    if kind.twist == 1:
        raise BadOption(f"the piece at {quoted(slot)} has one way round only, so it cannot turn there: choose another")
    step = lookalikes(puzzle).family_of[number].step
    step = step if step < kind.twist else kind.twist // 2
    after = replace(puzzle.solved, twists=tuple(step * (s == number) for s in range(len(puzzle.slots))))
    turned = f"{slot} after {PARTS.get(kind.twist // step, 'a turn')}"
    cards = []
    for copy, how in ((puzzle, "without tape"), (taped(puzzle, slot), "with tape")):
        same = copy.appearance(copy.solved) == copy.appearance(after)
        told = f"{turned}:\n{'nothing to be seen' if same else 'it shows'}"
        for shown, when, words in ((copy.solved, "before", "everything at home"), (after, "after", told)):
            cards.append(Card(copy, shown, f"{how}, {when}", words, camera=facing(copy, number)))
    return draw_cards(cards, per_row=2)


def facing(puzzle: Puzzle, slot: int) -> Camera:
    """The one of the two points of view of the prints that looks at a slot."""
    faces = [face for face in puzzle.geometry.bodies[slot].faces if face.facet]
    outwards = np.sum([face.area * face.normal for face in faces], axis=0)
    return looking_at(puzzle, outwards)


@kindly
def check_culprits(pieces: str, name: str, changes: Sequence[str]) -> Note:
    """Whether these pieces, turned or exchanged where nobody sees it, let ``changes`` on the puzzle happen by turning.

    ``pieces`` are home slots with spaces or commas between; as few as will do. Free pieces, such as centres that turned
    along, are not counted. Any text at all gets a kind sentence.

    >>> check_culprits("UF", "shape-mod:prism8", ["flip UF"])
    Not yet. UF cannot turn without being seen, and has no twin among the pieces you name.
    """
    puzzle = load(name)
    named = frozenset(puzzle.slot(word) for word in re.split(r"[\s,]+", str(pieces)) if word)
    if not named:
        return Note("Nothing written yet. Write pieces by their homes, such as: UF UR")
    for piece in sorted(named):
        family = lookalikes(puzzle).family_of[piece]
        if family.hidden == 1 and len(named.intersection(family.pieces)) == 1:
            told = f"{puzzle.slots[piece]} cannot turn without being seen, and has no twin among the pieces you name"
            return Note(f"Not yet. {told}.")
    book, state = law_book(puzzle), changed(puzzle, changes)
    permutation, free = puzzle.permutation(state), free_pieces(puzzle, state.displaced())
    mendings = smallest_mendings(book, permutation, free, within=named | free)
    if not mendings:
        broken = next(law for law in steady_laws(book, named | free) if law.value(permutation))
        return Note(f"Not yet. Nobody would see it, but it leaves this law broken: {broken.statement}")
    if len({p for atom in mendings[0] for p in atom.pieces}) < len(named):
        return Note("Not yet, but nearly: fewer pieces will do. Leave one out.")
    return Note(f"Yes: {slot_names(puzzle, named)} can be the reason, and nobody would see it.")


@kindly
def check_reseating(moves: str, name: str, edge: str) -> Note:
    """Whether turns of the solved puzzle put ``edge`` in again the other way round, so that the upper flips come out odd.

    All that is outside the U layer must look as before. Any text at all gets a kind sentence.

    >>> check_reseating("R U R'", "shape-mod:prism8", "FR")
    Not yet. After these turns DFR does not look as before, and only the U layer may.
    """
    puzzle = load(name)
    after = puzzle.follow(written(moves, "turns such as: U R U' R'"))
    below = [slot for slot in range(len(puzzle.slots)) if slot not in puzzle.turns["U"].slots]
    if wrong := out_of_place(puzzle, after).intersection(below):
        return Note(f"Not yet. After these turns {puzzle.slots[min(wrong)]} does not look as before, and only the U layer may.")
    turned = [puzzle.slots[slot] for slot in below if puzzle.kind_of[slot].twist == 2 and after.twists[slot]]
    if edge not in turned:
        return Note(f"Not yet. All looks as it should, but {edge} sits as it did: put it in the other way round.")
    if len(turned) % 2 == 0:
        law = "by the law of flips the upper layer keeps an even number, too"
        return Note(f"Not yet. {listed(turned)} have turned, which is an even number: {law}. Turn one of them only.")
    return Note(f"Yes: {listed(turned)} turned, nothing to be seen of it, and the flips in the upper layer have become odd.")


MARKED = PaperCard(side=2.4, pad=0.09, foot=0.34)
RING, DOT = 17, 8
"""Points across."""


def draw_flip_marks(puzzle: Puzzle, turns: str) -> Figure:
    """The edges of a cube after turns, from two sides, with their marks; those that are flipped are outlined.

    The ring of a slot lies on the first side in its name, and the dot of a piece on the sticker of the first side in its name.

    >>> from oddswap import lessons
    >>> figure = lessons.draw_flip_marks("cube:3", "F")
    """
    state = puzzle.follow(turns)
    flipped = frozenset(slot for kind in puzzle.kinds if kind.family == "edges" for slot in kind.places if state.twists[slot])
    ax, corners = MARKED.in_rows(2, 2, 0.2)
    for corner, camera in zip(corners, cameras(puzzle), strict=True):
        spot = MARKED.picture(ax, corner, puzzle, state, camera, highlight=flipped)
        for panel in scene(puzzle, state, camera).panels:
            if panel.role == "sticker" and puzzle.kind_of[panel.slot].family == "edges":
                middle = panel.vertices.mean(axis=0)
                side = max(puzzle.slots[panel.slot], key=lambda side: middle @ puzzle.geometry.mechanism.directions[side])
                marks = [(RING, "none", PAPER)] if side == puzzle.slots[panel.slot][0] else []
                marks += [(DOT, PAPER, PAPER)] if panel.facet == puzzle.slots[panel.piece][0] else []
                for size, face, edge in marks:
                    for width, colour in ((4.0, BODY), (1.8, edge)):
                        look = {"ms": size, "mfc": face, "mec": colour, "mew": width, "zorder": 30}
                        ax.plot(*spot.place(camera.project(middle)), "o", **look)
        write(ax, spot.x, corner[1] + MARKED.foot / 2, f"after {turns}, {camera.words}", size=10)
    return ax.figure
