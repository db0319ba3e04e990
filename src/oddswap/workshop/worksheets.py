"""Worksheets as data: questions with their answers and proofs, drawn from a seed and each one verified by the engine.

Hands change only what no turning leads to; every other position is made by turns, and these set it up.

Levels differ in what is measured by `difficulty`: how many pieces look wrong, and how many turns a way out takes.

=====  ================================  =======================  ===================
level  changes by hand                   turns before             turns of a way out
=====  ================================  =======================  ===================
1      one or two pieces, layers true    none                     2 to 3
2      up to two changes                 one or two               3 to 4
3      up to three changes               three or four            5 to 6
=====  ================================  =======================  ===================
"""

from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass
from itertools import pairwise
from random import Random

from oddswap.describing.changes import changed
from oddswap.errors import BadOption, UnknownMove
from oddswap.puzzles.base.puzzle import Kind, Puzzle
from oddswap.reasoning.budget import Clock, Limit, cached, started
from oddswap.reasoning.laws.lookalikes import lookalikes
from oddswap.reasoning.verdicts.diagnosis import LOOKALIKE, NOT_BY_TURNING, ORDINARY, judged
from oddswap.reasoning.ways.commutators import tidied
from oddswap.reasoning.ways.way_out import looks_solved
from oddswap.values.position import Arrangement
from oddswap.words.products.worksheets import SAYS, culprit_proof, law_proof, possible_proof
from oddswap.words.to_visitors.places import wrong_slots
from oddswap.words.verdicts import WORDINGS
from oddswap.workshop.by_turning import known_turns

CHANGES = {1: (1, 2), 2: (1, 2), 3: (2, 3)}
BEFORE = {1: (0, 0), 2: (1, 2), 3: (3, 4)}
WAYS = {1: (2, 3), 2: (3, 4), 3: (5, 6)}
TRIES = 400
"""So many positions are drawn at most for one question."""
DRAWS = 100
"""So many are drawn to learn what a puzzle can be asked."""
CHOICES, LAWS = 4, 3
"""So many answers are to choose from, and so many laws at most: they take several lines each."""
TURNED = 0.6
"""The share of the positions of *can this come by turning* that did."""
ASKED = ORDINARY, LOOKALIKE, NOT_BY_TURNING
"""The verdicts between which a question lets choose."""


@dataclass(frozen=True)
class Question:
    """``choices`` with the number of the right one, and why. ``moves`` lead from solved to the position, then ``changes``.

    There are changes by hand just where no turning leads to the position.
    """

    sort: str
    puzzle: str
    choices: tuple[str, ...]
    right: int
    proof: str
    position: Arrangement
    moves: str
    changes: tuple[str, ...] = ()


@dataclass(frozen=True)
class Worksheet:
    """Questions on one puzzle; the same ``level``, ``seed`` and ``number`` always give the same."""

    puzzle: str
    level: int
    seed: int
    number: int
    questions: tuple[Question, ...]


def worksheet(puzzle: Puzzle, level: int, seed: int, number: int = 1, count: int = 6, budget: Limit = None) -> Worksheet:
    """A sheet of ``count`` questions, of all sorts that the puzzle allows in turn.

    `BadOption` for a level that there is not, or for a puzzle that cannot make a fair sheet.

    >>> from oddswap.puzzles.catalogue import load
    >>> sheet = worksheet(load("cube:3"), 1, 7)
    >>> [question.sort for question in sheet.questions][:3]
    ['possible', 'law', 'ways']
    """
    if level not in CHANGES:
        raise BadOption(f"there is no level {level}: write 1, 2 or 3")
    if len({turn.step.name for turn in puzzle.turns.values()}) < 2:
        raise BadOption(f"{puzzle.name} turns one slab only, so nothing can be asked: choose another")
    if puzzle.blank is not None or puzzle.geometry is None:
        raise BadOption(f"{puzzle.name} is no solid that turns, and worksheets show solids: choose one such as cube:3")
    if not puzzle.laws.laws:
        raise BadOption(f"{puzzle.name} has no laws, so every position is possible and nothing can be asked: choose another")
    if not any(len(kind.slots) > 2 for kind in puzzle.kinds):
        raise BadOption(f"{puzzle.name} has no three pieces of one kind, so too little can be changed by hand: choose another")
    rng, clock = Random(f"{puzzle.name} {level} {seed} {number}"), started(budget)
    questions: list[Question] = []
    sorts = _sorts(puzzle, clock)
    for made in range(count):
        questions.append(_fresh(SORTS[sorts[made % len(sorts)]], puzzle, level, rng, questions, clock))
    return Worksheet(puzzle.name, level, seed, number, tuple(questions))


def _fresh(make: Callable, puzzle: Puzzle, level: int, rng: Random, before: Sequence[Question], clock: Clock) -> Question:
    """A question whose position is on the sheet no other time."""
    for _ in range(TRIES):
        _go_on(puzzle, len(before), clock)
        question = make(puzzle, level, rng, clock)
        if question is not None and all(question.position != other.position for other in before):
            return question
    raise BadOption(f"{puzzle.name} gives no fair question at level {level} in {TRIES} tries: choose another level or puzzle")


def _go_on(puzzle: Puzzle, questions: int, clock: Clock) -> None:
    if clock.spent:
        raise BadOption(f"the time ended after {questions} questions on {puzzle.name}: give more seconds or ask for fewer sheets")


@cached(32)
def _sorts(puzzle: Puzzle, clock: Clock) -> tuple[str, ...]:
    """The sorts of question that a puzzle can make: one law is no choice, nor is what always has the same verdict."""
    rng = Random(f"sorts of {puzzle.name}")
    found = []
    for sort, make in SORTS.items():
        rights: set[int] = set()
        for _ in range(DRAWS):
            if not clock.spent and len(rights) < 1 + (sort == "possible"):
                question = make(puzzle, 1, rng, clock)
                rights |= {question.right} if question else set()
        if len(rights) == 1 + (sort == "possible"):
            found.append(sort)
    _go_on(puzzle, 0, clock)
    return tuple(found)


def _by_turning(puzzle: Puzzle, level: int, rng: Random, clock: Clock) -> str:
    """Turns that lead where little is wrong, or where it looks impossible, after as many others as the level has."""
    known = known_turns(puzzle, clock)
    words = rng.choice([several for several in (known.plain, known.odd) if several] or [()])
    if not words:
        return _word(puzzle, rng.randint(*WAYS[level]), rng)
    before = _word(puzzle, rng.randint(*BEFORE[level]), rng).split()
    return " ".join(tidied(puzzle, (*before, *known.drawn(words, rng))))


def _position(puzzle: Puzzle, level: int, rng: Random) -> tuple[Arrangement, str, tuple[str, ...]]:
    """A position with its turns and changes; of joined pieces none is moved by hand."""
    while True:
        moves = _word(puzzle, rng.randint(*BEFORE[level]), rng)
        turned = puzzle.follow(moves)
        changes = tuple(_change(puzzle, turned, rng) for _ in range(rng.randint(*CHANGES[level])))
        position = changed(puzzle, changes, turned)
        if puzzle.steady or not puzzle.torn(puzzle.appearance(position)):
            return position, moves, changes


def _fair(puzzle: Puzzle, moves: str, start: Arrangement | None = None) -> bool:
    """Whether the shape allows these turns from ``start`` (solved when left out), and no two after each other are of one slab."""
    slabs = [puzzle.turns[name].step.name for name in moves.split()]
    with suppress(UnknownMove):
        puzzle.follow(moves, start)
        return all(one != two for one, two in pairwise(slabs))
    return False


def _word(puzzle: Puzzle, length: int, rng: Random) -> str:
    """Turns of which no two after each other are of one slab, so that none is wasted."""
    word: list[str] = []
    while len(word) < length:
        name = rng.choice(list(puzzle.turns))
        if _fair(puzzle, " ".join([*word, name])):
            word.append(name)
    return " ".join(word)


def _change(puzzle: Puzzle, turned: Arrangement, rng: Random) -> str:
    """A change of one, two or three pieces by hand, of those that show."""
    fixed = puzzle.void | puzzle.inner
    here = {kind: [puzzle.slots[b] for b in kind.places if turned.pieces[b] not in fixed] for kind in puzzle.kinds}
    kind: Kind = rng.choice([kind for kind, slots in here.items() if len(slots) > 2])
    hidden = lookalikes(puzzle).hidden_turns
    shown = [slot for slot in here[kind] if turned.pieces[puzzle.slot(slot)] not in hidden]
    if kind.twist in (2, 3) and shown and rng.random() < 0.5:
        slot = rng.choice(shown)
        return f"flip {slot}" if kind.twist == 2 else f"twist {slot} {rng.choice(('cw', 'ccw'))}"
    count = rng.choice((2, 2, 3))
    return f"{'swap' if count == 2 else 'cycle'} {' '.join(rng.sample(here[kind], count))}"


def _possible(puzzle: Puzzle, level: int, rng: Random, clock: Clock) -> Question | None:
    position, moves, changes = _position(puzzle, level, rng)
    if by_turning := rng.random() < TURNED:
        moves, changes = _by_turning(puzzle, level, rng, clock), ()
        position = puzzle.follow(moves)
    found = judged(puzzle, puzzle.appearance(position))
    otherwise = (found.verdict == NOT_BY_TURNING) == by_turning or found.verdict not in ASKED
    if otherwise or found.held or looks_solved(puzzle, puzzle.appearance(position)):
        return None
    choices = tuple(WORDINGS[verdict].choice for verdict in ASKED)
    right = ASKED.index(found.verdict)
    return Question("possible", puzzle.name, choices, right, possible_proof(found), position, moves, changes)


def _law(puzzle: Puzzle, level: int, rng: Random, clock: Clock) -> Question | None:
    position, moves, changes = _position(puzzle, level, rng)
    found = judged(puzzle, puzzle.appearance(position))
    laws, alone = [law for law in puzzle.laws.laws if law.seen], len(found.broken) == 1 and not found.held
    if found.verdict != NOT_BY_TURNING or not alone or found.broken[0] not in laws or len(laws) < 2:
        return None
    kept = [law for law in laws if law is not found.broken[0]]
    shown = [found.broken[0], *rng.sample(kept, min(LAWS - 1, len(kept)))]
    rng.shuffle(shown)
    proof, right = law_proof(found.broken[0], changes, kept), shown.index(found.broken[0])
    return Question("law", puzzle.name, tuple(law.statement for law in shown), right, proof, position, moves, changes)


def _culprit(puzzle: Puzzle, level: int, rng: Random, clock: Clock) -> Question | None:
    known = known_turns(puzzle, clock)
    if not known.odd:
        return None
    before, word = _word(puzzle, rng.randint(*BEFORE[level]), rng).split(), known.drawn(known.odd, rng)
    found, position, moves = None, puzzle.solved, ""
    while found is None or before and not found.culprits:  # turns free the lookalikes that they move
        before = before[: None if found is None else -1]
        moves = " ".join(tidied(puzzle, (*before, *word)))
        position = puzzle.follow(moves)
        found = judged(puzzle, puzzle.appearance(position))
    if not found.culprits or any(len(culprit.pieces) != 1 for culprit in found.culprits):
        return None
    guilty = {culprit.pieces[0]: culprit for culprit in found.culprits}
    innocent = [slot for kind in puzzle.kinds for slot in kind.slots if slot not in guilty]
    if len(innocent) < CHOICES - 1:
        return None
    chosen = rng.choice(sorted(guilty))
    shown = [chosen, *rng.sample(innocent, CHOICES - 1)]
    rng.shuffle(shown)
    proof = culprit_proof(guilty[chosen])
    return Question("culprit", puzzle.name, tuple(shown), shown.index(chosen), proof, position, moves)


def _ways(puzzle: Puzzle, level: int, rng: Random, clock: Clock) -> Question | None:
    way = _word(puzzle, rng.randint(*WAYS[level]), rng).split()
    if not puzzle.steady:  # it can be made from solved, and so undone from where it leads
        way = str(puzzle.read(" ".join(way)).inverse()).split()
    moves = str(puzzle.read(" ".join(way)).inverse())
    position = puzzle.follow(moves)
    wrong: set[str] = set()
    for _ in range(40):
        if len(wrong) < CHOICES - 1:
            other = " ".join(_mistaken(puzzle, way, rng))
            if other and _fair(puzzle, other, position):
                after = puzzle.appearance(puzzle.follow(other, position))
                wrong |= set() if looks_solved(puzzle, after) else {other}
    if len(wrong) < CHOICES - 1 or looks_solved(puzzle, puzzle.appearance(position)):
        return None
    shown = sorted([" ".join(way), *wrong])
    rng.shuffle(shown)
    return Question("ways", puzzle.name, tuple(shown), shown.index(" ".join(way)), SAYS.ways_proof, position, moves)


def _mistaken(puzzle: Puzzle, way: Sequence[str], rng: Random) -> list[str]:
    """The way with one mistake: a turn the wrong way, on another slab, or two of them in the wrong order."""
    made = list(way)
    at = rng.randrange(len(made))
    mistake = rng.choice(("way", "slab", "order"))
    if mistake == "way":
        made[at] = str(puzzle.read(made[at]).inverse())
    elif mistake == "slab":
        made[at] = rng.choice(list(puzzle.turns))
    elif at + 1 < len(made):
        made[at], made[at + 1] = made[at + 1], made[at]
    return made


SORTS: dict[str, Callable] = {"possible": _possible, "law": _law, "culprit": _culprit, "ways": _ways}


def difficulty(sheets: Sequence[Worksheet], puzzle: Puzzle) -> tuple[float, float]:
    """Over its sheets of a puzzle: the mean number of slots that look wrong, and the mean number of turns of a way out."""
    asked = [question for one in sheets if one.puzzle == puzzle.name for question in one.questions]
    wrong = [len(wrong_slots(puzzle, puzzle.appearance(question.position))) for question in asked]
    turns = [len(question.choices[question.right].split()) for question in asked if question.sort == "ways"]
    return sum(wrong) / len(wrong), sum(turns) / max(1, len(turns))
