"""One evening, produced once: a cube and a prism at three tables, for eleven people."""

import pytest

from oddswap.__main__ import main

PUZZLES = ["cube:3", "shape-mod:prism8"]
LINE = ["--puzzles", *PUZZLES, "--tables", "3", "--people", "11", "--count", "1", "--seed", "1"]


@pytest.fixture(scope="session")
def evening(tmp_path_factory):
    folder = tmp_path_factory.mktemp("evening")
    assert main(["worksheet", *LINE, "--out", str(folder)]) == 0
    return folder
