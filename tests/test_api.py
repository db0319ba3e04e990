"""The public names, pinned; importing the package costs next to nothing."""

import subprocess
import sys

import oddswap

NAMES = """Appearance Arrangement Budget OddswapError Puzzle Viewer answer changed diagnose draw_cycles draw_prints
draw_strip draw_tally find_way law_book load lookalikes parse_ticket read_ticket tally write_ticket""".split()


def test_the_public_names_are_these_and_can_be_had():
    assert sorted(oddswap.__all__) == sorted(NAMES) == sorted(dir(oddswap))
    assert all(getattr(oddswap, name) is not None for name in NAMES)


def test_importing_loads_no_heavy_package():
    code = "import sys, oddswap; print(*{'matplotlib', 'sympy', 'ipywidgets', 'numba', 'numpy'} & set(sys.modules))"
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.strip() == ""
