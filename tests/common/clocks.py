"""Clocks for tests: one that never ends, and one that is spent after so many looks at it."""

from itertools import count

from oddswap.reasoning.budget import Budget, Clock

PLENTY = Budget(1e9, 10**15).start()


def ends_after(polls: int) -> Clock:
    """A clock whose time is up all at once, when it was looked at so many times; parts that it lends end with it."""
    looks = count()
    return Budget(1e6, 10**15).start(lambda: 0.0 if next(looks) <= polls else 1e9)
