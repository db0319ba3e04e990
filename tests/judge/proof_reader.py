"""A second checker of proof files, written from `proof.md` alone: letters in place of vectors, cycles in place of pairs."""

from __future__ import annotations

import hashlib
import json
from itertools import chain, combinations

AROUND = {"U": "FLBR", "D": "FRBL", "F": "URDL", "B": "ULDR", "L": "UFDB", "R": "UBDF"}
"""Where a quarter turn, clockwise from outside, takes faces: each to the next."""
WHOLE = {"x": "R", "y": "U", "z": "F"}
PARTS = {
    "ordinary": {"ways"},
    "lookalike": {"ways", "looks", "culprits"},
    "not by turning": {"looks"},
    "other turns": {"looks", "outside"},
    "cannot tell yet": {"readings"},
}


class Denied(Exception):
    pass


def ensure(true: object) -> None:
    if not true:
        raise Denied


def accepts(text: str) -> bool:
    """Whether all that a proof file claims holds."""
    try:
        data = json.loads(text)
        bare = json.dumps({key: data[key] for key in sorted(data) if key != "seal"}, sort_keys=True, separators=(",", ":"))
        ensure(data["seal"] == hashlib.sha256(bare.encode("ascii")).hexdigest())
        _holds(data, data)
    except (Denied, LookupError, TypeError, ValueError):
        return False
    return True


def _clockwise(name: str) -> str:
    if len(name) < 3:
        return name
    v, f, h = (next(c for c in name if c in pair) for pair in ("UD", "FB", "LR"))
    ring = v + f + h if sum(c in "DBL" for c in name) % 2 else v + h + f
    return ring[ring.index(name[0]) :] + ring[: ring.index(name[0])]


class Thing:
    def __init__(self, told: dict):
        self.names = [name for name, _ in told["slots"]]
        self.shows = [looks for _, looks in told["slots"]]
        self.label = {at: n for n, at in enumerate((s, t) for s, looks in enumerate(self.shows) for t in range(len(looks)))}
        self.at = {n: at for at, n in self.label.items()}
        self.solved = list(range(len(self.at)))
        slabs = told["mechanism"] == "three slabs"
        self.moves = {name: self._turned(name) if slabs else told["moves"][name] for name in told["moves"]}
        for move in self.moves.values():
            self.pieces(move)

    def _turned(self, name: str) -> list[int]:
        face, times = WHOLE.get(name[0], name[0]), {"": 1, "2": 2, "'": 3}[name[1:]]
        to = {a: AROUND[face][(i + times) % 4] for i, a in enumerate(AROUND[face])} | {face: face}
        to |= {other: other for other in AROUND if other not in to}
        slot_of, move = {frozenset(name): s for s, name in enumerate(self.names)}, []
        for label in self.solved:
            s, t = self.at[label]
            if name[0] not in WHOLE and face not in self.names[s]:
                move.append(label)
                continue
            there = slot_of[frozenset(to[c] for c in self.names[s])]
            if len(self.names[s]) == 1:
                ensure(name[0] not in WHOLE)  # where marks begin is nobody's business
                move.append(self.label[there, (t + times) % 4])
            else:
                move.append(self.label[there, _clockwise(self.names[there]).index(to[_clockwise(self.names[s])[t]])])
        return move

    def pieces(self, position: list[int]) -> list[tuple[int, int]]:
        """For each slot its piece and that piece's way."""
        ensure(len(position) == len(self.solved) and set(position) == set(self.solved))
        found: dict[int, tuple[int, int]] = {}
        for p, looks in enumerate(self.shows):
            slot, way = self.at[position[self.label[p, 0]]]
            ensure(len(self.shows[slot]) == len(looks) and slot not in found)
            ensure(all(self.at[position[self.label[p, t]]] == (slot, (way + t) % len(looks)) for t in range(len(looks))))
            found[slot] = p, way
        return [found[slot] for slot in range(len(self.shows))]

    def view(self, position: list[int]) -> list[int]:
        return [self.shows[p][way] for p, way in self.pieces(position)]

    def after(self, word: str, position: list[int]) -> list[int]:
        for name in word.split():
            move = self.moves[name]
            position = [move[label] for label in position]
        return position

    def replay(self, told: dict) -> list[int]:
        """The position after the set-up; every way leads on to a solved look."""
        start = self.after(told["set_up"], self.solved)
        for way in told["ways"]:
            ensure(self.view(self.after(way, start)) == [looks[0] for looks in self.shows])
        return start

    def changes(self) -> list[tuple[frozenset[int], list[int]]]:
        found = []
        for p, q in chain(((p, p) for p in range(len(self.shows))), combinations(range(len(self.shows)), 2)):
            a, b = self.shows[p], self.shows[q]
            if set(a) != set(b) or len(a) != len(b):
                continue
            size = len(a)
            there = [e for e in range(size) if all(a[(t + e) % size] == b[t] for t in range(size))]
            back = [e for e in range(size) if all(b[(t + e) % size] == a[t] for t in range(size))] if p != q else [0]
            for e in there:
                for f in back:
                    position = list(self.solved)
                    for t in range(size):
                        position[self.label[p, t]] = self.label[q, (t + e) % size]
                        if p != q:
                            position[self.label[q, t]] = self.label[p, (t + f) % size]
                    found.append((frozenset({p, q}), position))
        return found


def quantity(law: dict, position: list[int]) -> int | None:
    """The value of a law at a position, by the cycles of its rows."""
    sum_of_all, modulus = 0, law["modulus"]
    for by_sign, by_twist, rows in law["terms"]:
        length, every = len(rows[0]), [label for row in rows for label in row]
        ensure(len(set(every)) == len(every) and all(len(row) == length for row in rows))
        ensure((2 * by_sign) % modulus == 0 and (length * by_twist) % modulus == 0)
        to, steps = {}, 0
        for number, row in enumerate(rows):
            ends = [position[label] for label in row]
            fits = [(n, k) for n, other in enumerate(rows) for k in range(length) if other[k:] + other[:k] == ends]
            if not fits:
                return None
            to[number], step = fits[0]
            steps += step
        left, cycles = set(to), 0
        while left:
            cycles += 1
            number = left.pop()
            while (number := to[number]) in left:
                left.remove(number)
        sum_of_all += by_sign * ((len(rows) - cycles) % 2) + by_twist * steps
    return sum_of_all % modulus


def _breaks(thing: Thing, seen: list[list[int]], told: dict) -> list[int]:
    """What each law says of an explanation."""
    ensure(all(look in sight for look, sight in zip(thing.view(told["image"]), seen, strict=True)))
    held = thing.after(told["held"], told["image"])
    for slot, ((piece, way), look) in enumerate(zip(thing.pieces(held), thing.view(held), strict=True)):
        ensure((piece, way) == (slot, 0) if look == thing.shows[slot][0] else piece in told["free"])
    ensure(all(quantity(law, move) == 0 for law in told["laws"] for move in thing.moves.values()))
    values = [quantity(law, held) for law in told["laws"]]
    ensure(None not in values and any(values))
    return values


def _culprits(thing: Thing, told: dict, values: list[int], most: int) -> set[tuple[int, ...]]:
    useful: dict[tuple, None] = {}
    for who, position in thing.changes():
        added = tuple(quantity(law, position) for law in told["laws"])
        if None not in added and any(added):
            useful[who, added] = None
    moduli, found = [law["modulus"] for law in told["laws"]], set()

    def go_on(rest: list, used: frozenset[int], left: list[int]) -> None:
        if not any(left):
            found.add(tuple(sorted(used)))
        for number, (who, added) in enumerate(rest):
            if not who & used and len(who | used) <= most:
                following = [(a + b) % m for a, b, m in zip(left, added, moduli, strict=True)]
                go_on(rest[number + 1 :], used | who, following)

    go_on(list(useful), frozenset(), values)
    return found


def _holds(told: dict, puzzle: dict) -> None:
    thing, verdict, seen = Thing(puzzle), told["verdict"], told["seen"]
    ensure(len(seen) == len(thing.names))
    parts = {part for part in ("ways", "looks", "culprits", "outside", "readings") if told[part]}
    ensure(parts == PARTS[verdict] - set(told["not_covered"]))
    if told["ways"]:
        ensure(all(look in sight for look, sight in zip(thing.view(thing.replay(told)), seen, strict=True)))
    found = set()
    for one in told["looks"]:
        values = _breaks(thing, seen, one)
        changes = [(who, [quantity(law, position) for law in one["laws"]]) for who, position in thing.changes()]
        if verdict == "lookalike":
            ensure(all(added == [0] * len(values) for who, added in changes if who <= set(one["free"])))
            found |= _culprits(thing, one, values, max(map(len, told["culprits"]), default=0)) if told["culprits"] else set()
        else:
            ensure(any(v and all(added[i] == 0 for _, added in changes) for i, v in enumerate(values)))
    least = min(map(len, found), default=0)
    ensure({who for who in found if len(who) == least} == {tuple(who) for who in told["culprits"]})
    if verdict == "not by turning" and not told["looks"]:
        kinds = [frozenset(looks) for looks in thing.shows]
        ensure([] in seen or any(sum(set(sight) <= kind for sight in seen) > kinds.count(kind) for kind in kinds))
    if told["outside"]:
        outside = Thing(told["outside"])
        start = outside.pieces(outside.replay(told["outside"]))
        ensure(told["outside"]["ways"])
        for slot, (piece, _) in enumerate(thing.pieces(told["looks"][0]["image"])):
            name = outside.names[start[outside.names.index(thing.names[slot])][0]]
            ensure(set(thing.shows[thing.names.index(name)]) == set(thing.shows[piece]))
    verdicts = [one["verdict"] for one in told["readings"]]
    ensure(len(set(verdicts)) == len(verdicts) and (not verdicts or len(verdicts) == 2))
    for one in told["readings"]:
        ensure(all(len(a) == 1 and a[0] in b for a, b in zip(one["seen"], seen, strict=True)))
        _holds(one, puzzle)
