"""Check a proof: python3 check_proof.py proof.json. What stands in that file is told in proof.md.
Exit status 0: what it claims holds. 1: some claim does not. 2: the file cannot be used."""

import sys
from functools import reduce
from hashlib import sha256
from itertools import accumulate, chain, combinations, combinations_with_replacement, product
from json import dumps, loads
from operator import mod, mul

AXES = dict(U=(0, 1, 0), D=(0, -1, 0), F=(0, 0, 1), B=(0, 0, -1), L=(-1, 0, 0), R=(1, 0, 0))
AXES |= dict(x=AXES["R"], y=AXES["U"], z=AXES["F"])
CLAIMS = {"ordinary": "ways", "lookalike": "ways looks culprits", "not by turning": "looks"}
CLAIMS |= {"other turns": "looks outside", "cannot tell yet": "readings"}

def need(holds, claim):
    if not holds:
        sys.exit(f"refused: it does not hold that {claim}")

def quarter(v, n):
    """A vector turned clockwise about n, as seen from its tip: v x n + n (n . v)."""
    dot = sum(map(mul, v, n))
    return [v[i - 2] * n[i - 1] - v[i - 1] * n[i - 2] + n[i] * dot for i in range(3)]

def spots(slot):
    """For each way round of a piece in a slot, clockwise: twice its place, plus its first face."""
    first, *rest = faces = [AXES[letter] for letter in slot]
    if not rest:  # a centre: plus a mark on it
        faces = accumulate([first] * 3, quarter, initial=first[1:] + first[:1])
    elif len(rest) == 2 and quarter(first, rest[1]) != [*rest[0]]:
        faces = first, *rest[::-1]
    return [[2 * sum(v) + x for x, *v in zip(face, first, *rest)] for face in faces]

def carried(rows, image):
    """To which row each row of labels goes, and how far it is moved on; None if one is torn."""
    at = {j: (i, t) for i, row in enumerate(rows) for t, j in enumerate(row)}
    need(len(at) == sum(map(len, rows)), "each label is told once")
    ends = [at.get(image[row[0]], (-1, 0)) for row in rows]
    turned = [[*rows[i][t:], *rows[i][:t]] for i, t in ends]
    return ends if turned == [[image[j] for j in row] for row in rows] else None

def value(law, image):
    """What a law counts at a position; None where that has no sense."""
    total, modulus = 0, law["modulus"]
    for sign, twist, rows in law["terms"]:
        need(2 * sign % modulus == twist * len(rows[0]) % modulus == 0, "a law's modulus fits it")
        if (ends := carried(rows, image)) is None:
            return None
        odd = sum(a > b for (a, _), (b, _) in combinations(ends, 2))
        total += sign * odd + twist * sum(t for _, t in ends)
    return total % modulus

class ToldPuzzle:
    """Slots, their labels, and what each move does: ``move[label]`` is where it takes a label."""
    def __init__(self, part):
        self.names, self.looks = zip(*part["slots"])
        starts = list(accumulate(map(len, self.looks), initial=0))
        self.labels = [range(a, b) for a, b in zip(starts, starts[1:])]
        self.home, slabs = list(range(starts[-1])), part["mechanism"] == "three slabs"
        self.moves = {n: self.turned(n) if slabs else move for n, move in part["moves"].items()}
        for move in self.moves.values():
            self.shown(move)
    def turned(self, name):
        """What a turn of the mechanism of three slabs, or of all of it, does to spots."""
        ways, n = [spot for slot in self.names for spot in spots(slot)], AXES[name[0]]
        times = {"": 1, "2": 2, "'": 3}[name[1:]]
        moved = (name[0] in "xyz" or sum(map(mul, v, n)) > 1 for v in ways)
        return [ways.index(reduce(quarter, [n] * times * m, v)) for v, m in zip(ways, moved)]
    def follow(self, word, image):
        return reduce(lambda image, name: [self.moves[name][j] for j in image], word.split(), image)
    def shown(self, image, seen=()):
        """For each slot its piece, how far that is turned, and its look, which must be seen."""
        need(sorted(image) == self.home and carried(self.labels, image), "each slot has one piece")
        ends = sorted((b, p, t) for p, (b, t) in enumerate(carried(self.labels, image)))
        need(all(self.looks[p][t] in seen[b] for b, p, t in ends if seen), "a position looks so")
        return [(p, t, self.looks[p][t]) for _, p, t in ends]
    def replayed(self, part, seen=()):
        image = self.follow(part["set_up"], self.home)
        for way in part["ways"]:
            self.shown(self.follow(way, image), [looks[:1] for looks in self.looks])
        return self.shown(image, seen)
    def hidden_changes(self):
        """Hidden turns of one piece and exchanges of two lookalikes: the pieces and a position."""
        for p, q in combinations_with_replacement(range(len(self.looks)), 2):
            a, b, to_p, to_q = self.looks[p], self.looks[q], self.labels[p], self.labels[q]
            for e, f in product(range(len(a)), range(len(b))):
                if a[e:] + a[:e] == b and b[f:] + b[:f] == a:
                    ends = dict(zip((*to_p, *to_q), (*to_q[e:], *to_q[:e], *to_p[f:], *to_p[:f])))
                    yield {p, q}, [ends.get(j, j) for j in self.home]
    def explained(self, look, seen):
        """An explanation: the values of its laws, and what hidden changes add to them."""
        self.shown(look["image"], seen)
        image, laws = self.follow(look["held"], look["image"]), look["laws"]
        for b, (p, t, x) in enumerate(self.shown(image)):
            right = (p, t) == (b, 0) if x == self.looks[b][0] else p in look["free"]
            need(right, f"{self.names[b]} has its own piece, or looks wrong and has a free one")
        for law, (name, move) in product(laws, self.moves.items()):
            need(value(law, move) == 0, f"{name} changes no law")
        values = [value(law, image) for law in laws]
        need(any(values) and None not in values, "what is seen breaks a law")
        return values, [(who, [value(x, i) for x in laws]) for who, i in self.hidden_changes()]

def check(proof):
    puzzle, verdict, seen, looks = ToldPuzzle(proof), *map(proof.get, ("verdict", "seen", "looks"))
    claimed = {part for part in " ".join(CLAIMS.values()).split() if proof[part]}
    asked = {*CLAIMS[verdict].split()} - {*proof["not_covered"]}
    need(claimed == asked and len(seen) == len(puzzle.names), f"all that proves {verdict} is here")
    if proof["ways"]:
        puzzle.replayed(proof, seen)
    found, lookalike = [puzzle.explained(look, seen) for look in looks], verdict == "lookalike"
    culprits, most = set(), len(min(proof["culprits"], default=()))
    for look, (values, changes) in zip(looks, found):
        some = [added for who, added in changes if not lookalike or who <= {*look["free"]}]
        kept = [v for i, v in enumerate(values) if all(added[i] == 0 for added in some)]
        need(any(kept) and (kept == values or not lookalike), "no name mends what it breaks")
        useful = [(who, added) for who, added in changes if any(added) and None not in added]
        for chosen in chain(*(combinations(useful, k) for k in range(1, most + 1))):
            who = sorted(piece for pieces, _ in chosen for piece in pieces)
            total = map(sum, zip(values, *(added for _, added in chosen)))
            left = any(map(mod, total, (law["modulus"] for law in look["laws"])))
            if not left and len({*who}) == len(who) <= most:
                culprits.add(tuple(who))
    told = {*map(tuple, proof["culprits"])}
    need(culprits == told and len({*map(len, told)}) < 2, "these are the culprits, and all of them")
    if verdict == "not by turning" and not looks:
        sets = [{*x} for x in puzzle.looks]
        often = any(sum({*s} <= x for s in seen) > sets.count(x) for x in sets)
        need([] in seen or often, "pieces are seen that there are not")
    if proof["outside"]:
        other = ToldPuzzle(proof["outside"])
        lies = [other.names[p] for p, *_ in other.replayed(proof["outside"])]
        for name, (p, *_) in zip(puzzle.names, puzzle.shown(looks[0]["image"])):
            twins = (n for n, x in zip(puzzle.names, puzzle.looks) if {*x} == {*puzzle.looks[p]})
            need(lies[other.names.index(name)] in twins, f"outside, {name} shows the same")
    for reading, another in zip(proof["readings"], proof["readings"][::-1]):
        need(reading["verdict"] != another["verdict"], "the readings have different verdicts")
        need(all(x[0] in y and not x[1:] for x, y in zip(reading["seen"], seen)), "it is seen so")
        check({**proof, **reading})

if __name__ == "__main__":
    try:
        proof = loads(open(sys.argv[1], "rb").read())
        seal, text = proof.pop("seal"), dumps(proof, sort_keys=True, separators=(",", ":"))
        assert seal == sha256(text.encode()).hexdigest(), "its seal does not fit"
        check(proof)
    except Exception as error:
        print(f"this file cannot be used: {error!r}", file=sys.stderr)
        sys.exit(2)
    print(f"accepted: {proof['verdict']} (moves: {proof['mechanism']}; looks and sights: given)")
    print("not covered: what is shortest, shapes, further laws", *proof["not_covered"], sep=", ")
