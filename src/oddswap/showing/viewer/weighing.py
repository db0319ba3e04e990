"""What ``laws.js`` needs to weigh laws in a page."""

import numpy as np

from oddswap.puzzles.base.puzzle import Puzzle
from oddswap.puzzles.boxes.box import BoxPuzzle
from oddswap.reasoning.laws.law_book import law_book
from oddswap.words.table import VISITOR
from oddswap.words.to_visitors.plain import law_for_anybody


def laws_to_weigh(puzzle: Puzzle) -> dict:
    """The laws that a page itself can weigh, as ``laws.js`` reads them: those that add up and that no lookalike changes.

    ``held`` are label permutations to each holding, and ``homes`` those that take a blank home, by its label. Of a puzzle whose
    turns hang on its shape otherwise there are no laws.
    """
    known = puzzle.steady or puzzle.blank is not None or isinstance(puzzle, BoxPuzzle)
    laws = [law for law in law_book(puzzle).laws if known and law.additive and law.seen]
    told = [{"words": law_for_anybody(puzzle, law, VISITOR), **weighed(law)} for law in laws]
    return {"laws": told, **homes_of(puzzle)}


def homes_of(puzzle: Puzzle) -> dict:
    """The part of it that says where laws are weighed."""
    book, blank = law_book(puzzle), puzzle.blank
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
