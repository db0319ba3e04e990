"""Inputs of a grammar through the command line: each is answered, or refused in one sentence, within its time and memory."""

import json
import os
import subprocess
import sys

import pytest

ALL, SOME, PIECES = 100_000, 10_000, 4
"""So many with ``--every-case``, else the first of them; as many of each piece as `SECONDS` of the processor are enough for."""
SECONDS = 60


@pytest.mark.parametrize("piece", range(PIECES))
def test_inputs_by_grammar_come_through(request, piece):
    pytest.importorskip("resource", reason="limits as Unix has them")
    every = request.config.getoption("--every-case")
    count, seconds = (ALL if every else SOME) // PIECES, 3600 if every else SECONDS
    command = [sys.executable, "-m", "tests.fuzz.through", str(piece * count), str(count), str(seconds)]
    ran = subprocess.run(
        command,
        capture_output=True,
        text=True,
        cwd=request.config.rootpath,
        env=os.environ | {"PYTHONPATH": os.pathsep.join(sys.path)},
    )
    assert ran.returncode == 0, ran.stderr
    said = json.loads(ran.stdout)
    assert not said["faults"], "\n\n".join(
        f"{fault['seed']} {fault['arguments']}\n{fault['wrong']}" for fault in said["faults"][:5]
    )
    ended = said["ended"]
    through = sum(number for how, number in ended.items() if how.endswith(" 0"))
    assert through > 0.4 * sum(ended.values()) > 40, ended
    assert {f"{name} {status}" for name in ("answer", "check", "postcard", "proof", "laws") for status in (0, 2)} <= ended.keys()
    assert not said["used"] or said["used"][-1] < said["used"][len(said["used"]) // 3] + 150, said["used"]
