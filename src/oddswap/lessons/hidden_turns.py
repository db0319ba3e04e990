"""A strip of tape on a piece: what cannot be seen without it, before and after the piece has turned in its place.

Exercises on lookalikes: who may have turned or changed places unseen, and turns that put one in the other way round.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from matplotlib.figure import Figure

from oddswap.describing.changes import changed
from oddswap.errors import BadOption, quoted
from oddswap.lessons.machinery.exercises import out_of_place, slot_names, written
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.catalogue import load
from oddswap.puzzles.solids.looks import looks_of
from oddswap.reasoning.laws.free_pieces import free_pieces
from oddswap.reasoning.laws.law_book import law_book
from oddswap.reasoning.laws.lookalikes import lookalikes
from oddswap.reasoning.verdicts.mending import smallest_mendings, steady_laws
from oddswap.showing.ink.camera import Camera, cameras
from oddswap.showing.ink.cards import Card, draw_cards
from oddswap.showing.ink.marking import with_tape
from oddswap.showing.ink.notes import Note, kindly
from oddswap.values.grammar import listed

PARTS = {2: "half a turn", 3: "a third of a turn", 4: "a quarter turn"}


def taped(puzzle: Puzzle, *slots: str) -> Puzzle:
    """The same puzzle with a strip of tape on the pieces that are at home in ``slots``, and with what can now be seen.

    It keeps its name, because tape comes off again. `BadOption` for a puzzle that is no solid, `UnknownSlot` for a slot
    that it has not.

    >>> from oddswap import lessons
    >>> lessons.taped("shape-mod:prism8", "FR").title
    'prism on 8 sides on the three-slab mechanism, with tape on FR'
    """
    geometry = puzzle.geometry
    if geometry is None:
        raise BadOption(f"tape goes on solids, and {quoted(puzzle.name)} is none: choose a puzzle such as shape-mod:prism8")
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
    return max(cameras(puzzle), key=lambda camera: camera.direction @ outwards)


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
