"""Whether the tests would notice: code is spoilt in one place, as cosmic-ray spoils it, and the tests run that should notice.

`python -m tests.mutation` draws places from the lines that changed lately. Each mutant runs in a process of its own, which takes
the spoilt text in place of a file; nothing in the checkout is written. It needs a system that can fork, as CI's can.
"""

import ast
import os
import random
import subprocess
import sys
import tempfile
import time
import tomllib
from collections import Counter
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from functools import cache, cached_property
from importlib import import_module, util
from importlib.machinery import SourceFileLoader
from itertools import islice
from pathlib import Path

HERE = Path(__file__).parent
PACKAGE = "src/oddswap"
NOTICED: dict[str, list[str]] = tomllib.loads((HERE / "noticed.toml").read_text(encoding="utf-8"))
"""By file of the package: the tests that should notice, the nearest ones first."""
COMMITS = 20
"""So many commits back is lately."""
PLACES = 10
SECONDS = 5.0
"""Of the processor, for the tests of one mutant, about."""
IN_ALL = 60.0
"""After so many seconds of the processor no further place is spoilt."""
ENOUGH, UNNOTICED = 8, 0.75
"""Of so many places at least, more than this share must not stay unnoticed: mutants that mean the same come in clusters."""
HANGS = 20
"""So many seconds no test takes."""
PRELOADED = ["anyio", "hypothesis", "matplotlib.pyplot", "mistune", "nbval.plugin", "numpy", "pytest_benchmark.plugin", "sympy"]
"""What takes these processes long to load, and is never spoilt."""


@dataclass(frozen=True, order=True)
class Mutant:
    """A file of the package that is spoilt in one place."""

    file: str
    line: int
    column: int
    operator: str
    occurrence: int

    @property
    def place(self) -> tuple:
        """What all mutants share that spoil one thing in one way: another number, another comparison."""
        return self.file, self.line, self.column, self.operator.split("_")[0]

    @cached_property
    def text(self) -> str:
        from cosmic_ray.mutating import mutate_code
        from cosmic_ray.plugins import get_operator

        return mutate_code(_text(self.file), get_operator(self.operator)(), self.occurrence)

    def __str__(self) -> str:
        was, now = (text.splitlines()[self.line - 1].strip() for text in (_text(self.file), self.text))
        return f"{self.file}:{self.line}: {was}  ->  {now}"


@cache
def _text(file: str) -> str:
    return (HERE.parent / PACKAGE / file).read_text(encoding="utf-8")


@cache
def mutants(file: str) -> tuple[Mutant, ...]:
    """All of a file that could matter: identity in place of a comparison does not, nor does what `_idle` lists."""
    from cosmic_ray.ast import ast_nodes, get_ast
    from cosmic_ray.plugins import get_operator, operator_names

    idle, nodes, found = _idle(_text(file)), list(ast_nodes(get_ast(_text(file)))), []
    for name in operator_names():
        if not any(word in name for word in ("Variable", "Decorator")) and (
            not name.endswith(("_Is", "_IsNot")) or "_Is_" in name
        ):
            operator = get_operator(name)()
            starts = (start for node in nodes for start, _ in operator.mutation_positions(node))
            found += (Mutant(file, *start, name, n) for n, start in enumerate(starts) if not _within(start, idle))
    return tuple(sorted(found))


def _idle(text: str) -> list[ast.AST]:
    """Annotations, decorators, ``strict=True`` (which guards against ourselves) and what only a type checker reads."""
    nodes = list(ast.walk(ast.parse(text)))
    idle = [note for node in nodes for field in ("annotation", "returns") if (note := getattr(node, field, None))]
    idle += [decorator for node in nodes for decorator in getattr(node, "decorator_list", ())]
    idle += [node.value for node in nodes if isinstance(node, ast.keyword) and node.arg == "strict"]
    return idle + [node for node in nodes if isinstance(node, ast.If) and ast.unparse(node.test) == "TYPE_CHECKING"]


def _within(start: tuple[int, int], nodes: list[ast.AST]) -> bool:
    return any((node.lineno, node.col_offset) <= start < (node.end_lineno, node.end_col_offset) for node in nodes)


def drawn(among: Sequence[Mutant], count: int, seed: str) -> list[Mutant]:
    """So many places at random, and one mutant of each that is Python."""
    draw, places = random.Random(seed), {}
    for mutant in among:
        places.setdefault(mutant.place, []).append(mutant)
    chosen = (draw.choice(places[place]) for place in draw.sample(list(places), len(places)))
    return list(islice(filter(_is_python, chosen), count))


def _is_python(mutant: Mutant) -> bool:
    try:
        compile(mutant.text, mutant.file, "exec")
    except SyntaxError:
        return False
    return True


def changed_lately(folder: Path) -> dict[str, set[int]]:
    """The lines of each file of the package that the last commits brought; none where there is no history."""
    git = ["git", "-C", str(folder), "-c", f"safe.directory={folder}"]
    asked = subprocess.run(
        [*git, "rev-list", f"--max-count={COMMITS + 1}", "--first-parent", "HEAD"], capture_output=True, text=True
    )
    if asked.returncode or not asked.stdout:
        return {}
    since = asked.stdout.split()[-1]
    told = [*git, "diff", "--unified=0", "--find-renames", "--no-color", "--no-ext-diff", "--src-prefix=a/", "--dst-prefix=b/"]
    changes = subprocess.run([*told, since, "HEAD", "--", "src"], capture_output=True, text=True, check=True).stdout
    found: dict[str, set[int]] = {}
    for line in changes.splitlines():
        if line.startswith("+++ "):
            file = line.removeprefix(f"+++ b/{PACKAGE}/")
        elif line.startswith("@@ "):
            start, _, count = line.split(" +")[1].split(" ")[0].partition(",")
            found.setdefault(file, set()).update(range(int(start), int(start) + int(count or 1)))
    return found


class _Instead(SourceFileLoader):
    """A finder and loader that takes a mutant's text for its file."""

    def __init__(self, mutant: Mutant):
        self.mutant = mutant
        name = "oddswap." + mutant.file.removesuffix(".py").replace("/", ".")
        super().__init__(name, str(HERE.parent / PACKAGE / mutant.file))

    def find_spec(self, name, path=None, target=None):
        return util.spec_from_loader(name, self) if name == self.name else None

    def get_code(self, fullname):
        return compile(self.mutant.text, self.path, "exec")


class _Widely:
    """A plugin: the first case of every test, then the second of every one, and so on, for so many seconds of the processor."""

    def __init__(self, seconds: float):
        self.until = time.process_time() + seconds

    def pytest_collection_modifyitems(self, items):
        met = Counter()
        items.sort(key=lambda item: (met.update([name := item.nodeid.partition("[")[0]]), met[name])[1])

    def pytest_runtest_protocol(self):
        return time.process_time() > self.until or None


def prepared():
    """Loads once what each of these processes would load."""
    for name in PRELOADED:
        import_module(name)


def noticed(mutant: Mutant, tests: Collection[str], seconds: float = SECONDS) -> str:
    """Which test noticed a mutant first; empty if none did."""
    with tempfile.TemporaryDirectory() as room:
        child = os.fork()
        if not child:
            _try(mutant, tests, seconds, room)
        code = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
        said = Path(room, "said").read_text(encoding="utf-8").splitlines()
    first = [line for line in said if line.startswith(("FAILED", "ERROR"))]
    return "" if code == 0 else (first or [f"ended with {code}"])[0]


def _try(mutant: Mutant, tests: Collection[str], seconds: float, room: str):
    """Does not return. A test that does not end is ended by the system; files that are kept for a while go into the room."""
    import resource

    import pytest

    tempfile.tempdir = os.environ["TMPDIR"] = room
    said = os.open(Path(room, "said"), os.O_WRONLY | os.O_CREAT)
    for number in (1, 2):
        os.dup2(said, number)
    resource.setrlimit(resource.RLIMIT_CPU, (int(seconds) + HANGS,) * 2)
    sys.meta_path.insert(0, _Instead(mutant))
    options = ["-n0", "-xqq", "--tb=line", "-pno:cacheprovider", "-Wignore::pytest.PytestAssertRewriteWarning"]
    os._exit(pytest.main([*options, *tests], [_Widely(seconds)]))


def main() -> int:
    lately = changed_lately(HERE.parent)
    among = [mutant for file in NOTICED for mutant in mutants(file) if mutant.line in lately.get(file, ())]
    chosen, unnoticed, tried = drawn(among, PLACES, repr(lately)), [], 0
    if chosen:
        prepared()
    for mutant in chosen:
        spent = os.times()
        if spent.children_user + spent.children_system > IN_ALL:
            break
        by, tried = noticed(mutant, NOTICED[mutant.file]), tried + 1
        print(f"{mutant}: {by or 'NOT NOTICED'}", flush=True)
        unnoticed += [] if by else [mutant]
    print(f"{tried} places spoilt in {len(among)} mutants of lines that changed lately; {len(unnoticed)} not noticed", flush=True)
    return int(tried >= ENOUGH and len(unnoticed) > UNNOTICED * tried)


if __name__ == "__main__":
    sys.exit(main())
