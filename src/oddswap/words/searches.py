"""What a search says in words: why it ended, what counts as one turn, and what became of a file in the cache."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oddswap.reasoning.budget import Reached
from oddswap.reasoning.search import levels
from oddswap.reasoning.search.kept_files import VERSION, ThrownAway
from oddswap.reasoning.search.levels import Counted
from oddswap.words.table import say, says
from oddswap.words.texts import TEXTS

if TYPE_CHECKING:
    from oddswap.reasoning.search.shortest import Way
    from oddswap.reasoning.ways.way_out import Route

UNITS = TEXTS["units"]
HELD = TEXTS["held"]
FAULTS = TEXTS["faults"]


PARTS = TEXTS["cut short"]
"""How far a part came that was cut short."""


@says(ThrownAway)
def thrown_away_words(thrown: ThrownAway) -> str:
    """What was wrong with a file of the cache."""
    fault = FAULTS[thrown.fault].format(thrown, VERSION)
    return f"the file {thrown.file} in the cache {fault}, so it was thrown away and its data made anew"


@says(levels.MemoryUsedUp)
def memory_words(ending: levels.MemoryUsedUp) -> str:
    return f"longer ways need more memory than {ending.bytes / 1e9:g} GB"


@says(Reached)
def reached_words(reached: Reached) -> str:
    """How far a part came that was cut short."""
    return PARTS[reached.part].format(reached)


@says(Counted)
def counted_words(counted: Counted) -> str:
    """What counts as one turn, and which turns were allowed."""
    which = f"all {len(counted.allowed)} of {counted.of}" if counted.of else " ".join(counted.allowed)
    return f"{UNITS[counted.unit]}: {which}{HELD[counted.held]}"


def reason_words(way: Way | Route) -> str:
    """Why a search ended as it did, and what else there is to say of it."""
    return "; ".join(map(say, way.reasons))


def counting_words(way: Way | Route) -> str:
    """What counts as one turn; empty where the search was one of other things than turns."""
    return say(way.counted) if way.counted else ""


def proved_words(way: Way | Route) -> str:
    """What is proved of the length of a way that was found."""
    return "proved shortest" if way.shortest else f"at least {way.lower_bound} are needed"
