"""What a page is given of a puzzle that its scripts do not work out: laws to weigh, holdings, geometry in brief."""

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.base.whole_turns import held_still, holdings
from oddswap.puzzles.catalogue import with_turns_out_of_the_box
from oddswap.showing.viewer.pack import homes_of, quaternion, weighed

SAID = ("type", "name", "statement", "additive", "alone")
"""What is said of a law besides how it is weighed."""
MOST_MEMBERS = 5000
"""Of a group with a law that is no sum, so many members at most a page goes through."""


def facts_of(puzzle: Puzzle) -> dict:
    """Plain data; names of puzzles stand for these."""
    found = {"holdings": [image.tolist() for _, image in holdings(puzzle)], **_geometry(puzzle)}
    if puzzle.leaves_outline:
        return found | {"near": puzzle.for_viewer()["near"]}
    wide = with_turns_out_of_the_box(puzzle)
    still = held_still(puzzle)
    return found | _laws(puzzle) | {"out": wide and wide.name, "still": None if still is puzzle else still_name(puzzle)}


def still_name(puzzle: Puzzle) -> str:
    return f"{puzzle.name}, never held another way"


def _geometry(puzzle: Puzzle) -> dict:
    if puzzle.geometry is None:
        return {}
    mechanism = puzzle.geometry.mechanism
    return {
        "rotations": [quaternion(matrix) for matrix in mechanism.rotations.matrices],
        "placements": puzzle.geometry.placements.tolist(),
        "directions": {face: [float(x) for x in towards] for face, towards in mechanism.directions.items()},
    }


def _laws(puzzle: Puzzle) -> dict:
    book = puzzle.laws
    if not book.additive and book.order > MOST_MEMBERS:
        return {}
    return {
        "laws": [{name: getattr(law, name) for name in SAID} | weighed(law) for law in book.laws],
        "summed": book.additive,
        "whole": all(sector.whole for sector in book.sectors),
        "counts": {"order": book.order, "assembly_order": book.assembly_order, "complete": book.complete},
        "levels": 0 if book.additive else len(book.chain.levels),
        **homes_of(puzzle),
    }
