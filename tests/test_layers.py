"""The floor plan: rooms in their order, no circles between files, what must load late, what may lie at the top level."""

import ast
import fnmatch
import re
import subprocess
import sys
from collections import Counter
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
SOURCE = ROOT / "src"
ORDER = """
    errors forwards
    values
    puzzles.base puzzles.solids puzzles.boxes puzzles.flat puzzles.shaped puzzles.files puzzles
    describing.photographs describing
    reasoning.budget reasoning.groups reasoning.laws reasoning.search reasoning.verdicts reasoning.ways
    reasoning.opening reasoning.teaching reasoning.checking reasoning.answers
    reasoning.ticket_answers reasoning.in_hand
    words words.to_visitors words.ways words.products
    showing.ink showing.pictures showing.viewer showing.pages
    story.telling story
    lessons.machinery lessons
    workshop edition desk draw commands __main__
""".split()
"""Rooms, and sub-rooms where a room has them; a name may be that of a file. Files beside sub-rooms come after these."""
ENGINE = ORDER[: ORDER.index("words")]
LATE = {"matplotlib", "ipywidgets", "sympy", "anywidget", "IPython", "numba"}
INSIDE = {
    ("commands.*", "*"): "a command loads what it needs and nothing else, so that the first line comes at once",
    ("__main__", "commands.command_line"): "Ctrl-C is minded before anything that takes time is loaded",
    ("reasoning.*", "*_kernel*"): "compiled loops load numba, and only what goes far needs them",
    ("reasoning.verdicts.diagnosis", "reasoning.verdicts.*"): "views, slips, repairs and the like are for some verdicts alone",
    ("*.laws*", "sympy"): "LaTeX is wanted rarely, and SymPy takes long to load",
    ("story.ffmpeg", "imageio_ffmpeg"): "it comes with an extra, and may be missing",
    ("*", "IPython"): "there may be no notebook",
    ("describing.postcards", "PIL"): "only a postcard needs the names of colours",
    ("describing.photographs.*", "PIL"): "only a photograph is opened as a picture",
    ("showing.pages.visitor_page", "segno"): "only a page that is hosted has a code",
    ("showing.pages.output_folder", "filelock"): "only who writes a folder waits for others that write it",
}
"""Imports that may stand inside a function: (file, what it imports), as patterns, with the reason."""
MOST_FILES, MOST_LINES, MOST_LOADED = 20, 300, 60
TOP_LEVEL = {"pyproject.toml", "README.md", "DEVELOPERS.md", "notebooks", "src", "tests", "figures"}
FILES = sorted(SOURCE.glob("oddswap/**/*.py"))
ROOMS = sorted({path.parent for path in FILES} - {SOURCE / "oddswap"})

parsed = cache(ast.parse)


def place(module: str) -> int:
    """The place of a module among the rooms; the package itself comes last."""
    parts = module.split(".")[1:]
    heads = (".".join(parts[:k]) for k in range(len(parts), 0, -1))
    return next((ORDER.index(head) for head in heads if head in ORDER), len(ORDER))


def imported(node: ast.AST, package: str) -> list[str]:
    """Full names that an import statement brings in; `from a import b` gives `a.b`."""
    if isinstance(node, ast.Import):
        return [alias.name for alias in node.names]
    if isinstance(node, ast.ImportFrom):
        base = package.split(".")[: len(package.split(".")) - node.level + 1] if node.level else []
        return [".".join([*base, *filter(None, [node.module]), alias.name]) for alias in node.names]
    return []


def every_import(code: str, package: str) -> list[str]:
    """All that is imported anywhere, inside functions and for types, too."""
    return [name for node in ast.walk(parsed(code)) for name in imported(node, package)]


def nodes_run_on_import(node: ast.AST):
    """What runs when a file is loaded: not functions, nor what stands there for types alone."""
    for child in ast.iter_child_nodes(node):
        late = isinstance(child, ast.FunctionDef | ast.AsyncFunctionDef | ast.Lambda)
        if late or (isinstance(child, ast.If) and ast.unparse(child.test) in {"TYPE_CHECKING", "typing.TYPE_CHECKING"}):
            continue
        yield child
        yield from nodes_run_on_import(child)


def names_of(path: Path) -> tuple[str, str]:
    """The module's full name and that of the package that its relative imports start from."""
    parts = path.relative_to(SOURCE).with_suffix("").parts
    return ".".join(p for p in parts if p != "__init__"), ".".join(parts[:-1])


def from_later_rooms(code: str, module: str, package: str) -> list[str]:
    return [n for n in every_import(code, package) if n.split(".")[0] == "oddswap" and place(n) > place(module)]


def early_imports(code: str, module: str, package: str) -> list[str]:
    if place(module) >= len(ENGINE):
        return []
    names = [n for node in nodes_run_on_import(parsed(code)) for n in imported(node, package)]
    return [n for n in names if n.split(".")[0] in LATE and not (n.startswith("numba") and "_kernel" in module)]


def inside_functions(code: str, package: str) -> list[str]:
    """What is imported inside functions."""
    functions = [n for n in ast.walk(parsed(code)) if isinstance(n, ast.FunctionDef | ast.AsyncFunctionDef)]
    return [name for function in functions for node in ast.walk(function) for name in imported(node, package)]


def reasons(module: str, name: str) -> list[tuple[str, str]]:
    """The entries of `INSIDE` that allow a file to import something inside a function."""
    parts = name.removeprefix("oddswap.").split(".")
    names = [".".join(parts[:k]) for k in range(1, len(parts) + 1)]
    return [
        (file, what)
        for file, what in INSIDE
        if fnmatch.fnmatch(module.removeprefix("oddswap."), file) and any(fnmatch.fnmatch(n, what) for n in names)
    ]


def unreasoned(code: str, module: str, package: str) -> list[str]:
    return [name for name in inside_functions(code, package) if not reasons(module, name)]


@cache
def graph() -> dict[str, frozenset[str]]:
    """For each file of the package those that it imports, wherever the import stands."""
    modules = {names_of(path)[0]: path for path in FILES}
    found = {}
    for module, path in modules.items():
        heads = ([n, n.rpartition(".")[0]] for n in every_import(path.read_text("utf-8"), names_of(path)[1]))
        found[module] = frozenset(next((n for n in pair if n in modules), module) for pair in heads) - {module}
    return found


def circles(edges: dict[str, frozenset[str]]) -> list[set[str]]:
    """Sets of nodes that lead to one another: the strongly connected components of two nodes and more.

    R. Tarjan, SIAM J. Comput. 1 (1972) 146-160.
    """
    number: dict[str, int] = {}
    low: dict[str, int] = {}
    stack: list[str] = []
    found = []

    def visit(node: str) -> None:
        number[node] = low[node] = len(number)
        stack.append(node)
        for other in sorted(edges.get(node, ())):
            if other not in number:
                visit(other)
            if other in stack:
                low[node] = min(low[node], low[other])
        if low[node] == number[node]:
            start = stack.index(node)
            if len(stack) - start > 1:
                found.append(set(stack[start:]))
            del stack[start:]

    for node in sorted(edges):
        if node not in number:
            visit(node)
    return found


def complaints(rule) -> dict[str, list]:
    """What a rule finds in each file of the package, which it gets as code, module and package."""
    found = {str(path.relative_to(SOURCE)): rule(path.read_text("utf-8"), *names_of(path)) for path in FILES}
    return {path: wrong for path, wrong in found.items() if wrong}


def test_a_file_imports_only_from_its_own_room_or_those_before_it():
    assert complaints(from_later_rooms) == {}


def test_every_file_lies_in_a_room():
    assert [m for m in graph() if place(m) == len(ORDER) and not (SOURCE / m.replace(".", "/")).is_dir()] == []


def test_no_files_import_each_other_in_circles():
    assert circles(graph()) == []
    assert sum(map(len, graph().values())) > 1000


def test_the_engine_loads_no_pictures_widgets_or_symbols_and_numba_only_in_compiled_loops():
    assert complaints(early_imports) == {}


def test_what_is_imported_inside_functions_is_listed_with_its_reason():
    assert complaints(unreasoned) == {}


def test_every_reason_is_needed():
    used = set()
    for path in FILES:
        module, package = names_of(path)
        used |= {pair for name in inside_functions(path.read_text("utf-8"), package) for pair in reasons(module, name)}
    assert used == set(INSIDE)


def test_no_file_is_too_long():
    assert complaints(lambda code, *_: code.count("\n") > MOST_LINES) == {}


def test_no_two_classes_share_a_name():
    trees = (parsed(path.read_text("utf-8")) for path in FILES)
    names = Counter(node.name for tree in trees for node in ast.walk(tree) if isinstance(node, ast.ClassDef))
    assert {name: n for name, n in names.items() if n > 1} == {}


@pytest.mark.parametrize("folder", ["src", "tests"])
def test_no_folder_is_too_full(folder):
    counts = Counter(path.parent for path in (ROOT / folder).rglob("*.py"))
    assert {str(f.relative_to(ROOT)): n for f, n in counts.items() if n > MOST_FILES} == {}


@pytest.mark.parametrize("room", ROOMS, ids=lambda p: str(p.relative_to(SOURCE)))
def test_a_room_says_in_one_sentence_what_it_is_for_and_names_its_main_door(room):
    words = " ".join((ast.get_docstring(parsed((room / "__init__.py").read_text("utf-8"))) or "").split())
    found = re.fullmatch(r"([^.]+)\. Main doors?: ([^.]*)\.", words)
    assert found, words
    doors = re.findall(r"`(\w+)`", found[2])
    bodies = (parsed(path.read_text("utf-8")).body for path in room.rglob("*.py"))
    made = {node.name for body in bodies for node in body if isinstance(node, ast.FunctionDef | ast.ClassDef)}
    assert doors and set(doors) <= made


def test_no_room_of_the_order_is_made_up():
    there = {name.partition(".")[2] for path in FILES for name in names_of(path)}
    assert set(ORDER) - there <= {"forwards", "puzzles.shaped"}


@pytest.mark.parametrize(
    "code",
    [
        "import oddswap.showing.pictures.prints",
        "from oddswap.puzzles import catalogue",
        "from ..reasoning.laws import law_book",
        "from .. import commands",
        "from oddswap import load",
        "def f():\n    from oddswap.reasoning.laws.law_book import law_book",
        "if TYPE_CHECKING:\n    from oddswap.puzzles.base.puzzle import Puzzle",
    ],
)
def test_the_rule_of_rooms_catches(code):
    assert from_later_rooms(code, "oddswap.values.permutation", "oddswap.values")


@pytest.mark.parametrize("code", ["from ..errors import OddswapError", "from .notation import Step", "import numpy"])
def test_the_rule_of_rooms_allows(code):
    assert not from_later_rooms(code, "oddswap.values.permutation", "oddswap.values")


def test_sub_rooms_stand_in_their_order():
    code = "from oddswap.reasoning.ways.way_out import find_home"
    assert from_later_rooms(code, "oddswap.reasoning.laws.tally", "oddswap.reasoning.laws")
    assert not from_later_rooms(code, "oddswap.reasoning.teaching.toolbox", "oddswap.reasoning.teaching")
    assert from_later_rooms("from oddswap.puzzles.catalogue import load", "oddswap.puzzles.files.custom", "oddswap.puzzles.files")


def test_circles_are_found():
    edges = {"a": {"b"}, "b": {"c", "d"}, "c": {"a"}, "d": {"e"}, "e": {"d"}, "f": {"a", "f"}}
    assert sorted(map(sorted, circles({node: frozenset(to) for node, to in edges.items()}))) == [["a", "b", "c"], ["d", "e"]]
    assert circles({"a": frozenset("bc"), "b": frozenset("c"), "c": frozenset()}) == []


@pytest.mark.parametrize(
    "code", ["import sympy.combinatorics", "from numba import njit", "try:\n    from matplotlib import pyplot\nfinally: ..."]
)
def test_the_late_import_rule_catches(code):
    assert early_imports(code, "oddswap.reasoning.laws.law_book", "oddswap.reasoning.laws")


@pytest.mark.parametrize("code", ["def f():\n    import sympy", "if TYPE_CHECKING:\n    import sympy"])
def test_the_late_import_rule_allows(code):
    assert not early_imports(code, "oddswap.reasoning.laws.law_book", "oddswap.reasoning.laws")


def test_only_listed_imports_may_stand_inside_functions():
    code = "def f():\n    import sympy\n    from oddswap.reasoning.search.word_kernels import HashSet"
    assert unreasoned(code, "oddswap.reasoning.ways.way_out", "oddswap.reasoning.ways") == ["sympy"]
    assert unreasoned(code, "oddswap.commands.actions", "oddswap.commands") == []


def test_importing_the_package_loads_no_pictures_widgets_or_symbols():
    assert loaded("oddswap") & LATE == set()


def test_all_of_the_engine_loads_without_pictures_widgets_symbols_and_compiled_loops():
    modules = [name for name in graph() if place(name) < len(ENGINE) and "_kernel" not in name]
    assert len(modules) > 100 and loaded(*modules) & LATE == set()


def test_a_diagnosis_loads_few_files():
    """A lone flip on the octagonal prism needs no boxes, files, teams or double cosets; what few need is `fetched`."""
    code = "import sys, oddswap; oddswap.load('shape-mod:prism8').diagnose('flip UF'); print(*sys.modules)"
    names = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.split()
    assert 20 < len([name for name in names if name.partition(".")[0] == "oddswap"]) <= MOST_LOADED


def loaded(*modules: str) -> set[str]:
    """The top-level packages that a fresh Python has in memory once it has imported these."""
    code = f"import sys\nfor name in {modules!r}: __import__(name)\nprint(*{{name.partition('.')[0] for name in sys.modules}})"
    return set(subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.split())


def test_only_the_agreed_entries_lie_at_the_top_level():
    ignored = [line.rstrip("/") for line in (ROOT / ".gitignore").read_text("utf-8").splitlines()]
    names = {p.name for p in ROOT.iterdir() if not p.name.startswith(".")}
    kept = {n for n in names if not any(fnmatch.fnmatch(n, pattern) for pattern in ignored)}
    assert kept <= TOP_LEVEL
