"""Spelling, British, of all that people read: guides, notebooks, tickets, docstrings and messages; checked by codespell, offline.

codespell knows mistakes that people make, not all the words that there are. Its list of British words with their American
spelling is read backwards, and so the American ones are mistakes here.
"""

import ast
import subprocess
import sys
from pathlib import Path

import codespell_lib
import nbformat
import pytest

from tests.frame import source

ROOT = Path(__file__).parents[1]
WORDS = Path(codespell_lib.__file__).parent / "data" / "dictionary_en-GB_to_en-US.txt"
RIGHT_HERE = {
    "story": "what is told of a ticket; not a floor of a house",
    "stories": "the same",
    "program": "what a computer runs",
    "practice": "the noun; only the verb has an s",
    "math": "in the names of journals",
    "combin": "in the name of a journal",
    "celler": "an author",
    "bu": "a slot",
    "fro": "to and fro",
    "shepperd": "an author",
    "unrecognized": "what argparse says of an argument",
    "meter": "an instrument",
    "check": "to test; no bank's paper",
}
STYLE = r"\b[a-z-]*color ?:|: ?center\b"
"""What a style sheet says is no prose."""


def prose_of(path: Path) -> list[tuple[str, str]]:
    """Where, and what is written there: all of a guide, the Markdown of a notebook, strings of two words and more of code."""
    text = path.read_text("utf-8")
    name = str(path.relative_to(ROOT))
    if path.suffix == ".ipynb":
        cells = nbformat.reads(text, as_version=4).cells
        written = [
            [source(cell)] if cell.cell_type == "markdown" else [told for _, told in strings(source(cell))] for cell in cells
        ]
        return [(f"{name}, cell {number}", told) for number, parts in enumerate(written) for told in parts]
    if path.suffix == ".py":
        return [(f"{name}, line {line}", told) for line, told in strings(text)]
    return [(f"{name}, line {number}", line) for number, line in enumerate(text.splitlines(), 1)]


def strings(code: str) -> list[tuple[int, str]]:
    nodes = [node for node in ast.walk(ast.parse(code)) if isinstance(node, ast.Constant) and isinstance(node.value, str)]
    return [(node.lineno, node.value) for node in nodes if len(node.value.split()) > 1]


def misspelt(prose: list[tuple[str, str]], folder: Path) -> list[str]:
    """What codespell finds, as `where: word ==> better`."""
    pairs = [line.split("->") for line in WORDS.read_text("utf-8").splitlines()]
    american = folder / "american.txt"
    american.write_text(
        "\n".join(f"{word.strip()}->{british}" for british, us in pairs for word in us.split(",") if word.strip())
    )
    lines = [(where, line) for where, told in prose for line in told.splitlines()]
    text = folder / "prose.txt"
    text.write_text("\n".join(line for _, line in lines) + "\n", "utf-8")
    ignored = ",".join(RIGHT_HERE)
    command = [sys.executable, "-m", "codespell_lib", "--builtin", "clear,rare,usage", "-D", "-", "-D", american, text]
    run = subprocess.run([*command, "-L", ignored, "--ignore-regex", STYLE], capture_output=True, text=True)
    assert run.returncode in (0, 65) and not run.stderr, run.stderr
    found = [line.removeprefix(f"{text}:").split(": ", 1) for line in run.stdout.splitlines()]
    return [f"{lines[int(number) - 1][0]}: {told}" for number, told in found]


def everything() -> list[Path]:
    code = [path for folder in ("src", "tests") for path in (ROOT / folder).rglob("*.py") if path != Path(__file__)]
    notebooks, tickets = (ROOT / "notebooks").glob("*.ipynb"), (ROOT / "notebooks").rglob("*.toml")
    return sorted([ROOT / "README.md", ROOT / "DEVELOPERS.md", *code, *notebooks, *tickets, *(ROOT / "src").rglob("*.toml")])


def test_all_that_people_read_is_spelt_well(tmp_path):
    prose = [part for path in everything() for part in prose_of(path)]
    assert len(prose) > 5000 and misspelt(prose, tmp_path) == []


@pytest.mark.parametrize("word", ["recieve", "arrangment", "color", "center", "neighbor", "analyze"])
def test_a_misspelt_word_is_found_where_it_stands(word, tmp_path):
    assert misspelt([("here", "A swap of two pieces."), ("there", f"One {word} more.")], tmp_path)[0].startswith(
        f"there: {word} ==>"
    )
