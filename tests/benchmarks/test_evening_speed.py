"""How long a whole evening takes to make: the sheets, strips, slides, posters and script that `oddswap worksheet` writes.

Run with ``pytest -n 0 --benchmark-enable tests/benchmarks/test_evening_speed.py``; 20 seconds on two quiet cores are the goal.
"""

from oddswap.workshop.evening import write_workshop


def test_a_cube_and_a_prism_for_twenty_people(benchmark, tmp_path):
    benchmark.pedantic(write_workshop, (["cube:3", "shape-mod:prism8"], 1, 1, tmp_path), {"people": 20}, rounds=1)
