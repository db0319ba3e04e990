"""An answer as a proof file, which `check_proof.py` checks without this package; `proof.md` says what stands in it."""

import json
from collections.abc import Iterable, Iterator
from contextlib import suppress
from hashlib import sha256
from pathlib import Path
from random import Random

import numpy as np

from oddswap.errors import BadOption, quoted
from oddswap.puzzles.base.puzzle import Kind, Puzzle, Turn, carried
from oddswap.puzzles.base.whole_turns import held_by, holdings
from oddswap.reasoning.answers import Answer
from oddswap.reasoning.answers import answer as answer_
from oddswap.reasoning.budget import Clock, Limit, started
from oddswap.reasoning.laws.characters import CharacterLaw, laws_of
from oddswap.reasoning.laws.lookalikes import Lookalikes, lookalikes, surplus, within
from oddswap.reasoning.laws.sectors import keeps, sectors
from oddswap.reasoning.verdicts.diagnosis import judged
from oddswap.reasoning.verdicts.exchanges import hidden_atoms, smallest_sets
from oddswap.reasoning.verdicts.explanations import drawn, in_place
from oddswap.reasoning.verdicts.findings import CANNOT_TELL, LOOKALIKE, NOT_BY_TURNING, ORDINARY, OTHER_TURNS
from oddswap.reasoning.verdicts.first_looks import Look, looks_at
from oddswap.showing.pages.telling import as_described
from oddswap.values.position import Appearance, Arrangement
from oddswap.values.sequence import OPPOSITE

CHECKER = Path(__file__).with_name("check_proof.py")
FORMAT, LARGEST = "oddswap proof 1", 40_000
"""The most bytes of a proof file."""
WAYS = {1: 4, 2: 2, 3: 3}
"""How many ways round a slot of three slabs has, by its letters."""
MOST = 500
"""So many culprits are listed at most, and then they may not be all."""
READ = 6.0
"""Seconds that a proof beside an answer takes at most; and at most half of those that are left."""
DRAWN, SHARE = 40, 0.3
"""So many completions of what is half seen are judged to find two with different verdicts, each in that share of the time."""


class NothingToProve(BadOption):
    """An answer with which no proof file can come; the message says why."""


def proof_text(answer: Answer, budget: Limit = None) -> str:
    """The proof file of an answer, at most `LARGEST` bytes of JSON; `NothingToProve` says why there is none.

    ``budget`` is for the two readings of what is half seen, which are answered as wholes.
    """
    claims = _claims(answer, started(budget))
    data = {"format": FORMAT, "puzzle": answer.puzzle.name, **_puzzle_data(answer.puzzle, claims), **claims}
    seal = sha256(_canonical(data).encode()).hexdigest()
    text = _canonical(data | {"seal": seal})
    if len(text) > LARGEST:
        raise NothingToProve(f"a proof would take {len(text)} bytes, and at most {LARGEST} are written: name fewer turns")
    return text


def proof_if_any(answer: Answer, budget: Limit = None) -> str:
    """The proof file that comes with an answer; empty where none can. It takes half of the ``budget`` at most."""
    with suppress(NothingToProve):
        return proof_text(answer, started(budget).share(0.5, READ))
    return ""


def _canonical(data: dict) -> str:
    return json.dumps(data, sort_keys=True, separators=(",", ":"))


def _puzzle_data(puzzle: Puzzle, claims: dict) -> dict:
    """A puzzle, with all of its moves where ``claims`` speak of laws, else with those that their words are made of."""
    slabs = puzzle.alphabet.is_box and all(set(s) <= set(OPPOSITE) and ways == WAYS.get(len(s)) for s, ways in _slots(puzzle))
    moves = {**puzzle.turns, **puzzle.rotations}
    readings = [claims, *claims.get("readings", ())]
    if not any(one.get("looks") for one in readings):
        words = {name for one in readings for word in (one["set_up"], *one["ways"]) for name in word.split()}
        moves = {name: moves[name] for name in sorted(words)}
    return {
        "mechanism": "three slabs" if slabs else "given",
        "slots": [
            [name, _numbered(puzzle.kind_of[b], puzzle.looks[puzzle.base_label[b] + np.arange(ways)])]
            for b, (name, ways) in enumerate(_slots(puzzle))
        ],
        "moves": {name: [] if slabs else turn.permutation.tolist() for name, turn in moves.items()},
    }


def _slots(puzzle: Puzzle) -> Iterator[tuple[str, int]]:
    return ((name, kind.twist) for name, kind in zip(puzzle.slots, puzzle.kind_of, strict=True))


def _numbered(kind: Kind, looks: Iterable[int]) -> list[int]:
    """Looks of a kind by numbers that no other kind has."""
    return [kind.first + int(look) for look in looks]


def _claims(answer: Answer, clock: Clock) -> dict:
    puzzle, found, verdict = answer.puzzle, answer.diagnosis, answer.verdict
    seen = [_numbered(kind, sorted(sight)) for kind, sight in zip(puzzle.kind_of, answer.appearance.sights, strict=True)]
    claims = {"verdict": verdict, "seen": seen, "set_up": "", "outside": None}
    claims |= {part: [] for part in ("ways", "looks", "culprits", "readings", "not_covered")}
    if verdict == CANNOT_TELL:
        return claims | {"readings": _readings(answer, clock)}
    if verdict in (ORDINARY, LOOKALIKE):
        claims |= _replays(answer)
    elif verdict == OTHER_TURNS and found.explanation is not None:
        outside = _replays(answer)
        claims["outside"] = _puzzle_data(answer.turning, outside) | outside
    elif verdict == OTHER_TURNS:
        claims["not_covered"].append("outside")
    if verdict != ORDINARY:
        claims["looks"] = _looks(answer)
        if not claims["looks"]:
            claims["not_covered"].append("looks")
    if verdict == LOOKALIKE:
        told = sorted(sorted(map(puzzle.slots.index, culprit.pieces)) for culprit in found.culprits)
        said_by_sums = claims["looks"] and told == _smallest(puzzle, answer.appearance)
        claims["culprits"] = told if said_by_sums else []
        claims["not_covered"] += [] if said_by_sums else ["culprits"]
    strange = answer.appearance.foreign or surplus(puzzle, answer.appearance)[0]
    if verdict in (NOT_BY_TURNING, OTHER_TURNS) and not claims["looks"] and not strange:
        why = "laws that are no sums, on a shape, or on what is half seen"
        raise NothingToProve(f"the verdict {quoted(verdict)} rests on {why}: no proof file can show that")
    return claims


def _replays(answer: Answer) -> dict:
    """The set-up for what was described, and the ways out that the answer tells."""
    puzzle, told = answer.turning, [answer.way_out, *answer.told]
    moves = dict.fromkeys(way.moves if way is answer.way_out else way.turns for way in told if way)
    set_up = as_described(answer)
    if set_up is None or not (moves := [one for one in moves if one is not None]):
        raise NothingToProve("no way out was found in the time, so that there is none to replay: give --seconds more")
    start = puzzle.follow(set_up)
    ways = [_to_solved(puzzle, puzzle.settled(f"{answer.held} {one}", start)[0], start) for one in moves]
    return {"set_up": " ".join(turn.name for turn in puzzle.settled(set_up)[0]), "ways": sorted({*ways})}


def _to_solved(puzzle: Puzzle, turns: Iterable[Turn], start: Arrangement) -> str:
    """The names of turns from ``start`` on, and of the rotations after which all looks solved as it is held."""
    image, names = carried(puzzle.permutation(start), turns), [turn.name for turn in turns]
    solved = puzzle.appearance(puzzle.solved)
    ends = (more for more, rotation in holdings(puzzle) if puzzle.appearance(puzzle.arrangement(rotation[image])) == solved)
    return " ".join((*names, *next(ends)))


def _looks(answer: Answer) -> list[dict]:
    """Every first-sight explanation with laws that it breaks however its pieces are called; none where some has no such laws."""
    puzzle, by_hand = answer.puzzle, answer.verdict != LOOKALIKE
    if not answer.appearance.complete or not puzzle.steady:
        return []
    found = []
    for look, hidden, laws in _with_laws(puzzle, answer.appearance, by_hand):
        if hidden.order != lookalikes(puzzle).order or not any(law.value(look.permutation) for law in laws):
            return []
        image = np.argsort(look.rotation)[look.permutation].tolist()
        told = {"image": image, "held": held_by(puzzle, look.rotation), "free": sorted(look.free)}
        found.append(told | {"laws": [_law_data(law) for law in laws]})
    return found


def _with_laws(puzzle: Puzzle, appearance: Appearance, by_hand: bool) -> Iterator[tuple[Look, Lookalikes, list[CharacterLaw]]]:
    """Every first look, the lookalikes that keep the sectors, and the laws that names of its free pieces do not change; where it
    is ``by_hand``, those that it breaks and that no names change.
    """
    moves = [turn.permutation for turn in (*puzzle.turns.values(), *puzzle.rotations.values())]
    parts = sectors(puzzle, moves)
    hidden = within(lookalikes(puzzle), parts)
    for look in looks_at(puzzle.laws, appearance):
        if look.nearest:
            unseen = hidden.generators(None if by_hand else look.free)
            laws = laws_of(parts, [*moves, *unseen], []) if keeps(parts, look.permutation) else []
            yield look, hidden, [law for law in laws if law.value(look.permutation) or not by_hand]


def _smallest(puzzle: Puzzle, appearance: Appearance) -> list[list[int]]:
    """The pieces of the smallest exchanges after which these laws hold: those of all laws, where all are such sums."""
    sets = set()
    for look, hidden, laws in _with_laws(puzzle, appearance, False):
        target = tuple(-law.value(look.permutation) % law.modulus for law in laws)
        atoms = hidden_atoms(hidden, tuple(laws))
        for chosen in smallest_sets(target, tuple(law.modulus for law in laws), atoms, MOST):
            sets.add(tuple(sorted(piece for atom in chosen for piece in atom.pieces)))
    least = min(map(len, sets), default=0)
    return [list(one) for one in sorted(sets) if len(one) == least] if len(sets) < MOST else []


def _law_data(law: CharacterLaw) -> dict:
    weights = [(weight, part.what, part.sector.labels.tolist()) for weight, part in law.terms]
    terms = [[weight * (what == "sign"), weight * (what == "twist"), rows] for weight, what, rows in weights]
    return {"modulus": law.modulus, "terms": terms}


def _readings(answer: Answer, clock: Clock) -> list[dict]:
    """Two ways in which what is half seen may go on, of different verdicts, the first of them ordinary."""
    puzzle, seen, found = answer.puzzle, answer.appearance, {}
    rng = Random(0)
    for whole in (in_place(puzzle, seen), *(drawn(puzzle, seen, rng) for _ in range(DRAWN))):
        if whole is None or not whole.complete or puzzle.nearly or clock.spent:
            continue
        verdict = judged(puzzle, whole, clock.share(SHARE)).verdict
        if verdict not in found and (verdict == ORDINARY or not found.keys() - {ORDINARY}):
            with suppress(NothingToProve):
                found[verdict] = _claims(answer_(puzzle, whole, clock.share(SHARE)), clock)
        if ORDINARY in found and len(found) > 1:
            return [found.pop(ORDINARY), *found.values()]
    raise NothingToProve("nothing is claimed that a file could prove: what is not seen, or not measured, decides")
