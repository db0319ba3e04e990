"""Machine code for inner loops, kept for the next run where there is a place for it. Importing it imports numba."""

from collections.abc import Callable
from pathlib import Path

from numba import config, njit


def compiled(loop: Callable) -> Callable:
    """The loop as machine code, which lets go of Python's lock. It is made anew in each run where no folder can keep it.

    It is kept beside the loop's file, else in the user's cache folder, or where ``NUMBA_CACHE_DIR`` says.
    """
    if config.CACHE_DIR or _has_home():
        try:
            return njit(cache=True, nogil=True)(loop)
        except RuntimeError:  # no folder can be written to
            pass
    return njit(nogil=True)(loop)


def _has_home() -> bool:
    """Whether the system knows the user's home: numba would make a folder called ~ where one works."""
    try:
        return bool(Path.home())
    except RuntimeError:
        return False
