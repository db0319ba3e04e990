"""A sheet on which flips are counted by marks, after turn upon turn, where a law of flips can be seen; and what was counted."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from random import Random

from matplotlib.figure import Figure

from oddswap.puzzles.base.mechanism import Mark
from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.reasoning.laws.sectors import Sector
from oddswap.showing.ink.canvas import EDGE, Paper, write
from oddswap.showing.ink.painting import Inks
from oddswap.showing.ink.palette import tones_for
from oddswap.story.handout import lay_both_sides, lay_views
from oddswap.words.products.worksheets import SAYS
from oddswap.words.to_visitors.moves import letters_explained

TURNS, TRIES, SIDE, BROAD, FACETS = 4, 200, 1.15, 0.34, 8
"""How many turns are made and draws tried at most, the side of a picture, how broad a mark is in shares of its sticker, and of
how many facets each mark can still be seen."""


@dataclass(frozen=True, eq=False)
class FlipCount:
    """A puzzle with marks on the pieces of a ``sector``, the ``moves`` one by one, and how many are flipped after each."""

    puzzle: Puzzle
    sector: Sector
    moves: tuple[str, ...]
    counts: tuple[int, ...]


def flip_count(puzzles: Sequence[Puzzle], seed: int) -> FlipCount | None:
    """For the first puzzle with a law of flips that can be seen: turns with several counts; ``None`` where there is none."""
    for puzzle in (one for one in puzzles if one.steady and len(one.geometry.facets) <= FACETS):
        for law in puzzle.laws.laws:
            if law.seen and (law.type, law.modulus, len(law.terms)) == ("twist", 2, 1):
                sector, rng = law.terms[0][1].sector, Random(f"flips of {puzzle.name} {seed}")
                for _ in range(TRIES):
                    moves = tuple(rng.choice(list(puzzle.turns)) for _ in range(TURNS))
                    counts = tuple(_flipped(puzzle, sector, moves[: i + 1]) for i in range(TURNS))
                    if len(set(counts)) > 2:
                        return FlipCount(_marked(puzzle, sector), sector, moves, counts)
    return None


def _flipped(puzzle: Puzzle, sector: Sector, moves: Sequence[str]) -> int:
    image = puzzle.permutation(puzzle.follow(" ".join(moves)))
    return sum(sector.place[label][1] for label in image[sector.labels[:, 0]].tolist())


def _marked(puzzle: Puzzle, sector: Sector) -> Puzzle:
    """The puzzle with a mark on each piece of a sector: where it is not flipped, it lies on the marked side of its place."""
    geometry = puzzle.geometry
    bodies, matrices = list(geometry.bodies), geometry.mechanism.rotations.matrices
    normal = next(face.normal for face in bodies[sector.kind.start].faces if face.facet)
    for slot, label in zip(sector.slots, sector.labels[:, 0].tolist(), strict=True):
        side = matrices[geometry.placements[label]] @ normal
        at = max(range(len(bodies[slot].faces)), key=lambda i, slot=slot, side=side: bodies[slot].faces[i].normal @ side)
        corners = bodies[slot].faces[at].vertices
        mark = Mark(at, corners.mean(axis=0) + BROAD * (corners - corners.mean(axis=0)))
        bodies[slot] = replace(bodies[slot], marks=(mark,))
    return replace(puzzle, geometry=replace(geometry, bodies=tuple(bodies)))


def count_pages(counted: FlipCount, paper: str = "A4") -> list[Figure]:
    """The puzzle at home and after each turn, with a box for each count."""
    puzzle, page, family = counted.puzzle, Paper(paper), counted.sector.kind.family
    inks = Inks(dict(tones_for(puzzle)))
    page.text(SAYS.count_title, 20, weight="bold")
    page.text(SAYS.count_rule.format(family), 11)
    lay_views(page, puzzle, puzzle.solved, replace(inks, letters=True), 1.3 * SIDE)
    page.text(letters_explained(puzzle, " ".join(puzzle.turns)), 11, after=0.2)
    half, top = page.inner / 2, page.y
    for i in range(TURNS):
        left, y = EDGE + i % 2 * half, top - i // 2 * (SIDE + 0.65)
        done = " ".join(counted.moves[: i + 1])
        write(page.ax, left, y, SAYS.count_after.format(done), ha="left", va="top", size=13, weight="bold")
        lay_both_sides(page.ax, puzzle, puzzle.follow(done), inks, left + half / 2 - 0.08, y - 0.25 - SIDE / 2, SIDE)
    page.y = top - 2 * (SIDE + 0.65)
    page.text(SAYS.count_last, 11)
    return page.pages
