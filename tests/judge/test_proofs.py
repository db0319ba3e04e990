"""Proof files of the whole repair table: two checkers accept them, and refuse them once a claim was made false and sealed again.

The one is the program that is handed out, in a process that cannot import the package. The other was written from the description
of the format alone (`proof_reader`). Whether a change makes a claim false is judged here, by the package's own turns.
"""

import ast
import copy
import hashlib
import json
import random
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from functools import cache
from pathlib import Path

import pytest
from sympy.combinatorics import Permutation

from oddswap.describing.tickets import parse_ticket, read_ticket
from oddswap.puzzles.catalogue import load
from oddswap.reasoning.budget import Budget
from oddswap.reasoning.ticket_answers import answer_to
from oddswap.showing.pages.folders import page_module
from oddswap.showing.pages.proof import CHECKER, LARGEST, NothingToProve, proof_text
from tests.judge.flip_law import alone, statements
from tests.judge.proof_reader import Thing, accepts

TICKETS = sorted((Path(__file__).parents[2] / "notebooks" / "tickets").rglob("*.toml"))
BAD = 1000


@cache
def proof_of(ticket: Path) -> str:
    budget = Budget(25 if ticket.parent.name == "shaped" else 5)
    return proof_text(answer_to(read_ticket(ticket), budget), Budget(5))


def checked(path: Path, text: str) -> subprocess.CompletedProcess:
    path.write_text(text, "utf-8")
    return subprocess.run([sys.executable, "-I", "-S", CHECKER, path], capture_output=True, text=True, check=False)


def sealed(data: dict) -> str:
    bare = {key: value for key, value in data.items() if key != "seal"}
    text = json.dumps(bare, sort_keys=True, separators=(",", ":"))
    return json.dumps(bare | {"seal": hashlib.sha256(text.encode()).hexdigest()})


@pytest.mark.one_in(3)
@pytest.mark.parametrize("ticket", TICKETS, ids=lambda path: path.stem)
def test_two_checkers_accept_the_proof_of_every_ticket(ticket, tmp_path):
    text = proof_of(ticket)
    told, data = checked(tmp_path / "proof.json", text), json.loads(text)
    assert (told.returncode, told.stderr) == (0, "") and accepts(text) and len(text) <= LARGEST
    assert f"accepted: {data['verdict']}" in told.stdout
    surplus = data["verdict"] == "not by turning" and not data["looks"]
    assert data["not_covered"] == (["looks"] if surplus else [])


def moves_of(data: dict, name: str) -> dict[str, list[int]]:
    """What the moves of a puzzle do, as the package has them."""
    puzzle = load(name)
    return {turn.name: turn.permutation.tolist() for turn in (*puzzle.turns.values(), *puzzle.rotations.values())}


@pytest.mark.parametrize(
    "name", ["cube:2", "cube:3", "cube:3,centres=none", "shape-mod:prism8", "shape-mod:cube,axis=URF,degrees=60"]
)
def test_both_work_the_same_turns_out_of_vectors_and_of_letters(name):
    """As the package does, which follows the pieces of a solid that is cut."""
    from oddswap.showing.pages import check_proof
    from oddswap.showing.pages.proof import _puzzle_data
    from tests.judge.proof_reader import Thing

    told = _puzzle_data(load(name), {"set_up": "", "ways": [], "looks": [{}]})
    wanted = moves_of(told, name)
    assert told["mechanism"] == "three slabs" and check_proof.ToldPuzzle(told).moves == wanted == Thing(told).moves


class Truth:
    """What words really do to looks, by the package's turns."""

    def __init__(self, data: dict):
        outside = data["outside"]
        self.parts = [(data, moves_of(data, data["puzzle"]))]
        self.parts += [(outside, outside["moves"])] if outside else []

    def view(self, part: dict, word: str) -> list[int]:
        """The look of every slot after a word from solved."""
        (told, moves), *_ = [one for one in self.parts if one[0]["slots"] == part["slots"] and one[0]["moves"] == part["moves"]]
        ways = [(s, t) for s, (_, looks) in enumerate(told["slots"]) for t in range(len(looks))]
        ends = list(range(len(ways)))
        for name in word.split():
            ends = [moves[name][label] for label in ends]
        shown = {ways[ends[n]][0]: told["slots"][s][1][ways[ends[n]][1]] for n, (s, t) in enumerate(ways) if t == 0}
        return [shown[slot] for slot in range(len(shown))]


def solved(part: dict) -> list[int]:
    return [looks[0] for _, looks in part["slots"]]


def another_word(rng, truth, part):
    """One turn of a way out made otherwise, left out or made twice, such that it leads elsewhere."""
    number = rng.randrange(len(part["ways"]))
    names = part["ways"][number].split()
    place = rng.randrange(len(names))
    names[place : place + 1] = rng.choice([[], [names[place]] * 2, [rng.choice(sorted(part["moves"]))]])
    word = " ".join(names)
    part["ways"][number] = word
    return truth.view(part, f"{part['set_up']} {word}") != solved(part)


def way(rng, data, truth):
    return bool(data["ways"]) and another_word(rng, truth, data)


def way_outside(rng, data, truth):
    return bool(data["outside"]) and another_word(rng, truth, data["outside"])


def set_up(rng, data, truth):
    if not data["ways"]:
        return False
    names = data["set_up"].split()
    names[rng.randrange(len(names))] = rng.choice(sorted(data["moves"]))
    data["set_up"] = " ".join(names)
    return any(look not in sight for look, sight in zip(truth.view(data, data["set_up"]), data["seen"], strict=True))


def seen(rng, data, truth):
    """Something else is seen in one slot, where a replay or an explanation shows what is there."""
    if not data["ways"] and not data["looks"]:
        return False
    slot = rng.randrange(len(data["seen"]))
    looks = {look for _, looks in data["slots"] for look in looks} - set(data["seen"][slot])
    data["seen"][slot] = [rng.choice(sorted(looks))]
    return True


def verdict(rng, data, truth):
    every = {"ordinary", "lookalike", "other turns", "not by turning", "cannot tell yet"}
    data["verdict"] = rng.choice(sorted(every - {data["verdict"]}))
    return True


def culprit(rng, data, truth):
    """A culprit is left out, is one that is none, or is there beside all that are."""
    told = {tuple(one) for one in data["culprits"]}
    if not told:
        return False
    size = len(next(iter(told)))
    new = tuple(sorted(rng.sample(range(len(data["slots"])), size)))
    out = rng.choice(sorted(told))
    now = rng.choice([told - {out}, told - {out} | {new}, told | {new}])
    data["culprits"] = [list(one) for one in sorted(now)]
    return now != told


def explanation(rng, data, truth):
    """Two pieces of an explanation that look unlike change places."""
    if not data["looks"]:
        return False
    image, starts, count = rng.choice(data["looks"])["image"], [], 0
    for _, looks in data["slots"]:
        starts.append(count)
        count += len(looks)
    p, q = rng.sample(range(len(starts)), 2)
    a, b = data["slots"][p][1], data["slots"][q][1]
    if len(a) != len(b) or set(a) == set(b):
        return False
    one, other = slice(starts[p], starts[p] + len(a)), slice(starts[q], starts[q] + len(b))
    image[one], image[other] = image[other], image[one]
    return True


def free(rng, data, truth):
    """A piece in a slot that looks wrong is said to be known; held as it is described, so that this is sure."""
    one = rng.choice(data["looks"]) if data["looks"] else None
    if one is None or one["held"]:
        return False
    wrong = [slot for slot, (_, looks) in enumerate(data["slots"]) if data["seen"][slot] != looks[:1]]
    first = [sum(len(looks) for _, looks in data["slots"][:p]) for p in range(len(data["slots"]))]
    slot_of = [s for s, (_, looks) in enumerate(data["slots"]) for _ in looks]
    pieces = [p for p in one["free"] if slot_of[one["image"][first[p]]] in wrong]
    if not pieces:
        return False
    one["free"].remove(rng.choice(pieces))
    return True


def law(rng, data, truth):
    """Another weight, or two labels of different rows that change places, such that some turn changes it now."""
    laws = [law for one in data["looks"] for law in one["laws"]]
    if not laws:
        return False
    term = rng.choice(rng.choice(laws)["terms"])
    if rng.random() < 0.5:
        term[rng.randrange(2)] += 1
    else:
        (a, i), (b, j) = rng.sample([(r, k) for r, row in enumerate(term[2]) for k in range(len(row))], 2)
        term[2][a][i], term[2][b][j] = term[2][b][j], term[2][a][i]
    return not all(kept(one, move) for one in laws for move in truth.parts[0][1].values())


def kept(law: dict, move: list[int]) -> bool:
    """Whether a turn leaves a law's quantity as it is; the sign is SymPy's."""
    total = 0
    for by_sign, by_twist, rows in law["terms"]:
        if 2 * by_sign % law["modulus"] or by_twist * len(rows[0]) % law["modulus"]:
            return False
        moved = [[move[label] for label in row] for row in rows]
        to = [next((n for n, row in enumerate(rows) if sorted(row) == sorted(ends)), None) for ends in moved]
        if None in to:
            return False
        steps = [rows[n].index(ends[0]) for n, ends in zip(to, moved, strict=True)]
        if any(rows[n][k:] + rows[n][:k] != ends for n, k, ends in zip(to, steps, moved, strict=True)):
            return False
        total += by_sign * Permutation(to).parity() + by_twist * sum(steps)
    return total % law["modulus"] == 0


def coverage(rng, data, truth):
    """What is claimed is said not to be, or the other way round."""
    if data["not_covered"]:
        data["not_covered"].pop()
    else:
        data["not_covered"].append(rng.choice([part for part in ("looks", "culprits", "outside") if data[part]] or ["ways"]))
    return data["verdict"] != "cannot tell yet"


def reading(rng, data, truth):
    """A reading has another verdict, or sees in one slot what was not left open."""
    if not data["readings"]:
        return False
    number = rng.randrange(2)
    if rng.random() < 0.3:
        return verdict(rng, data["readings"][number], truth)
    slot = rng.randrange(len(data["seen"]))
    looks = {look for _, looks in data["slots"] for look in looks} - set(data["readings"][number]["seen"][slot])
    data["readings"][number]["seen"][slot] = [rng.choice(sorted(looks))]
    return True


CHANGES = (way, way_outside, set_up, seen, verdict, culprit, explanation, free, law, coverage, reading)


def false_proofs(count: int):
    """Proof files in which one change has made a claim false, with what was changed."""
    rng = random.Random(21)
    proofs = [json.loads(proof_of(ticket)) for ticket in TICKETS]
    truths = [Truth(data) for data in proofs]
    while count:
        number, change = rng.randrange(len(proofs)), rng.choice(CHANGES)
        data = copy.deepcopy(proofs[number])
        if change(rng, data, truths[number]):
            count -= 1
            yield f"{TICKETS[number].stem}: {change.__name__}", sealed(data)


def test_two_checkers_refuse_every_claim_that_was_made_false_and_sealed_again(tmp_path, request):
    drawn = list(false_proofs(BAD if request.config.getoption("--every-case") else BAD // 10))
    with ThreadPoolExecutor(2) as pool:
        told = list(pool.map(lambda one: checked(tmp_path / f"{one[0]}.json", one[1][1]), enumerate(drawn)))
    assert [what for (what, _), one in zip(drawn, told, strict=True) if one.returncode == 0] == []
    assert [what for what, text in drawn if accepts(text)] == []
    assert all(one.stderr.count("\n") == 1 and not one.stdout for one in told)
    assert sum(one.returncode == 1 for one in told) > 0.9 * len(told)


PAGE = """texts => texts.map(text => {
    try { checkedProof(JSON.parse(text)); return 'accepted'; } catch (error) { return `${error}`; }
})"""


@pytest.mark.browser
def test_a_page_accepts_the_proofs_and_refuses_the_false_ones_too(sheet, request):
    sheet.add_script_tag(content=page_module())
    assert sheet.evaluate(PAGE, [proof_of(ticket) for ticket in TICKETS]) == ["accepted"] * len(TICKETS)
    drawn = list(false_proofs(BAD if request.config.getoption("--every-case") else BAD // 10))
    told = dict(zip(drawn, sheet.evaluate(PAGE, [text for _, text in drawn]), strict=True))
    assert [what for (what, _), said in told.items() if said == "accepted"] == []
    assert sum(said.startswith("RangeError") for said in told.values()) > 0.9 * len(told)


def test_the_same_proof_sealed_again_is_accepted(tmp_path):
    """So that no change above is refused for its seal."""
    again = sealed(json.loads(proof_of(TICKETS[0])))
    assert checked(tmp_path / "proof.json", again).returncode == 0 and accepts(again)


@pytest.mark.parametrize("text", ["", "[]", "{}", "{", '{"seal": "x"}', "\x00", "null"])
def test_a_file_that_is_no_proof_or_was_changed_by_accident_cannot_be_used(text, tmp_path):
    told = checked(tmp_path / "proof.json", text or proof_of(TICKETS[0]).replace("ordinary", "lookalike"))
    assert told.returncode == 2 and "cannot be used" in told.stderr and "Traceback" not in told.stderr


def test_the_checker_is_one_sheet_and_needs_the_standard_library_alone():
    lines = CHECKER.read_text("utf-8").splitlines()
    assert len(lines) <= 150 and max(map(len, lines)) <= 100
    found = [node for node in ast.walk(ast.parse("\n".join(lines))) if isinstance(node, ast.Import | ast.ImportFrom)]
    names = {node.module if isinstance(node, ast.ImportFrom) else node.names[0].name for node in found}
    assert names <= sys.stdlib_module_names and not any(getattr(node, "level", 0) for node in found)


def test_where_nothing_can_be_proved_one_sentence_says_so():
    """What is not seen at all leaves nothing; a box that is open may have no way in the time."""
    nearly = parse_ticket('puzzle = "tiles:4x4"\nafter = ""\nchanges = ["swap r4c2 r4c3"]')
    with pytest.raises(NothingToProve, match="no sums|not seen|no way"):
        proof_text(answer_to(nearly, Budget(2)), Budget(1))


def test_what_a_proof_assistant_is_asked_is_what_the_ticket_says():
    """The turns to each of the four culprits flip just that edge and the one that looks flipped; by the package's own turns."""
    data = json.loads(proof_of(next(ticket for ticket in TICKETS if ticket.stem.startswith("04"))))
    puzzle, names = load(data["puzzle"]), [name for name, _ in data["slots"]]
    culprits = [piece for (piece,) in data["culprits"]]
    for culprit in culprits:
        there = puzzle.follow(alone(Thing(data), data, names.index("UF"), culprit, culprits))
        assert {slot for slot in there.displaced() if slot < 20} == {names.index("UF"), culprit}
        assert there.pieces == puzzle.solved.pieces
    asked = statements(data)
    assert all(f"(between {name[0]} {name[1]}, [" in asked for name in ("FL", "FR", "BL", "BR")) and "$" not in asked
