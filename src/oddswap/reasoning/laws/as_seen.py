"""A label permutation told as it is seen: pieces that look right count as at home, whichever of their twins they are.

*Free* are pieces of which nobody can say, by looking, what they are. Some look wrong, and others were moved unseen by a turn of
which something is seen. An exchange of lookalikes among free pieces surprises nobody: a position that it makes reachable is
ordinary.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from oddswap.puzzles.base.puzzle import Kind, Puzzle


@lru_cache(maxsize=256)
def looks_right(puzzle: Puzzle, kind: Kind) -> np.ndarray:
    """Whether piece q at label w, both counted within the kind, looks right there; shape (pieces, labels)."""
    m, n = kind.twist, len(kind.slots)
    looks, labels = puzzle.looks[list(kind.labels)], np.arange(n * m)
    shown = looks[np.arange(n)[:, None] * m + labels[None] % m]
    return shown == looks[labels // m * m][None]


def where(puzzle: Puzzle, kind: Kind, image: np.ndarray) -> np.ndarray:
    """The label at which each piece of a kind is, counted within the kind."""
    return image[puzzle.base_label[list(kind.places)]] - kind.first


def as_seen(puzzle: Puzzle, image: np.ndarray) -> np.ndarray:
    """The permutation with lookalikes exchanged until every piece that looks right is at home.

    >>> from oddswap.puzzles.catalogue import load
    >>> cube = load("cube:3")
    >>> turned = as_seen(cube, cube.turns["U"].permutation)
    >>> int((turned != np.arange(cube.degree)).sum())
    20
    """
    base = puzzle.base_label
    away = pieces_that_look_right(puzzle, image) & (image[base] != base)
    if not away.any():
        return image
    image = image.copy()
    for kind in dict.fromkeys(puzzle.kind_of[s] for s in np.flatnonzero(away)):
        m, table = kind.twist, looks_right(puzzle, kind)
        for b in range(len(kind.slots)):
            places = where(puzzle, kind, image)
            p = int(np.flatnonzero(places // m == b)[0])
            if not table[p, places[p]] or places[p] == p * m:
                continue
            twist = int(places[p]) % m
            if p != b:
                other = int(places[b])
                _put(kind, image, p, other // m * m + (other + twist) % m)
            _put(kind, image, b, b * m)
    return image


def wrong(puzzle: Puzzle, images: np.ndarray) -> np.ndarray:
    """How many pieces look wrong after each label permutation, (…, degree) to (…)."""
    return (~pieces_that_look_right(puzzle, images)).sum(axis=-1)


def pieces_that_look_right(puzzle: Puzzle, images: np.ndarray) -> np.ndarray:
    """Whether each piece looks right after each label permutation, (…, degree) to (…, slots)."""
    home, at_home = _homes(puzzle)
    base = puzzle.base_label
    at = images[..., base]
    return puzzle.looks[base + at - home[at]] == at_home[at]


@lru_cache(maxsize=64)
def _homes(puzzle: Puzzle) -> tuple[np.ndarray, np.ndarray]:
    """For each label the base label of its slot, and the look that is right there."""
    home = puzzle.base_label[puzzle.slots_of(np.arange(puzzle.degree))]
    return home, puzzle.looks[home]


def _put(kind: Kind, image: np.ndarray, piece: int, label: int) -> None:
    """Let a piece be at a label, all counted within the kind."""
    m = kind.twist
    ways = np.arange(m)
    image[kind.first + piece * m + ways] = kind.first + label // m * m + (label + ways) % m


ENOUGH = 3
"""A turn is taken for made when so many of the slots in which it shows look wrong, and these are at least half of them."""


@dataclass(frozen=True, eq=False)
class TurnTraces:
    """What each turn does to the solved puzzle, as arrays of shape (turns, slots).

    ``touched``: the slot lies in what is turned; ``showing``: it looks otherwise afterwards; ``turned``: its piece stays, and
    has turned unseen.
    """

    touched: np.ndarray
    showing: np.ndarray
    turned: np.ndarray

    @property
    def quiet(self) -> np.ndarray:
        """The slots that a turn touches and that look as before."""
        return self.touched & ~self.showing


@lru_cache(maxsize=64)
def turn_traces(puzzle: Puzzle) -> TurnTraces:
    """The traces of all turns that this copy makes."""
    solved, slots = puzzle.looks[puzzle.base_label], np.arange(len(puzzle.slots))
    shape = len(puzzle.turns), len(slots)
    touched, showing, turned = np.zeros(shape, bool), np.zeros(shape, bool), np.zeros(shape, bool)
    for row, turn in enumerate(puzzle.turns.values()):
        touched[row, list(turn.slots)] = True
        after = puzzle.arrangement(turn.permutation)
        pieces, twists = np.array(after.pieces), np.array(after.twists)
        showing[row] = puzzle.looks[puzzle.base_label[pieces] + twists] != solved
        turned[row] = (pieces == slots) & (twists > 0) & ~showing[row]
    return TurnTraces(touched, showing, turned)


def turned_along(puzzle: Puzzle, wrong: frozenset[int]) -> frozenset[int]:
    """The pieces at home in the slots ``wrong``, and those that a turn which touches one of these turns unseen in their slots."""
    if puzzle.blank is not None or not wrong:
        return wrong
    traces = turn_traces(puzzle)
    return wrong.union(np.flatnonzero(traces.turned[traces.touched[:, list(wrong)].any(axis=1)].any(axis=0)).tolist())


def free_pieces(puzzle: Puzzle, wrong: frozenset[int]) -> frozenset[int]:
    """The free pieces where the slots ``wrong`` look wrong; pieces and slots by number.

    They are those that nobody can see at home, those `turned_along`, and those that a turn leaves looking right, if at least
    ``ENOUGH``, and at least half, of the slots in which it shows look wrong. Where a move depends on a blank, they are those at
    home in the slots alone.

    >>> from oddswap.puzzles.catalogue import load
    >>> cube = load("cube:3")
    >>> [cube.slots[piece] for piece in sorted(free_pieces(cube, frozenset({cube.slot("UF")})))]
    ['UF', 'U', 'F']
    """
    along = turned_along(puzzle, wrong) | puzzle.inner
    if puzzle.blank is not None or len(wrong) < ENOUGH:
        return along
    traces = turn_traces(puzzle)
    seen, shown = traces.showing[:, list(wrong)].sum(axis=1), traces.showing.sum(axis=1)
    made = (seen >= ENOUGH) & (2 * seen >= shown)
    return along.union(np.flatnonzero(traces.quiet[made].any(axis=0)).tolist())
