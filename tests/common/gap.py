"""GAP as a second opinion: run a program in it and read what it prints.

GAP Group, GAP - Groups, Algorithms, and Programming (https://www.gap-system.org), as packaged by `passagemath-gap`.
"""

import os
import subprocess
import sys
import sysconfig
import tempfile
from collections.abc import Iterable, Sequence
from pathlib import Path

import pytest

COMMAND = Path(sysconfig.get_path("purelib"), "sage_wheels", "bin", "gap")
needs_gap = pytest.mark.skipif(not COMMAND.exists(), reason="GAP is not installed")


def gap(program: str) -> list[str]:
    """The lines that a program prints; GAP's own messages about errors fail the test."""
    path = os.pathsep.join([str(Path(sys.executable).parent), os.environ["PATH"]])
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder, "program.g")
        file.write_text(f'SetPrintFormattingStatus("*stdout*", false);\n{program}\nQUIT;\n', "utf-8")
        run = subprocess.run(
            [COMMAND, "-q", "-T", file],
            env={**os.environ, "PATH": path},
            stdin=subprocess.DEVNULL,
            capture_output=True,
            text=True,
            timeout=600,
        )
    assert run.returncode == 0 and not run.stderr.strip(), run.stderr
    return run.stdout.split("\n")[:-1]


def permutation(p: Iterable[int]) -> str:
    """A permutation of 0 … n - 1 as GAP reads one; GAP counts its points from 1."""
    return f"PermList([{','.join(str(int(x) + 1) for x in p)}])"


def permutations(perms: Iterable[Sequence[int]]) -> str:
    """A list of permutations as GAP reads one."""
    return f"[{','.join(permutation(p) for p in perms)}]"


def group(gens: Iterable[Sequence[int]]) -> str:
    """The group of these generators."""
    return f"Group({permutations(gens)},())"
