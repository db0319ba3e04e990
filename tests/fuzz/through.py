"""``python -m tests.fuzz.through FIRST COUNT SECONDS``: so many inputs of the grammar through the command line, in one process.

Each may take `MOST` seconds of the processor, and all together `ROOM` bytes beyond what the process has when it begins. What it
prints is a line of JSON: how many came to an end in ``SECONDS``, by command and exit status, each fault with its input, and the
megabytes in use after every hundred.
"""

from __future__ import annotations

import io
import json
import resource
import signal
import sys
import tempfile
import time
import traceback
from collections import Counter
from contextlib import redirect_stderr, redirect_stdout
from functools import cache
from pathlib import Path

from oddswap.__main__ import main
from oddswap.commands import command_line
from tests.fuzz.grammar import case

MOST = 20
ROOM = 1_500_000_000


class TookTooLong(BaseException):
    """Nothing that is made for errors catches it."""


def _too_long(*_: object) -> None:
    raise TookTooLong


def tried(arguments: list[str]) -> tuple[int, str]:
    """The exit status, and what is wrong with how it ended."""
    with redirect_stdout(io.StringIO()) as out, redirect_stderr(io.StringIO()) as err:
        signal.setitimer(signal.ITIMER_VIRTUAL, MOST)
        try:
            status = main(arguments)
        except BaseException:
            return -1, traceback.format_exc()
        finally:
            signal.setitimer(signal.ITIMER_VIRTUAL, 0)
    said, complaint = out.getvalue(), err.getvalue()
    if status == 0:
        return 0, "" if said else "nothing was printed"
    refused = status == 2 and not said and complaint.startswith("oddswap: ") and complaint.count("\n") == 1
    return status, "" if refused and complaint[:-1].isprintable() else f"{status}: {complaint}"


def _pages(which: int) -> int:
    """Bytes of this process: all that it may use, or what it has in memory."""
    return int(Path("/proc/self/statm").read_text().split()[which]) * resource.getpagesize()


def through(first: int, count: int, seconds: float) -> dict:
    signal.signal(signal.SIGVTALRM, _too_long)
    command_line._parser = cache(command_line._parser)  # which a process of one command makes once, too
    stopped = []
    signal.signal(signal.SIGTERM, lambda *_: stopped.append(True))
    ended, faults, began, used = Counter(), [], time.process_time(), []
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        for seed in range(first, first + count):
            if stopped or time.process_time() - began > seconds:
                break
            arguments = case(seed, folder)
            status, wrong = tried(arguments)
            ended[f"{arguments[0]} {status}"] += 1
            if wrong:
                files = {path.name: path.read_text("utf-8") for path in folder.iterdir()}
                faults.append({"seed": seed, "arguments": arguments, "wrong": wrong, "files": files})
                print(json.dumps(faults[-1]), file=sys.stderr, flush=True)
            for path in folder.iterdir():
                path.unlink()
            if (seed - first) % 100 == 99:
                used.append(_pages(1) // 1_000_000)
    return {"ended": ended, "faults": faults, "used": used, "seconds": time.process_time() - began}


if __name__ == "__main__":
    size = _pages(0)
    resource.setrlimit(resource.RLIMIT_AS, (size + ROOM, size + ROOM))
    print(json.dumps(through(int(sys.argv[1]), int(sys.argv[2]), float(sys.argv[3]))))
