"""What all reasoning has in common: one budget of time and memory, and findings, of which `words` make sentences.

A `Budget` is the request, a `Clock` runs it down.

Whatever can take long is given a clock and polls ``spent``; it then returns what it has and says what it reached. What was
cut short is kept nowhere.
"""

from __future__ import annotations

import os
import re
import sys
from collections import OrderedDict
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from functools import wraps
from math import inf
from mmap import PAGESIZE
from pathlib import Path
from time import process_time
from typing import ClassVar, dataclass_transform

from platformdirs import user_cache_path


@dataclass_transform(frozen_default=True)
class Finding:
    """What reasoning says: a frozen value, its fields the typed data, and a ``code`` by which programs know its kind.

    The code is the name of its class, in small letters with hyphens, unless the class gives it another.

    >>> class TooLate(Finding):
    ...     minutes: int
    >>> TooLate(5), TooLate.code
    (TooLate(minutes=5), 'too-late')
    """

    code: ClassVar[str]

    def __init_subclass__(cls, order: bool = False) -> None:
        if "code" not in vars(cls):
            cls.code = re.sub(r"\B(?=[A-Z])", "-", cls.__name__).lower()
        dataclass(frozen=True, order=order)(cls)


LOOK = 0.05
"""The memory is looked at once in so many seconds."""

COMPILING = 8.0
"""With fewer seconds left nothing is compiled: one inner loop takes some seconds."""

AROUND = 250_000_000
"""Bytes that libraries and compiled loops take for themselves when they are first used; they are not counted."""


@dataclass(frozen=True)
class Budget:
    """How much may be used: ``seconds`` of the processor's time in all threads, ``bytes`` of memory.

    >>> Budget(seconds=2).bytes
    2000000000
    """

    seconds: float = 60.0
    bytes: int = 2_000_000_000

    def start(self, now: Callable[[], float] = process_time) -> Clock:
        """Return a clock on which this budget runs down from here; ``now`` says how many seconds were used."""
        return Clock(self, self.seconds, now)


class Reached(Finding):
    """A part of an answer that was cut short: its name, and how far it came, counted in what the part counts."""

    part: str
    bound: int | None = None


class Clock:
    """A ``budget`` that runs down, or a share of it: ``seconds`` are what there was at the start.

    >>> clock = Budget(10.0).start()
    >>> clock.spent, clock.share(0.5).seconds <= 5.0
    (False, True)
    """

    def __init__(self, budget: Budget, seconds: float, now: Callable[[], float], lender: Clock | None = None):
        self.budget, self.seconds, self._now, self._lender = budget, seconds, now, lender
        self._began = self._looked = now()
        self._held = lender._held if lender else resident()
        self._full = False

    @property
    def used(self) -> float:
        """The seconds used since the start."""
        return self._now() - self._began

    @property
    def left(self) -> float:
        """The seconds left; zero where the memory is used up."""
        now = self._now()
        if now - self._looked > LOOK:
            self._looked, self._full = now, resident() - self._held > self.budget.bytes + AROUND
        return 0.0 if self._full else max(0.0, self.seconds - (now - self._began))

    @property
    def spent(self) -> bool:
        """Whether the time or the memory is used up."""
        return self.left <= 0

    @property
    def compiles(self) -> bool:
        """Whether there is time enough to compile an inner loop: in all, for what is made in a share serves the rest, too."""
        return self._lender.compiles if self._lender else self.left >= COMPILING

    def reached(self, part: str, bound: int | None = None) -> tuple[Reached, ...]:
        """Return how far a part came, if this clock is spent; nothing if it was done in time."""
        return (Reached(part, bound),) if self.spent else ()

    def share(self, part: float, most: float = inf) -> Clock:
        """Lend a part of what is left, at most so many seconds, from here."""
        return Clock(self.budget, min(part * self.left, most), self._now, self)


Limit = Budget | Clock | None
"""What callers name: a budget that starts now, a clock that runs already, or nothing for the usual budget."""


def started(budget: Limit) -> Clock:
    """Return the clock itself, or one that starts now; the usual budget where none is named."""
    return budget if isinstance(budget, Clock) else (budget or Budget()).start()


def cached(most: int) -> Callable[[Callable], Callable]:
    """Return a decorator that keeps the last ``most`` results of a function whose last argument is a clock.

    What was made on a clock that is now spent may have been cut short: it is not kept.
    """

    def keeping(make: Callable) -> Callable:
        kept: OrderedDict[tuple, object] = OrderedDict()

        @wraps(make)
        def call(*given):
            key, clock = given[:-1], given[-1]
            if key in kept:
                kept.move_to_end(key)
                return kept[key]
            made = make(*given)
            if not clock.spent:
                kept[key] = made
            if len(kept) > most:
                kept.popitem(last=False)
            return made

        call.cache_clear = kept.clear
        return call

    return keeping


def usable(clock: Clock, file: str, *loops: str) -> bool:
    """Whether the loops of a file, such as ``search/word_kernels``, are at hand, or there is time to compile them."""
    return clock.compiles or all(_loaded(file, loop) or _kept(file, loop) for loop in loops)


def _loaded(file: str, loop: str) -> bool:
    """Whether this process has compiled or loaded it."""
    module = sys.modules.get(f"oddswap.reasoning.{file.replace('/', '.')}")
    return bool(module and getattr(module, loop).signatures)


def _kept(file: str, loop: str) -> bool:
    """Whether an index of it, not older than the file, lies where `compiled_kernel.compiled` has it kept."""
    source = (Path(__file__).parent / file).with_suffix(".py")
    chosen = os.environ.get("NUMBA_CACHE_DIR")
    places = [Path(chosen) if chosen else source.parent / "__pycache__"]
    with suppress(RuntimeError, OSError):  # no home, or a folder that may not be read
        places += [] if chosen else [user_cache_path("numba", appauthor=False)]
        patterns = f"{source.stem}.{loop}-*.nbi", f"*/{source.stem}.{loop}-*.nbi"
        kept = [index for place in places for pattern in patterns for index in place.glob(pattern)]
        return any(index.stat().st_mtime >= source.stat().st_mtime for index in kept)
    return False


def resident() -> int:
    """Return the bytes of memory that the process holds; 0 where the system does not say."""
    try:
        with open("/proc/self/statm", "rb") as told:
            return int(told.read().split()[1]) * PAGESIZE
    except OSError:
        return 0
