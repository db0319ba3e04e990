"""Every picture under one roof: functions that return a matplotlib figure, what they are given, and `save` to write one."""

from oddswap.forwards import surface

_WHERE = {
    "Note": "showing.ink.notes",
    "board_strings": "showing.pictures.strings",
    "draw_alarms": "showing.pictures.alarm_poster",
    "draw_beside": "showing.pictures.beside",
    "draw_board_and_strings": "showing.pictures.beside",
    "draw_boards": "showing.pictures.beside",
    "draw_cycles": "showing.pictures.cycles",
    "draw_explanations": "showing.pictures.lifted",
    "draw_flat": "showing.ink.flat",
    "draw_lifted": "showing.pictures.lifted",
    "draw_lifted_letters": "showing.pictures.lifted",
    "draw_move": "showing.pictures.moves",
    "draw_names": "showing.pictures.names",
    "draw_next_view": "showing.pictures.next_view",
    "draw_prints": "showing.pictures.prints",
    "draw_storyboard": "story.storyboard",
    "draw_strings": "showing.pictures.strings",
    "draw_strip": "showing.pictures.strip",
    "draw_tally": "showing.pictures.tallies",
    "draw_verdicts": "showing.pictures.verdicts",
    "draw_ways": "showing.pictures.ways_figure",
    "draw_xrays": "showing.pictures.xrays",
    "save": "showing.ink.canvas",
}
"""Each name and the module that it is loaded from on first use."""

__all__ = sorted(_WHERE)
__getattr__ = surface(__name__, _WHERE)


def __dir__() -> list[str]:
    return __all__
