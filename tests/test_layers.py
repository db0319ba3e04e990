"""The floor plan: who may import whom, what must load late, and what may lie at the top level."""

import ast
import fnmatch
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
SOURCE = ROOT / "src"
LAYERS = ["values", "puzzles", "reasoning", "words", "showing"]
LATE = {"matplotlib", "ipywidgets", "sympy", "anywidget", "IPython"}
TOP_LEVEL = {"pyproject.toml", "README.md", "DEVELOPERS.md", "notebooks", "src", "tests", "figures"}
FILES = sorted(SOURCE.glob("oddswap/**/*.py"))


def layer(module: str) -> int:
    parts = module.split(".")
    if parts[:2] in (["oddswap", "errors"], ["oddswap", "forwards"]):
        return 0
    return LAYERS.index(parts[1]) if len(parts) > 1 and parts[1] in LAYERS else len(LAYERS)


def imported(node: ast.AST, package: str) -> list[str]:
    """Full names that an import statement brings in; `from a import b` gives `a.b`."""
    if isinstance(node, ast.Import):
        return [alias.name for alias in node.names]
    if isinstance(node, ast.ImportFrom):
        base = package.split(".")[: len(package.split(".")) - node.level + 1] if node.level else []
        return [".".join([*base, *filter(None, [node.module]), alias.name]) for alias in node.names]
    return []


def is_for_types_only(node: ast.AST) -> bool:
    return isinstance(node, ast.If) and ast.unparse(node.test) in {"TYPE_CHECKING", "typing.TYPE_CHECKING"}


def nodes_run_on_import(node: ast.AST):
    for child in ast.iter_child_nodes(node):
        if isinstance(child, ast.FunctionDef | ast.AsyncFunctionDef | ast.Lambda) or is_for_types_only(child):
            continue
        yield child
        yield from nodes_run_on_import(child)


def imports_from_above(code: str, module: str, package: str) -> list[str]:
    names = [name for node in ast.walk(ast.parse(code)) for name in imported(node, package)]
    return [n for n in names if n.split(".")[0] == "oddswap" and layer(n) > layer(module)]


def early_imports(code: str, module: str, package: str) -> list[str]:
    if layer(module) > LAYERS.index("words"):
        return []
    names = [n for node in nodes_run_on_import(ast.parse(code)) for n in imported(node, package)]
    return [n for n in names if n.split(".")[0] in LATE]


def names_of(path: Path) -> tuple[str, str]:
    """The module's full name and that of the package that its relative imports start from."""
    parts = path.relative_to(SOURCE).with_suffix("").parts
    return ".".join(p for p in parts if p != "__init__"), ".".join(parts[:-1])


@pytest.mark.parametrize("path", FILES, ids=lambda p: str(p.relative_to(SOURCE)))
def test_a_file_imports_only_from_its_own_layer_or_those_before_it(path):
    assert imports_from_above(path.read_text("utf-8"), *names_of(path)) == []


@pytest.mark.parametrize("path", FILES, ids=lambda p: str(p.relative_to(SOURCE)))
def test_values_puzzles_reasoning_and_words_load_no_pictures_widgets_or_symbols(path):
    assert early_imports(path.read_text("utf-8"), *names_of(path)) == []


@pytest.mark.parametrize(
    "code",
    [
        "import oddswap.showing.drawing",
        "from oddswap.puzzles import catalogue",
        "from ..reasoning import laws",
        "from .. import tickets",
        "from oddswap import load",
        "def f():\n    from oddswap.reasoning.laws import laws",
    ],
)
def test_the_layer_rule_catches(code):
    assert imports_from_above(code, "oddswap.values.permutation", "oddswap.values")


@pytest.mark.parametrize(
    "code", ["from ..errors import OddswapError", "from .notation import Step", "import numpy"]
)
def test_the_layer_rule_allows(code):
    assert not imports_from_above(code, "oddswap.values.permutation", "oddswap.values")


@pytest.mark.parametrize(
    "code", ["import sympy.combinatorics", "try:\n    from matplotlib import pyplot\nfinally: ..."]
)
def test_the_late_import_rule_catches(code):
    assert early_imports(code, "oddswap.reasoning.laws", "oddswap.reasoning")


@pytest.mark.parametrize("code", ["def f():\n    import sympy", "if TYPE_CHECKING:\n    import sympy"])
def test_the_late_import_rule_allows(code):
    assert not early_imports(code, "oddswap.reasoning.laws", "oddswap.reasoning")


def test_importing_the_package_loads_no_pictures_widgets_or_symbols():
    code = f"import sys, oddswap; print(*sorted({LATE!r} & set(sys.modules)))"
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == ""


def test_only_the_agreed_entries_lie_at_the_top_level():
    ignored = [line.rstrip("/") for line in (ROOT / ".gitignore").read_text("utf-8").splitlines()]
    names = {p.name for p in ROOT.iterdir() if not p.name.startswith(".")}
    kept = {n for n in names if not any(fnmatch.fnmatch(n, pattern) for pattern in ignored)}
    assert kept <= TOP_LEVEL
