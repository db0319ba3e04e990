"""Every picture under one roof: each function returns a matplotlib figure, and `save` writes it."""

from oddswap.showing.ink.canvas import save
from oddswap.showing.ink.flat import draw_flat
from oddswap.showing.pictures.alarm_poster import draw_alarms
from oddswap.showing.pictures.cycles import draw_cycles
from oddswap.showing.pictures.names import draw_names
from oddswap.showing.pictures.prints import draw_prints
from oddswap.showing.pictures.strip import draw_strip
from oddswap.showing.pictures.tallies import draw_tally

__all__ = ["draw_alarms", "draw_cycles", "draw_flat", "draw_names", "draw_prints", "draw_strip", "draw_tally", "save"]
