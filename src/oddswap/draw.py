"""Every picture under one roof: functions that return a matplotlib figure, what they are given, and `save` to write one."""

from oddswap.forwards import surface

__all__, __getattr__, __dir__ = surface(
    __name__,
    {
        "showing.ink.canvas": "save",
        "showing.ink.flat": "draw_flat",
        "showing.ink.widgets": "Note",
        "showing.pictures.alarm_poster": "draw_alarms",
        "showing.pictures.cycles": "draw_cycles draw_tally",
        "showing.pictures.shape_maps": "draw_map draw_names draw_walk",
        "showing.pictures.prints": "draw_next_view draw_prints",
        "showing.pictures.beside": "draw_beside draw_board_and_strings draw_boards draw_explanations draw_lifted "
        "draw_lifted_letters draw_shelf draw_verdicts draw_ways draw_xrays verdict_of",
        "showing.pictures.strings": "board_strings draw_strings",
        "showing.pictures.strip": "draw_move draw_strip",
        "story.clip": "Film loop_of",
        "story.storyboard": "Storyboard",
    },
)
