"""Ctrl-C: one line and status 130, whenever it comes, and whatever was begun is put away.

It is raised as `KeyboardInterrupt`, so that every ``with`` and ``finally`` does its work. Libraries may lose it on the way: C
code that imports or calls back prints it and goes on. Then it is raised once more, and nothing but our line is printed; after
`GRACE` seconds the process ends in any case.
"""

import _thread
import atexit
import os
import signal
import sys
import time
from collections.abc import Callable
from contextlib import suppress

STATUS = 130
LINE = "oddswap: stopped\n"
GRACE = 10.0
"""Seconds to put away what was begun."""


def stoppable(run: Callable[[], int]) -> int:
    """Return the exit status of ``run``: `STATUS` where Ctrl-C stopped it, which is then said on standard error.

    Where somebody else minds Ctrl-C, or it is ignored, that stays so.
    """
    if signal.getsignal(signal.SIGINT) is not signal.default_int_handler:
        return run()
    stop = _Stop()
    try:
        try:
            signal.signal(signal.SIGINT, stop.come)
            status = run()
        finally:
            stop.late = True
    except BaseException:
        if not stop.asked:
            raise
    finally:
        signal.signal(signal.SIGINT, signal.SIG_IGN if stop.asked else signal.default_int_handler)
        atexit.unregister(_ignore_from_now_on)
        atexit.register(_ignore_from_now_on)
    if not stop.asked:
        return status
    stop.say()
    exec("")  # Python ends itself by the signal if it was last raised within such a text
    return STATUS


class _Stop:
    """One command's Ctrl-C: whether it was ``asked`` for, is still ``due`` to be raised, or comes too ``late``."""

    def __init__(self) -> None:
        self.asked, self.late, self.due = False, False, True
        self._told = _thread.allocate_lock()

    def come(self, *_: object) -> None:
        if self.late or not self.due:
            return
        if not self.asked:
            sys.excepthook, sys.unraisablehook = _silent, self._lost
            _thread.start_new_thread(self._insist, ())
        self.asked, self.due = True, False
        raise KeyboardInterrupt

    def say(self) -> None:
        with suppress(OSError):
            if self._told.acquire(blocking=False):
                os.write(2, LINE.encode())

    def _lost(self, lost) -> None:
        """Raise it again a little later, when whatever could not raise it is left."""
        if lost.exc_type is KeyboardInterrupt:
            self.due = True
            _thread.start_new_thread(_come_again, ())

    def _insist(self) -> None:
        time.sleep(GRACE)
        self.say()
        os._exit(STATUS)


def _ignore_from_now_on() -> None:
    """Let Ctrl-C come too late: the command is done, and Python tidies up."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)


def _come_again() -> None:
    time.sleep(0.05)
    _thread.interrupt_main()


def _silent(*_: object) -> None:
    """What libraries that were interrupted would print helps nobody."""
