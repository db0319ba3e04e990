"""What a sequence does, in words: which pieces it moves in circles, and which it turns in their places."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

import numpy as np

from oddswap.puzzles.base.puzzle import Kind, Puzzle
from oddswap.values.grammar import listed, number_word, singular
from oddswap.values.permutation import cycles
from oddswap.values.sequence import Sequence


@dataclass(frozen=True)
class Effect:
    """What happens to one kind: ``circles`` of slots (numbers), and slots whose piece stays and is ``turned`` (twist)."""

    kind: Kind
    circles: tuple[tuple[int, ...], ...]
    turned: tuple[tuple[int, int], ...]

    @property
    def pieces(self) -> int:
        """How many pieces it changes."""
        return sum(map(len, self.circles)) + len(self.turned)


def effects(puzzle: Puzzle, permutation: np.ndarray) -> tuple[Effect, ...]:
    """The effects of a label permutation on the kinds that show more than one look."""
    found = []
    for kind in puzzle.kinds:
        if len(set(puzzle.looks[list(kind.labels)].tolist())) == 1:
            continue
        images = permutation[puzzle.base_label[list(kind.places)]] - kind.first
        slots, twists = images // kind.twist, images % kind.twist
        circles = tuple(tuple(kind.start + i for i in circle) for circle in cycles(slots.tolist()))
        turned = tuple((kind.start + i, int(t)) for i, (s, t) in enumerate(zip(slots, twists, strict=True)) if s == i and t)
        if circles or turned:
            found.append(Effect(kind, circles, turned))
    return tuple(found)


def effect_words(puzzle: Puzzle, moves: str | Sequence) -> str:
    """What a sequence does, as one phrase.

    >>> from oddswap.puzzles.catalogue import load
    >>> effect_words(load("cube:3"), "[R U R', D]")
    'cycles three corners'
    """
    image = np.arange(puzzle.degree)
    for turn in puzzle.settled(moves)[0]:
        image = turn.permutation[image]
    return words_of(effects(puzzle, image))


def words_of(found: tuple[Effect, ...]) -> str:
    """Effects as one phrase; *changes nothing that shows* when there are none."""
    families = dict.fromkeys(effect.kind.family for effect in found)
    gathered = [tuple(effect for effect in found if effect.kind.family == family) for family in families]
    phrases = [phrase for together in gathered for phrase in _phrases(together)]
    return listed(phrases) if phrases else "changes nothing that shows"


def _phrases(together: tuple[Effect, ...]) -> list[str]:
    """What happens to the kinds of one family."""
    name, phrases = together[0].kind.family, []
    lengths = Counter(len(circle) for effect in together for circle in effect.circles)
    for length, count in sorted(lengths.items()):
        if length == 2:
            phrases.append(f"exchanges two {name}" if count == 1 else f"exchanges {number_word(count)} pairs of {name}")
        elif count == 1:
            phrases.append(f"cycles {number_word(length)} {name}")
        else:
            phrases.append(f"moves {number_word(count)} circles of {number_word(length)} {name}")
    turned = Counter({2: "flips", 3: "twists"}.get(effect.kind.twist, "turns") for effect in together for _ in effect.turned)
    for verb, count in turned.items():
        phrases.append(f"{verb} {number_word(count)} {name if count > 1 else singular(name)}")
    return phrases
