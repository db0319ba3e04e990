"""A puzzle as the viewer in a browser needs it: plain data that JSON can hold, made once and small.

Every piece has convex polygons at home; where it is follows from a label permutation by the table of placements, so that later
states need no geometry. Labels are numbered and permuted as in `oddswap.puzzles.base.puzzle`.
"""

from base64 import b64encode
from collections.abc import Iterator, Mapping
from functools import lru_cache
from itertools import pairwise

import numpy as np

from oddswap.puzzles.base.puzzle import Puzzle, Turn
from oddswap.puzzles.base.space import on_circle
from oddswap.puzzles.boxes.box import BoxPuzzle
from oddswap.showing.ink.camera import AWAY, cameras, frame_of, reach
from oddswap.showing.ink.flat import middle_and_half
from oddswap.showing.ink.painting import HATCHES, hatched_pieces, letter_of
from oddswap.showing.ink.scene import slab_of
from oddswap.showing.ink.shells import inner_shells, shells
from oddswap.values.position import START, Arrangement, Holding
from oddswap.words.table import VISITOR
from oddswap.words.to_visitors.plain import law_for_anybody

ROLES = ("body", "sticker", "mark", "cut", "ground", "groove")
FINENESS = 32000
"""Corners are whole numbers, this many to the solid's reach: finer than a pixel on any screen."""
GROOVE = 0.08
"""Half the breadth of a groove, in steps."""
FEW = 8
"""So many pieces that stay inside are all packed; of more, those that a turn can lay open."""

Panel = tuple[int, str, str | None, np.ndarray, int]
"""Piece, role, facet, polygon (k, 3), and the twist with which alone it shows (-1: with any)."""


@lru_cache(maxsize=32)
def packed(puzzle: Puzzle, holding: Holding = START) -> Mapping[str, object]:
    """Everything about a puzzle that its viewer needs, as hands have it that hold it so; shared, so not to be changed."""
    solid = puzzle.geometry is not None
    panels = list(_solid_panels(puzzle) if solid else _flat_panels(puzzle))
    size = reach(puzzle) if solid else float(max(middle_and_half(puzzle.flat)[1]))
    vertices, frame = np.concatenate([vertices for *_, vertices, _ in panels]), frame_of(holding)
    whole = np.round(vertices @ frame / size * FINENESS).astype("<i2")
    facets = list(puzzle.geometry.facets) if solid else []
    hatched = hatched_pieces(puzzle, True)
    bits = {key: 1 << i for i, key in enumerate(HATCHES)}
    return {
        "title": puzzle.title,
        "slots": list(puzzle.slots),
        "twists": [kind.twist for kind in puzzle.kind_of],
        "base": puzzle.base_label.tolist(),
        "kinds": [kind.start for kind in puzzle.kind_of],
        "looks": puzzle.looks.tolist(),
        "blank": puzzle.blank,
        "shape": puzzle.for_viewer() if puzzle.shape_first else None,
        "reach": size,
        "away": AWAY,
        "facets": facets,
        "letters": [letter_of(holding.hand(puzzle.geometry.paints[facet])) for facet in facets] if solid else [],
        "paints": [puzzle.geometry.paints[facet] for facet in facets] if solid else [],
        "roles": list(ROLES),
        "panels": {
            "piece": [piece for piece, *_ in panels],
            "role": [ROLES.index(role) for _, role, *_ in panels],
            "facet": [-1 if facet is None else facets.index(facet) for _, _, facet, _, _ in panels],
            "corners": [len(vertices) for *_, vertices, _ in panels],
            "twist": [twist for *_, twist in panels],
        },
        "vertices": b64encode(whole.tobytes()).decode("ascii"),
        "turns": [_turn_data(puzzle, turn, holding) for turn in turns_of(puzzle)],
        "hatched": [sum(bits[key] for key in hatched.get(p, ())) for p in range(len(puzzle.slots))],
        **(_solid_data(puzzle, holding) if solid else _flat_data(puzzle)),
    }


def turns_of(puzzle: Puzzle) -> tuple[Turn, ...]:
    """The turns in the order in which the viewer numbers them: those of slabs, then the whole puzzle's."""
    return (*puzzle.turns.values(), *puzzle.rotations.values())


def labels_of(puzzle: Puzzle, arrangement: Arrangement) -> list[int]:
    """An arrangement as the viewer keeps it: for each label the label where it now is."""
    return puzzle.permutation(arrangement).tolist()


def quaternion(matrix: np.ndarray) -> list[float]:
    """The unit quaternion (x, y, z, w) of a rotation matrix, by its largest component (Shepperd, 1978)."""
    m, trace = matrix, np.trace(matrix)
    axis = np.array([[m[2, 1] - m[1, 2], m[0, 2] - m[2, 0], m[1, 0] - m[0, 1]]])
    products = np.block([[m + m.T + (1 - trace) * np.eye(3), axis.T], [axis, 1 + trace]])
    row = products[products.diagonal().argmax()]
    return (row / np.linalg.norm(row)).round(9).tolist()


def _turn_data(puzzle: Puzzle, turn: Turn, holding: Holding) -> dict:
    (step,) = holding.moves_by_hand([turn.step])
    moved = np.flatnonzero(turn.permutation != np.arange(puzzle.degree))
    inner: list[int] = []
    if puzzle.geometry is not None:
        slab = slab_of(turn, puzzle.geometry.mechanism)
        cells = [puzzle.geometry.inner[i].cell for i in _kept(puzzle)]
        inner = [i for i, cell in enumerate(cells) if slab is None or slab.holds(cell)]
    return {
        "name": turn.name if holding == START else str(step),
        "slab": step.key,
        "amount": turn.step.amount,
        "whole": turn.whole,
        "axis": [round(float(x), 9) for x in turn.axis @ frame_of(holding)],
        "angle": round(float(turn.angle), 9),
        "moved": moved.tolist(),
        "to": turn.permutation[moved].tolist(),
        "slots": sorted(range(len(puzzle.slots)) if turn.whole else map(int, turn.slots)),
        "inner": inner,
    }


@lru_cache(maxsize=32)
def _kept(puzzle: Puzzle) -> tuple[int, ...]:
    """Which of the pieces that stay inside are packed.

    A turning slab always covers a disc as wide as the solid's largest ball, so what lies within that ball stays covered.
    """
    bodies = puzzle.geometry.bodies
    ball = min(float(face.normal @ face.centre) for body in bodies for face in body.faces if face.facet)
    found = inner_shells(puzzle)
    far = [float(np.linalg.norm(shell.vertices, axis=1).max(initial=0.0)) for shell in found]
    return tuple(i for i, distance in enumerate(far) if len(found) <= FEW or distance > ball)


def _solid_panels(puzzle: Puzzle) -> Iterator[Panel]:
    inner = inner_shells(puzzle)
    for piece, shell in enumerate((*shells(puzzle), *(inner[i] for i in _kept(puzzle)))):
        for i, (role, facet, _) in enumerate(shell.panels):
            yield piece, role, facet, shell.vertices[shell.ends[i] : shell.ends[i + 1]], -1


def _solid_data(puzzle: Puzzle, holding: Holding) -> dict:
    (front, _), frame = cameras(puzzle, holding), frame_of(holding)
    return {
        "flat": False,
        "inner": len(_kept(puzzle)),
        "eye": [round(float(x), 6) for x in front.direction @ frame],
        "rotations": [quaternion(frame.T @ matrix @ frame) for matrix in puzzle.geometry.mechanism.rotations.matrices],
        "placements": puzzle.geometry.placements.tolist(),
    }


def _flat_panels(puzzle: Puzzle) -> Iterator[Panel]:
    layout, ground = puzzle.flat, len(puzzle.slots)
    middle, _ = middle_and_half(layout)
    for plate in layout.plates:
        yield ground, "ground", None, _raised(plate - middle, -0.04), -1
    for groove in layout.grooves:
        for one, other in pairwise(groove - middle):
            along = (other - one) / max(float(np.linalg.norm(other - one)), 1e-9)
            across = GROOVE * np.array([-along[1], along[0]])
            quad = np.array([one - across, other - across, other + across, one + across])
            yield ground, "groove", None, _raised(quad, -0.02), -1
    for piece, kind in enumerate(puzzle.kind_of):
        tokens = [layout.tokens[puzzle.base_label[piece] + twist] for twist in range(kind.twist)]
        if tokens[0] is None:
            continue
        yield piece, "body", None, _raised(layout.outline[::-1], 0.0), -1
        yield piece, "sticker", None, _raised(0.92 * layout.outline[::-1], 0.0), -1
        for twist, token in enumerate(tokens):
            for mark in token.marks:
                wedge = on_circle([mark, mark - 0.06, mark + 0.06], 0.4) * [[1.0], [0.7], [0.7]]
                yield piece, "mark", None, _raised(wedge, 0.0), twist


def _raised(points: np.ndarray, height: float) -> np.ndarray:
    return np.column_stack([points, np.full(len(points), height)])


def _flat_data(puzzle: Puzzle) -> dict:
    positions = (puzzle.flat.positions - middle_and_half(puzzle.flat)[0]).round(6)
    return {
        "flat": True,
        "inner": 1,
        "positions": [[*map(float, at), 0.0] for at in positions],
        "tokens": [None if token is None else [token.text, token.paint] for token in puzzle.flat.tokens],
    }


def laws_to_weigh(puzzle: Puzzle) -> dict:
    """The laws that a page itself can weigh, as ``laws.js`` reads them: those that add up and that no lookalike changes.

    ``held`` are label permutations to each holding, and ``homes`` those that take a blank home, by its label. Of a puzzle whose
    turns hang on its shape otherwise there are no laws.
    """
    known = puzzle.steady or puzzle.blank is not None or isinstance(puzzle, BoxPuzzle)
    laws = [law for law in puzzle.laws.laws if known and law.additive and law.seen]
    told = [{"words": law_for_anybody(puzzle, law, VISITOR), **weighed(law)} for law in laws]
    return {"laws": told, **homes_of(puzzle)}


def homes_of(puzzle: Puzzle) -> dict:
    """The part of it that says where laws are weighed."""
    book, blank = puzzle.laws, puzzle.blank
    homes, image = {}, np.arange(puzzle.degree)
    for slot in (s for s in range(len(puzzle.slots)) if blank is not None and puzzle.kind_of[s] is puzzle.kind_of[blank]):
        there = image.copy()
        there[puzzle.base_label[[blank, slot]]] = puzzle.base_label[[slot, blank]]
        homes[int(puzzle.base_label[slot])] = puzzle.homeward(there).tolist()
    return {
        "held": [held.tolist() for held in book.held(image)],
        "homes": homes or None,
        "blank": None if blank is None else int(puzzle.base_label[blank]),
    }


def weighed(law) -> dict:
    """How ``laws.js`` weighs a law: what it adds up, nothing if it is no sum, and the modulus."""
    parts = []
    if law.additive and law.modulus is None:
        parts = [[1, "orbit", sector.labels.tolist()] for sector in law.every]
    elif law.additive:
        parts = [[weight, part.what, part.sector.labels.tolist()] for weight, part in law.terms]
    return {"modulus": law.modulus, "parts": parts}
