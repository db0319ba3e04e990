"""The start of the command line: nothing that takes time is imported before Ctrl-C is minded (see `command_line`)."""

import atexit
import gc
import sys

from oddswap.commands.stopping import stoppable


def main(arguments: list[str] | None = None) -> int:
    """Run the command line; returns the exit status."""
    atexit.register(gc.freeze)  # Python looks through all memory for rubbish when it ends, which takes a quarter of a second
    return stoppable(lambda: _run(arguments))


def _run(arguments: list[str] | None) -> int:
    from oddswap.commands.command_line import run

    return run(arguments)


if __name__ == "__main__":
    sys.exit(main())
