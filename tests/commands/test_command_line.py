"""What cannot be used gets one sentence at once, whatever it is: a pipe in place of a file, a number without end, a deep nest."""

import os
import sys
from pathlib import Path

import pytest

from tests.commands.terminal_runs import ROOT, TICKET, environment, is_one_sentence, run

try:
    import resource
except ImportError:
    resource = None

OK = 'puzzle = "cube:3"\nafter = "R U"\n'
MEMORY = 6 << 30
"""Bytes of address space that a run may take; Python with its libraries asks for two thousand million at once."""


def bounded():
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))


def refused(*words, cwd):
    status, out, said = run(*words, cwd=cwd, preexec_fn=bounded if resource else None)
    assert status == 2 and out == "" and is_one_sentence(said) and len(said) < 700, (status, said[-700:])
    return said


@pytest.fixture
def folder(tmp_path):
    for name, text in {"ok.toml": OK, "extra.toml": "[sequences.'bottom cross']\na = 'R U'\n"}.items():
        (tmp_path / name).write_text(text, "utf-8")
    for name in ("out", "before", "lessons/tickets"):
        (tmp_path / name).mkdir(parents=True)
    lesson = next((ROOT / "notebooks").glob("01_*.ipynb"))
    (tmp_path / "lessons" / lesson.name).write_bytes(lesson.read_bytes())
    return tmp_path


READERS = {
    "answer X": "x.toml",
    "check X R": "x.toml",
    "check ok.toml R --now X": "x.toml",
    "story X --out new": "x.toml",
    "story ok.toml --only captions --seconds 3 --out out": "out/story.toml",
    "plan X": "x.toml",
    "plan cube:3 --plan X": "x.toml",
    "laws custom:X": "x.toml",
    "alarms shape-mod:X": "x.toml",
    "edition --no-reference --puzzles cube:2 --notebooks lessons --out new": "lessons/00_x.ipynb",
    "edition --no-reference --puzzles cube:2 --notebooks lessons --out new ": "lessons/tickets/x.toml",
}
"""Commands that read a file, and where it lies."""


def lay(what, path):
    if what == "pipe":
        os.mkfifo(path)
    elif what == "device":
        path.symlink_to("/dev/zero")
    else:
        path.mkdir()


@pytest.mark.skipif(sys.platform == "win32", reason="pipes and devices as Unix has them")
@pytest.mark.parametrize("what", ["pipe", "device", "folder"])
@pytest.mark.parametrize("line", READERS)
def test_no_file_is_no_file(line, what, folder):
    lay(what, folder / READERS[line])
    said = refused(*line.replace("X", READERS[line]).split(), cwd=folder)
    many = (line, what) == ("answer X", "folder")
    assert ("there are no letters" if many else f"cannot be read (this is a {what})") in said


@pytest.mark.skipif(sys.platform == "win32", reason="pipes and devices as Unix has them")
@pytest.mark.parametrize("what", ["pipe", "device", "folder"])
def test_below_before_and_where_a_page_goes_they_are_passed_over(what, folder):
    """What is no ticket is passed over there, and a page takes the place of what is no page; a folder keeps it."""
    lay(what, folder / "before" / "x.toml")
    (folder / "before" / "same.toml").write_text(OK, "utf-8")
    status, out, said = run("answer", "ok.toml", "--before", "before", "--seconds", "3", "--json", cwd=folder)
    assert (status, said) == (0, "") and "seen before: same is the same position" in out
    lay(what, folder / "out" / "laws.md")
    status, out, said = run("laws", "cube:2", "--out", "out", cwd=folder)
    assert status == 0 or is_one_sentence(said)


DIGITS = "9" * 5000
LONG_HEX = "0x" + "f" * 5000
DEEP, DOTS = "[" * 30_000, ".".join(["a", "b"] * 15_000)
TICKETS = {
    f"after = {DIGITS}": "line 2: a number or word has more than 100 characters",
    f'turns = [{LONG_HEX}]\nafter = ""': "line 2: a number or word has more than 100 characters",
    f'after = ""\n[colours]\nU = {LONG_HEX}': "line 4: a number or word",
    "[seen.U]\nrows = [[1e400, nan, -inf], [1, 1, 1], [1, 1, 1]]": "[seen.U] row 1 is of the wrong type",
    'after = "R99999999999"': "column 2: this number is far too large",
    f'after = "R{DIGITS}"': "column 2: this number is far too large",
    f'after = "{DIGITS}R"': "the number in front goes from 2 to 2",
    'after = "(R)99999"': "after: the sequence comes to 99999 moves: write at most 10000",
    'after = "' + "(R)99999 " * 6000 + '"': "comes to 599994000 moves",
    'after = "' + "(" * 30_000 + '"': "nested more than 50 deep",
    f"after = {DEEP}": "line 2: brackets are nested more than 32 deep",
    f"{DOTS} = 1": "line 2: a number or word has more than 100 characters",
    " . ".join(["after"] * 5000) + " = 1": "line 2: a key has more than 8 parts",
    f'changes = ["twist UFR {DIGITS}"]': "is no way to turn the piece at UFR",
}
PUZZLES = {
    f'[moves]\na = "(1 2)"\n[[kind]]\nname = "b"\nslots = "1 2"\ntwist = {LONG_HEX}': "line 6: a number or word",
    f'[moves]\na = "(1 2)"\n[[kind]]\nname = "b"\nslots = "1 2"\ntwist.{DOTS} = 1': "line 6: a number or word",
    '[moves]\na = "(1 2)"\n[[kind]]\nname = "b"\nslots = "1 2"\ntwist = 1e400': "line 6: twist is `inf`",
    "[graph]\nblank = '1'\nedges = '" + " ".join(f"{i}-{i + 1}" for i in range(9000)) + "'": "there are 9001 nodes: at most 256",
    f"x = {DEEP}": "line 1: brackets are nested more than 32 deep",
}
SIX = {"A": [1, 0, 0], "B": [-1, 0, 0], "C": [0, 1, 0], "D": [0, -1, 0], "E": [0, 0, 1], "F": [0, 0, -1]}
SOLID = "".join(f"[[half_space]]\nname = '{name}'\nnormal = {normal}\noffset = 1\n" for name, normal in SIX.items())
SOLIDS = {
    SOLID.replace("offset = 1\n", f"offset = {LONG_HEX}\n"): "line 4: a number or word has more than 100 characters",
    SOLID.replace("offset = 1\n", "offset = 1e400\n"): "number 1 needs a name",
    SOLID.replace("[1, 0, 0]", "[1e300, 1e300, 0]"): "number 1 needs a name",
    SOLID + f"x = {DEEP}": "line 25: brackets are nested more than 32 deep",
}
PLANS = {
    f"x = {DEEP}": "line 1: brackets are nested more than 32 deep",
    f"name = {DIGITS}": "line 1: a number or word has more than 100 characters",
    "[sequences.'bottom cross']\na = '(R)99999'": "the sequence comes to 99999 moves: write at most 1000",
}
STORIES = {
    f"words_a_minute = {LONG_HEX}": "line 1: a number or word has more than 100 characters",
    "words_a_minute = 1e400": "words_a_minute is `inf`: give it a whole number",
    f"title = {DEEP}": "line 1: brackets are nested more than 32 deep",
}
FILES = [
    *((["answer", "x.toml"], f'puzzle = "cube:3"\n{text}', words) for text, words in TICKETS.items()),
    *((["laws", "custom:x.toml"], text, words) for text, words in PUZZLES.items()),
    *((["laws", "shape-mod:x.toml"], text, words) for text, words in SOLIDS.items()),
    *((["plan", "cube:3", "--after", "R U F", "--plan", "x.toml"], text, words) for text, words in PLANS.items()),
    *((["story", "ok.toml", "--seconds", "3", "--out", "out"], text, words) for text, words in STORIES.items()),
]


@pytest.mark.parametrize("line, text, words", FILES, ids=[f"{line[0]} {words}"[:60] for line, _, words in FILES])
def test_numbers_and_nests_in_files(line, text, words, folder):
    (folder / ("out/story.toml" if line[0] == "story" else "x.toml")).write_text(text, "utf-8")
    assert words in refused(*line, cwd=folder)


WORDS = {
    ("check", "ok.toml", "(R)99999"): "the sequence comes to 99999 moves: write at most 10000",
    ("check", "ok.toml", "(R)9999 (U)9999"): "the sequence comes to 19998 moves",
    ("check", "ok.toml", "(R)" * 40_000): "comes to 40000 moves",
    ("check", "ok.toml", "(R U)500", "--now", "ok.toml"): "a lost place is looked for on at most 400",
    ("check", "ok.toml", "[" * 100_000): "nested more than 50 deep",
    ("check", "ok.toml", f"R{DIGITS}"): "column 2: this number is far too large",
    ("plan", "cube:3", "--after", "(R)99999"): "the sequence comes to 99999 moves",
    ("plan", "cube:3", "--trouble", DIGITS): "--trouble: `99999999999999999999999999999…` is not a whole number from",
    ("plan", "shape-mod:prism8", "--trouble", "1", "--length", "99999999999"): "is not a whole number from 1 to 1000",
    ("ways", "cuboid:2x3x4", "--depth", DIGITS): "is not a whole number from 1 to 99",
    ("ways", "cuboid:2x3x4", "--memory", "1e308"): "`1e308` is not a number above zero and below",
    ("answer", "ok.toml", "--memory", "1e308"): "is not a number above zero and below",
    ("answer", "ok.toml", "--seconds", DIGITS): "is not a number above zero and below",
    ("answer", "ok.toml", "--before", "a" * 5000): "cannot be read or written (File name too long)",
    (): "are required: COMMAND: write such as oddswap answer ticket.toml, or look at oddswap --help",
    ("answers", "ok.toml"): "there is no command `answers`: write answer; oddswap --help shows all",
    ("zzz",): "there is no command `zzz`: oddswap --help shows all",
    ("check", "ok.toml"): "are required: MOVES: write oddswap check TICKET MOVES, or look at oddswap check --help",
    ("check", "ok.toml", "R", "U"): "arguments: U: write oddswap check TICKET MOVES, with quotes around what has spaces",
    ("visitor", "cube:3"): "are required: --out: write oddswap visitor --out FILE",
    ("answer", "ok.toml", "--turns", ""): "`` names no turns: write half, box, all or a list such as R2+U",
    ("plan", "tiles:4x4"): "give a plan that fits this puzzle",
    ("postcard", "ok.toml", "b" * 5000): "unrecognized arguments: bbb",
    ("answer", "ok.toml", "b" * 5000): "cannot be read or written (File name too long)",
    ("story", "ok.toml", "--out", "new", "--width", DIGITS): "is not a whole number from 16 to 16000",
    ("story", "ok.toml", "--out", "new", "--rate", DIGITS): "is not a whole number from",
    ("worksheet", "--out", "new", "--seed", DIGITS): "is not a whole number from",
    ("worksheet", "--out", "new", "--count", "99999999999"): "is not a whole number from 1 to 100",
    (
        "visitor",
        "cube:9",
        "--out",
        "new.html",
    ): "nobody can touch the pieces of `cube:9` on a phone: name a puzzle of fewer layers",
    ("visitor", "kube:3", "--out", "new.html"): "kube",
    ("proof",): "proof takes a ticket, or --checker alone: write such as oddswap proof ticket.toml --out proof.json",
    ("proof", "ok.toml", "--checker"): "proof takes a ticket, or --checker alone",
    ("visitor", "cube:2", "--out", "new.pdf"): "--out `new.pdf` is no page: write such as visitor.html",
    ("visitor", "cube:2", "--out", "new.html", "--address", "javascript:alert(1)"): "is no address of a page: write such as",
    ("visitor", "cube:2", "--out", "new.html", "--address", "https://[x"): "is no address of a page: write such as",
    ("visitor", "cube:2", "--out", "new.html", "--address", "https://a b"): "is no address of a page: write such as",
    ("laws", "cube:" + DIGITS): "cube is a whole number from 2 to 25",
}


@pytest.mark.parametrize("line", WORDS, ids=lambda line: " ".join(line)[:50])
def test_numbers_and_nests_on_the_command_line(line, folder):
    assert WORDS[line] in refused(*line, cwd=folder)


@pytest.mark.parametrize("nodes", [2, 3, 200])
def test_a_blank_that_can_only_go_to_and_fro_has_laws(nodes, folder):
    """On a path the blank's place decides where every piece is: as many arrangements as places, and no loop."""
    text = "[graph]\nblank = '1'\nedges = '" + " ".join(f"{i}-{i + 1}" for i in range(1, nodes)) + "'"
    (folder / "x.toml").write_text(text, "utf-8")
    status, out, said = run("laws", "custom:x.toml", "--json", cwd=folder)
    assert (status, said) == (0, "") and f'"order": "{nodes}"' in out


@pytest.mark.skipif(resource is None, reason="limits as Unix has them")
@pytest.mark.parametrize("line", ["laws cube:2", "answer ok.toml --seconds 3", "worksheet --puzzles cube:2 --count 1 --tables 1"])
def test_a_disk_that_is_full_gets_one_sentence_and_nothing_is_left(line, folder):
    def little():
        resource.setrlimit(resource.RLIMIT_FSIZE, (3000, 3000))

    env = environment(PYTHONDONTWRITEBYTECODE="1")  # which Python would cut short, too, and not notice
    status, out, said = run(*line.split(), "--out", "new", cwd=folder, preexec_fn=little, env=env)
    assert status == 2 and is_one_sentence(said) and "`new` cannot be written" in said
    assert not out or line.startswith("answer"), "which has said its verdict before"
    assert not list(Path(folder).glob("new/*"))


def test_a_ticket_from_the_repair_table_is_read_still():
    assert run("answer", TICKET, "--seconds", "5")[::2] == (0, "")
