"""The notation of moves: the World Cube Association's Regulations, Article 12, and what it leaves out.

As written in Article 12a, for a puzzle with N slabs on an axis:

- ``R`` turns the right face a quarter turn clockwise as seen from outside, ``R'`` back, ``R2`` by half.
- ``Rw`` turns the outer two slabs, ``3Rw`` the outer three: any number from 2 to N - 1.
- ``x``, ``y``, ``z`` turn the whole puzzle the way R, U, F turn.

Defined here, because the article leaves it out:

- ``2R`` turns the second slab from R alone, ``3R`` the third: any number from 2 to N - 1. It counts as two
  turns.
- ``M``, ``E``, ``S`` turn the middle slab of an odd N the way L, D, F turn. It counts as two turns of outer
  slabs and a new holding, because the middle slab carries the core and stays (`oddswap.values.position`).
- Where a circle has more than four turns, larger amounts stand in the same place: ``U2'`` of five.
- Round brackets group, and what follows at once repeats or undoes: ``(R U)3``, ``(R U)'``, ``(R U)3'``.
- ``[A, B]`` is the commutator A B A' B', ``[A: B]`` the conjugate A B A'; both nest and take such suffixes.
- Faces of other solids and named moves of other puzzles are listed in the puzzle's `Alphabet`.

``R2'`` is read as ``R2`` where two turns are half of the circle. The typographic marks ’ and ′ are read as
apostrophes. Spaces between moves may be left out: the longest name that fits is read.
"""

import re
from collections.abc import Iterable

from oddswap.errors import NotationError, quoted
from oddswap.values.sequence import MIDDLES, OPPOSITE, Alphabet, Bracket, Commutator, Conjugate, Repetition, Sequence, Step

APOSTROPHES = "'’′"
DIGITS = "0123456789"
LONGEST = 100_000
DEEPEST = 50


def write(steps: Iterable[Step]) -> str:
    """Steps as flat text.

    >>> write([Step("R", 1, 1, 1), Step("U", 1, 1, -1), Step("F", 1, 1, 2), Step("R", 1, 3, 2)])
    "R U' F2 3Rw2"
    """
    return " ".join(map(str, steps))


def simplified(steps: Iterable[Step], alphabet: Alphabet) -> tuple[Step, ...]:
    """Neighbouring turns of the same slabs merged, and what comes to nothing left out.

    On a cube a slab is the same whichever face it is counted from.

    >>> from oddswap.values.sequence import cube_alphabet
    >>> cube = cube_alphabet(3, 3, 3)
    >>> write(simplified(parse("F R U U' R M 2L' D", cube), cube))
    'F R2 D'
    """
    kept: list[Step] = []
    for step in steps:
        slabs, way = _slabs(step, alphabet)
        if not kept or _slabs(kept[-1], alphabet)[0] != slabs:
            kept.append(step)
            continue
        last = kept.pop()
        amount = last.amount + way * _slabs(last, alphabet)[1] * step.amount
        if amount % last.order:
            kept.append(last.turned(amount))
    return tuple(kept)


def _slabs(step: Step, alphabet: Alphabet) -> tuple[tuple[str, int, int], int]:
    """One name for the same slabs, counted from U, F or R if possible, and the sign of the turn under it."""
    face = MIDDLES.get(step.stem, step.stem) if alphabet.middles else step.stem
    possible = alphabet.possible_slabs(face)
    if not alphabet.is_box or face not in OPPOSITE or len(possible) > 1:
        return (step.stem, step.first, step.last), 1
    (n,) = possible
    first, last = (step.first, step.last) if face == step.stem else ((n + 1) // 2, (n + 1) // 2)
    return ((OPPOSITE[face], n + 1 - last, n + 1 - first), -1) if face in "DBL" else ((face, first, last), 1)


def parse(text: str, alphabet: Alphabet) -> Sequence:
    """Read a sequence; `NotationError` points at the column where the text leaves the notation.

    >>> from oddswap.values.sequence import cube_alphabet
    >>> parse("[R, U]2 3Rw'", cube_alphabet(5, 5, 5)).inverse()
    ... # doctest: +ELLIPSIS
    Sequence(items=(Step('R', 1, 3, 1), Commutator(a=Sequence(items=(Step('U', 1, 1, 1),)), b=..., times=2)))
    >>> print(parse("[R: U' (F2 D)3]", cube_alphabet(3, 3, 3)).inverse())
    [R: (F2 D)3' U]
    """
    reader = _Reader(text, alphabet)
    sequence = reader.sequence(0)
    if reader.at < len(text):
        found = text[reader.at]
        wrong = "belongs in square brackets: write `[A, B]` or `[A: B]`" if found in ",:" else "closes nothing: take it out"
        raise reader.error(reader.at, f"`{found}` {wrong}")
    return sequence


class _Reader:
    def __init__(self, text: str, alphabet: Alphabet):
        self.text = text
        self.alphabet = alphabet
        self.at = 0

    def error(self, at: int, reason: str) -> NotationError:
        return NotationError(self.text, at + 1, reason)

    @property
    def here(self) -> str:
        return self.text[self.at : self.at + 1]

    def run(self, characters: str) -> str:
        """The longest run of these characters from here on, which is thereby read."""
        start = self.at
        while self.here and self.here in characters:
            self.at += 1
        return self.text[start : self.at]

    def sequence(self, depth: int) -> Sequence:
        items: list[Step | Bracket] = []
        while self.here and self.here not in "),:]":
            if self.here.isspace():
                self.at += 1
            elif self.here in "([":
                items.append(self.bracket(depth + 1))
            else:
                items.append(self.move())
        return Sequence(tuple(items))

    def bracket(self, depth: int) -> Bracket:
        opened, square = self.at, self.here == "["
        if depth > DEEPEST:
            raise self.error(opened, f"brackets are nested more than {DEEPEST} deep: write some out")
        a = self.part(depth, opened, ",:" if square else ")")
        if not square:
            return self.closed(Repetition, opened, a)
        kind = Commutator if self.here == "," else Conjugate
        return self.closed(kind, opened, a, self.part(depth, opened, "]"))

    def part(self, depth: int, opened: int, ends: str) -> Sequence:
        """One side of a bracket, from after the sign here to one of the signs that end it."""
        start, bracket = self.at, self.text[opened]
        self.at += 1
        part = self.sequence(depth)
        wanted = " or ".join(f"`{end}`" for end in ends)
        if not self.here:
            raise self.error(opened, f"a closing bracket is missing: this `{bracket}` needs a {wanted}")
        if self.here not in ends:
            where = f"the `{bracket}` at column {opened + 1}"
            raise self.error(self.at, f"`{self.here}` cannot stand here: {where} needs a {wanted}")
        if not part.items:
            between = f"this `{self.text[start]}` and the next `{self.here}`"
            raise self.error(start, f"nothing stands between {between}: put a move there")
        return part

    def closed(self, kind: type[Bracket], opened: int, *parts: Sequence) -> Bracket:
        self.at += 1
        start = self.at
        digits, undone = self.suffix()
        if digits and not 2 <= int(digits) <= LONGEST:
            raise self.error(start, f"{digits} is no repeat count: write 2 to {LONGEST}, or nothing")
        bracket = kind(*parts, (-1 if undone else 1) * int(digits or 1))
        if len(bracket) > LONGEST:
            raise self.error(opened, f"this bracket comes to more than {LONGEST} moves: repeat it less often")
        return bracket

    def suffix(self) -> tuple[str, bool]:
        start = self.at
        digits = self.run(DIGITS)
        if len(digits) > 6:
            raise self.error(start, "this number is far too large: write at most six digits")
        undone = self.run(APOSTROPHES)
        if len(undone) > 1:
            raise self.error(self.at - 1, "one apostrophe is enough: take this one out")
        if undone and self.here and self.here in DIGITS:
            raise self.error(self.at, "a number stands before the apostrophe: move it, or put a space")
        return digits, bool(undone)

    def move(self) -> Step:
        start = self.at
        prefix = self.run(DIGITS)
        stem = next((s for s in self.alphabet.stems if self.text.startswith(s, self.at)), None)
        if stem is None:
            raise self.unknown(start)
        self.at += len(stem)
        wide = stem in self.alphabet.faces and self.here == "w"
        self.at += wide
        first, last = self.slabs(start, prefix, stem, wide)
        order = self.alphabet.turns_to_the_circle(stem)
        suffix_at = self.at
        digits, undone = self.suffix()
        one = Step(stem, first, last, 1, order)
        amount = int(digits or 1)
        if digits and not 2 <= amount <= order // 2:
            right = f"write {one.turned(amount)}" if amount % order else "leave it out"
            reason = f"{order} turns of {one} make a full circle: for {amount} of them {right}"
            raise self.error(suffix_at, reason)
        return one.turned(-amount if undone else amount)

    def slabs(self, start: int, prefix: str, stem: str, wide: bool) -> tuple[int, int]:
        """First and last slab of a move that starts with this number and stem."""
        if stem not in self.alphabet.faces:
            if prefix:
                raise self.error(start, f"`{stem}` takes no number in front: write {stem} or {stem}2")
            return 0, 0
        if not prefix and not wide:
            return 1, 1
        inner = self.alphabet.slabs(stem) - 1
        written = quoted(self.text[start : self.at])
        if inner < 2:
            raise self.error(start, f"{written} needs three slabs or more on its axis: write {stem}")
        number = int(prefix or 2) if len(prefix) < 7 else LONGEST
        if not 2 <= number <= inner:
            raise self.error(start, f"{written} is no move here: the number in front goes from 2 to {inner}")
        return (1, number) if wide else (number, number)

    def unknown(self, start: int) -> NotationError:
        """What to write instead of the word here, which is no move of this puzzle."""
        alphabet = self.alphabet
        word = re.match(r"[^\s()\[\],:]*", self.text[self.at :])[0]
        letter, upper, lower = word[:1], word[:1].upper(), word[:1].lower()
        if not word or letter in APOSTROPHES:
            stray = quoted(word[:1] or self.text[start : self.at])
            return self.error(start, f"{stray} stands alone: put it directly at a move or a closing bracket")
        if upper in alphabet.faces:
            right = f"{upper}w for two slabs or {upper} for one" if alphabet.slabs(upper) > 2 else upper
            return self.error(self.at, f"`{letter}` is not in Article 12: write {right}")
        if lower in alphabet.stems or upper in alphabet.stems:
            right = lower if lower in alphabet.stems else upper
            return self.error(self.at, f"`{letter}` is not a move: write {right}")
        if letter in MIDDLES and alphabet.middles:
            return self.error(self.at, f"`{letter}` needs an odd number of slabs on its axis: write 2R, say")
        known = ", ".join(sorted(alphabet.stems, key=len)[:12]) or "nothing at all"
        return self.error(self.at, f"{quoted(word)} is not a move of this puzzle: it knows {known}")
