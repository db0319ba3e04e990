"""Whether compiled loops can be used now: those that an earlier run kept load at once, others take seconds to compile."""

from __future__ import annotations

import os
import sys
from contextlib import suppress
from pathlib import Path

from platformdirs import user_cache_path

from oddswap.reasoning.budget import Clock


def usable(clock: Clock, file: str, *loops: str) -> bool:
    """Whether the loops of a file, such as ``search/word_kernels``, are at hand, or there is time to compile them."""
    return clock.compiles or all(_loaded(file, loop) or _kept(file, loop) for loop in loops)


def _loaded(file: str, loop: str) -> bool:
    """Whether this process has compiled or loaded it."""
    module = sys.modules.get(f"oddswap.reasoning.{file.replace('/', '.')}")
    return bool(module and getattr(module, loop).signatures)


def _kept(file: str, loop: str) -> bool:
    """Whether an index of it, not older than the file, lies where `compiled_kernel.compiled` has it kept."""
    source = (Path(__file__).parents[1] / file).with_suffix(".py")
    places = [source.parent / "__pycache__", Path(os.environ.get("NUMBA_CACHE_DIR") or source.parent / "__pycache__")]
    with suppress(RuntimeError, OSError):  # no home, or a folder that may not be read
        places.append(user_cache_path("numba", appauthor=False))
        patterns = f"{source.stem}.{loop}-*.nbi", f"*/{source.stem}.{loop}-*.nbi"
        kept = [index for place in places for pattern in patterns for index in place.glob(pattern)]
        return any(index.stat().st_mtime >= source.stat().st_mtime for index in kept)
    return False
