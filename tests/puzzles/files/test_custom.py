from itertools import pairwise

import numpy as np
import pytest
from sympy.combinatorics import Permutation, PermutationGroup

from oddswap.errors import UnknownPuzzle
from oddswap.puzzles.catalogue import load
from oddswap.puzzles.files.puzzle_file import BadPuzzleFile, line_of
from oddswap.reasoning.laws.law_book import law_book
from tests.reasoning.known_groups import random_generators

WHEELS = """\
title = "two wheels that share two beads"

[moves]
a = "(1 2 3 4)"
b = "(2 1 5 6)"

[[kind]]
name = "beads"
slots = "1 2 3 4 5 6"

[kind.looks]
1 = "red"
2 = "red"
"""
TWISTS = """\
[moves]
a = "(A B+1 C)(X Y)"
b = "(A A+1 A+2)(B B+2 B+1)"

[[kind]]
name = "corners"
slots = "A B C"
twist = 3
looks = { A = ["red", "white", "blue"], B = ["white", "blue", "red"], C = "green" }

[[kind]]
name = "edges"
slots = "X Y"
hands = 2

[places]
A = [0, 1]
B = [1, 1]
C = [2, 2]
X = [0, 0]
Y = [1, 0]
"""
TRIANGLE = """\
[graph]
edges = "a-b b-c c-a c-d"
blank = "d"
looks = { a = "red", b = "red" }

[colours]
red = "#D55E00"
"""


@pytest.fixture
def from_text(tmp_path):
    def make(text, name="puzzle"):
        path = tmp_path / f"{name}.toml"
        path.write_text(text, "utf-8")
        return load(f"custom:{path}")

    return make


def test_moves_in_cycles_are_those_of_the_rings_that_they_describe(from_text):
    puzzle, rings = from_text(WHEELS), load("rings:4+4,cross=1")
    assert puzzle.title == "two wheels that share two beads"
    assert puzzle.slots == rings.slots
    for name, turn in rings.turns.items():
        assert puzzle.turns[name].permutation.tolist() == turn.permutation.tolist()
    assert puzzle.looks.tolist() == [0, 0, 1, 2, 3, 4]
    assert puzzle.follow("[a, b]2'").pieces == rings.follow("[a, b]2'").pieces


def test_a_cycle_tells_where_a_piece_goes_and_how_it_is_turned(from_text):
    """By hand: A goes to B and one step on; from B to C it comes back by that step; C goes to A as it is."""
    puzzle = from_text(TWISTS)
    after = puzzle.follow("a")
    assert [puzzle.slots[p] for p in after.pieces] == ["C", "A", "B", "Y", "X"]
    assert after.twists == (0, 1, 2, 0, 0)
    assert puzzle.follow("b").twists == (1, 2, 0, 0, 0)
    assert puzzle.follow("a3").twists == (0, 0, 0, 0, 0)


def test_looks_by_way_round_make_twins_and_hidden_turns(from_text):
    puzzle = from_text(TWISTS)
    assert puzzle.looks.tolist() == [0, 1, 2, 1, 2, 0, 3, 3, 3, 0, 1, 2, 3]
    assert puzzle.appearance(puzzle.follow("b b")).looks == (2, 2, 3, 0, 2)


def test_hands_can_do_more_than_the_moves(from_text):
    """X and Y can be flipped and exchanged by hand: 2² · 2! ways, of which the moves make two."""
    puzzle = from_text(TWISTS)
    assert puzzle.kinds[1].twist == 2
    book = law_book(puzzle)
    assert book.index_wide // book.index == 2**2


def test_a_graph_in_a_file(from_text):
    puzzle = from_text(TRIANGLE)
    assert puzzle.slots == ("a", "b", "c", "d") and puzzle.blank == 3
    assert puzzle.looks.tolist() == [0, 0, 1, 2]
    assert puzzle.follow("c a").pieces == (3, 1, 0, 2)
    assert [puzzle.flat.tokens[i] is None for i in range(4)] == [False, False, False, True]
    assert puzzle.flat.colours["red"] == "#D55E00"


def test_places_are_kept_but_for_scale_and_position(from_text):
    places = from_text(TWISTS).flat.positions
    gaps = [np.linalg.norm(one - other) for one, other in pairwise(places)]
    assert gaps == pytest.approx([1, 2**0.5, 8**0.5, 1])


@pytest.mark.parametrize("seed", range(40))
def test_random_moves_written_by_sympy_are_read_as_they_were(from_text, seed):
    rng = np.random.default_rng(seed)
    rows = [Permutation(row.tolist()) for row in random_generators(rng, int(rng.integers(3, 30)))]
    rows = [row for row in rows if not row.is_Identity] or [Permutation([1, 0, 2])]
    size = rows[0].size
    moves = "\n".join(f'm{chr(97 + i)} = "{row.cyclic_form}"'.replace("[", "(").replace("]", ")") for i, row in enumerate(rows))
    moves = moves.replace("((", "(").replace("))", ")").replace("), (", ")(")
    puzzle = from_text(f'[moves]\n{moves}\n[[kind]]\nname = "k"\nslots = "{" ".join(map(str, range(size)))}"\n')
    assert [g.tolist() for g in puzzle.generators] == [row.array_form for row in rows]
    assert law_book(puzzle).order == PermutationGroup(rows).order()


KIND = '[[kind]]\nname = "b"\nslots = "1 2 3"\n'
SWAP = '[moves]\na = "(1 2)"\n' + KIND
WRONG = {
    '[moves]\na = "(1 2"\n' + KIND: (2, "move a, column 1: this cycle is never closed"),
    '[moves]\na = "(1 1)"\n' + KIND: (2, "move a, column 4: `1` stands here a second time"),
    '[moves]\na = "(1 2)"\nb = "(1 7)"\n' + KIND: (3, "move b, column 4: `7` is not one of the names 1, 2, 3"),
    '[moves]\na = "(1 2)"\nb = "()"\n' + KIND: (3, "move b moves nothing"),
    "[moves]\na = 3\n" + KIND: (2, "the move a is `3`: write a text in quotes"),
    "[moves]\n" + KIND: (1, "there are 0 moves: write 1 to 64"),
    '[moves]\n"a b" = "(1 2)"\n' + KIND: (2, "`a b` cannot name a move"),
    '[moves]\na = "(1 2)"\na2 = "(1 3)"\n' + KIND: (1, "`a` could be read in two ways"),
    '[moves]\na = "(1 2)"\na = "(1 3)"\n' + KIND: (3, "this is not TOML"),
    '[moves]\na = "(1 2)"\n': (1, "tables [[kind]]"),
    '[moves]\na = "(1 2)"\n[[kind]]\nname = "b"\nslots = "1 2 2"\n': (5, "the slot 2 stands twice"),
    SWAP + '[[kind]]\nname = "c"\nslots = "4 1"\n': (8, "the slot 1 stands twice"),
    SWAP + '[[kind]]\nname = "b"\nslots = "4"\n': (7, "two kinds are called b"),
    SWAP + '[[kind]]\nname = "c"\nslots = "4-5"\n': (8, "`4-5` cannot name a slot"),
    SWAP + '[[kind]]\nname = "c"\nslots = "4"\ncolour = "red"\n': (9, "a kind has no key `colour`"),
    SWAP + "twist = 0\n": (6, "twist is `0`: write a whole number from 1 to 60"),
    SWAP + "twist = true\n": (6, "twist is `True`"),
    SWAP + "twist = 0x" + "f" * 5000 + "\n": (6, "twist is far too long a number"),
    SWAP + "twist = 2\nhands = 3\n": (7, "hands = 3 is no multiple of twist = 2"),
    '[moves]\na = "(1 2+1)"\n' + KIND + "hands = 2\n": (2, "move a turns 1 on by 1 of 2 steps"),
    '[moves]\na = "(1 1+1)(1+2 2)"\n' + KIND + "twist = 4\n": (2, "move a takes 1 to two places at once"),
    '[moves]\na = "(1 4)"\n' + KIND + '[[kind]]\nname = "c"\nslots = "4"\n': (2, "to a slot of another kind"),
    SWAP + '[kind.looks]\n4 = "red"\n': (7, "there is no slot `4` among these: 1, 2, 3"),
    SWAP + "looks = 5\n": (6, "the table of looks is `5`"),
    SWAP + 'twist = 2\n[kind.looks]\n1 = ["red"]\n': (8, "1 has 1 looks but 2 ways round"),
    SWAP + 'twist = 2\n[kind.looks]\n1 = ["a", "b"]\n2 = ["a", "c"]\n': (9, "1 and 2 both show `a`"),
    SWAP + 'twist = 3\n[kind.looks]\n1 = ["a", "a", "b"]\n': (8, "1 shows `a` twice"),
    SWAP + '[colours]\nred = "rde"\n': (7, "the colour of `red` is `rde`"),
    SWAP + "[places]\n1 = [0, 0]\n2 = [1, nan]\n3 = [2, 0]\n": (8, "the place of 2 is `[1, nan]`"),
    SWAP + "[places]\n1 = [0, 0]\n2 = [1, 0]\n": (6, "the slot 3 has no place"),
    SWAP + "[places]\n1 = [0, 0]\n2 = [1, 0]\n3 = [1, 0]\n": (6, "two slots have the same place"),
    SWAP + "[places]\n1 = [0, 0]\n2 = [0.001, 0]\n3 = [1, 0]\n": (6, "over 64 such steps"),
    'title = ""\n' + SWAP: (1, "the title is"),
    "colour = 1\n" + SWAP: (1, "the file has no key `colour`"),
    "": (1, "has one of the tables moves, graph"),
    SWAP + TRIANGLE: (6, "has one of the tables moves, graph"),
    "[graph\n": (1, "this is not TOML"),
    "x = " + "[" * 5000: (1, "brackets are nested more than 32 deep"),
    '[graph]\nedges = "a-b b-a"\nblank = "a"\n': (2, "the edge b-a stands twice"),
    '[graph]\nedges = "a-b c-d"\nblank = "a"\n': (2, "no path leads from c to the blank at a"),
    '[graph]\nedges = "a-b-c"\nblank = "a"\n': (2, "`a-b-c` is no edge"),
    '[graph]\nedges = "a-b"\nblank = "c"\n': (3, "the blank is at `c`, which no edge names"),
    '[graph]\nedges = "a-b"\n': (1, "blank is `None`: write a text"),
    '[graph]\nedges = "a-b"\nblank = "b"\nlooks = { b = "red" }\n': (4, "there is no slot `b` among these: a"),
}


@pytest.mark.parametrize("text", WRONG, ids=[words for _, words in WRONG.values()])
def test_what_is_wrong_is_said_with_its_line(from_text, text):
    line, words = WRONG[text]
    with pytest.raises(BadPuzzleFile) as caught:
        from_text(text)
    assert str(caught.value).startswith(f"puzzle.toml, line {line}: ") and words in str(caught.value)
    assert str(caught.value).isprintable()


def test_limits_are_told(from_text):
    slots = " ".join(map(str, range(257)))
    with pytest.raises(BadPuzzleFile, match="257 slots with 257 ways to be filled: at most 256 and 2048"):
        from_text(f'[moves]\na = "(1 2)"\n[[kind]]\nname = "b"\nslots = "{slots}"\n')
    with pytest.raises(BadPuzzleFile, match="more than 256 looks"):
        from_text(f'[moves]\na = "(1 2)"\n[[kind]]\nname = "b"\ntwist = 3\nslots = "{" ".join(map(str, range(100)))}"\n')
    with pytest.raises(BadPuzzleFile, match="longer than 200000 bytes"):
        from_text("#" * 200_001)


def test_files_that_cannot_be_read(tmp_path):
    (tmp_path / "latin.toml").write_bytes(b'title = "a"\n# caf\xe9\n')
    with pytest.raises(BadPuzzleFile, match="latin.toml` is no text in UTF-8 from line 2 on"):
        load(f"custom:{tmp_path}/latin.toml")
    (tmp_path / "folder.toml").mkdir()
    for name in ("folder.toml", "none.toml"):
        with pytest.raises(BadPuzzleFile, match="cannot be read"):
            load(f"custom:{tmp_path}/{name}")
    with pytest.raises(UnknownPuzzle, match="ends in .toml"):
        load("custom:puzzle.txt")


@pytest.mark.parametrize(
    ("path", "line"),
    [(("kind", 0, "slots"), 3), (("kind", 1, "slots"), 6), (("kind", 1, "looks", "b c"), 8), (("x", "y"), 9), (("z",), 1)],
)
def test_lines_of_keys(path, line):
    text = '\n[[kind]]\nslots = "a"\n\n[[kind]]\nslots = "b"\n[kind.looks]\n"b c" = 1\n[x]\nq.r = 2\n'
    assert line_of(text, path) == line


KIND = '[[kind]]\nname = "beads"\nslots = "1 2 3"\n'


def test_a_file_that_was_edited_is_read_again_and_one_that_was_not_is_the_same_puzzle(tmp_path):
    path = tmp_path / "wheels.toml"
    path.write_text('[moves]\na = "(1 2 3)"\n' + KIND, "utf-8")
    first = load(f"custom:{path}")
    assert load(f"custom:{path}") is first and law_book(first).order == 3
    path.write_text('[moves]\na = "(1 2 3)"\nb = "(1 2)"\n' + KIND, "utf-8")
    assert law_book(load(f"custom:{path}")).order == 6 and law_book(first).order == 3
    path.write_text('[moves]\na = "(1 2 2)"\n' + KIND, "utf-8")
    with pytest.raises(BadPuzzleFile):
        load(f"custom:{path}")
    path.write_text('[moves]\na = "(1 2 3)"\n' + KIND, "utf-8")
    assert load(f"custom:{path}") is first
