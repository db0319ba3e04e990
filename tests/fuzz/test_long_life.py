"""A lesson that is open for long, and many kernels at once: memory stays flat, and what is shown is of the value that is set.

Of many answers in one process `test_through_to_answers.py` sees to it: thousands of puzzles go through one.
"""

import json
import os
import subprocess
import sys
from pathlib import Path

import psutil
from jupyter_client.manager import start_new_kernel

LESSONS = sorted((Path(__file__).parents[2] / "notebooks").glob("[0-9][0-9]_*.ipynb"))
GROWN = 12
"""Megabytes that a process may grow by after the second round."""


def test_controls_turned_many_times_show_what_they_showed(request):
    every = request.config.getoption("--every-case")
    for path in LESSONS if every else LESSONS[2:3]:
        command = [sys.executable, "-m", "tests.fuzz.long_life", path.name, "200" if every else "12"]
        ran = subprocess.run(command, cwd=path.parent, env=_here(), capture_output=True, text=True, check=True)
        told = json.loads(ran.stdout.splitlines()[-1])
        assert told["same"] and told["different"] > 1 and told["used"][-1] <= told["used"][1] + GROWN, (path.name, told)


def test_kernels_beside_each_other(request):
    """Each answers; eight of them with ``--every-case``."""
    asked = "import oddswap; print(oddswap.load('shape-mod:prism8').diagnose('flip UF'))"
    count = 8 if request.config.getoption("--every-case") else 2
    kernels = [start_new_kernel(kernel_name="python3", env=_here()) for _ in range(count)]
    try:
        wanted = [client.execute(asked) for _, client in kernels]
        for (_, client), number in zip(kernels, wanted, strict=True):
            while (reply := client.get_shell_msg(timeout=300))["parent_header"]["msg_id"] != number:
                pass
            assert reply["content"]["status"] == "ok", reply
        used = [psutil.Process(manager.provisioner.pid).memory_info().rss // 1_000_000 for manager, _ in kernels]
    finally:
        for manager, client in kernels:
            client.stop_channels()
            manager.shutdown_kernel(now=True)
    print("megabytes:", used)
    assert max(used) < 500 and max(used) - min(used) < 100, used


def _here() -> dict[str, str]:
    return os.environ | {"PYTHONPATH": os.pathsep.join(map(str, (Path(__file__).parents[2] / "src", Path(__file__).parents[2])))}
