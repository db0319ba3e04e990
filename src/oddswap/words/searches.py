"""What a search says in words: why it ended, what counts as one turn, and what became of a file in the cache."""

from __future__ import annotations

from typing import TYPE_CHECKING

from oddswap.reasoning.budget import Reached
from oddswap.reasoning.search import levels
from oddswap.reasoning.search.kept_files import VERSION, ThrownAway
from oddswap.reasoning.search.levels import Counted
from oddswap.words.table import EXPLAINER, Reader, say, says, says_so

if TYPE_CHECKING:
    from oddswap.reasoning.search.shortest import Way
    from oddswap.reasoning.ways.way_out import Route

says_so(
    {
        levels.ShorterExcluded: "every shorter way was excluded",
        levels.AllStatesSeen: "all states that these turns reach were seen, and none is a goal",
        levels.PiecesKeptAway: "no turns that are allowed bring some of the pieces to a goal, whatever the others do",
        levels.TooManyLooks: "the puzzle is too large to be searched: at most 256 slots with 256 looks fit",
        levels.TimeUsedUp: "the time of {0.seconds:g} s ended before longer ways were tried",
    }
)
UNITS = {
    "slab": "a turn of one slab by any amount counts as one; turns allowed",
    "slabs": "a turn of one slab by any amount, or of several together from a face, counts as one; turns allowed",
    "slide": "the slide of one piece counts as one; slides allowed",
    "move": "a move done or undone once counts as one; moves allowed",
}
HELD = {"": "", "throughout": "; held in one way throughout", "as it is": "; held as it is"}
FAULTS = {
    "short": "was cut short",
    "long": "was too long",
    "other": "was not the one that its name says",
    "version": f"was of version {{0.version}}, not {VERSION}",
    "damaged": "was damaged, or made by somebody else",
}


@says(levels.MemoryUsedUp)
def memory_words(ending: levels.MemoryUsedUp, reader: Reader = EXPLAINER) -> str:
    return f"longer ways need more memory than {ending.bytes / 1e9:g} GB"


PARTS = {
    "verdict": "whether what is not seen decides: the time ended before all that it can be was looked at",
    "views": "photographs to ask for: {0.bound} were chosen before the time ended, and more may be needed",
    "surprise": "how often it happens: the time ended before that was counted",
    "repair": "the smallest repair by hand: the time ended before one was found",
    "appearances": "what can be told apart by eye: the time ended before that was counted",
    "slips": "slips of the description: the time ended before all were tried",
    "open box": "a way home of the open box: the time ended, and none of fewer than {0.bound} turns exists",
    "way out": "the shortest way out: the time ended, and none of fewer than {0.bound} turns exists",
    "outside": "ways that leave the box: the time ended before all were tried",
    "ways told": "easier ways out: the time ended before all were compared",
    "tools": "tools: the time ended, and there may be more and shorter ones",
    "alarms": "alarms: {0.bound} were judged before the time ended, and others are left out",
}


@says(Reached)
def reached_words(reached: Reached, reader: Reader = EXPLAINER) -> str:
    """How far a part came that was cut short."""
    return PARTS[reached.part].format(reached)


@says(ThrownAway)
def thrown_away_words(thrown: ThrownAway, reader: Reader = EXPLAINER) -> str:
    """What was wrong with a file of the cache."""
    fault = FAULTS[thrown.fault].format(thrown)
    return f"the file {thrown.file} in the cache {fault}, so it was thrown away and its data made anew"


@says(Counted)
def counted_words(counted: Counted, reader: Reader = EXPLAINER) -> str:
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
