"""Every picture under one roof: each function returns a matplotlib figure, and `save` writes it."""

from oddswap.showing.alarm_poster import draw_alarms
from oddswap.showing.canvas import save
from oddswap.showing.cycles import draw_cycles
from oddswap.showing.flat import draw_flat
from oddswap.showing.names import draw_names
from oddswap.showing.prints import draw_prints
from oddswap.showing.strip import draw_strip
from oddswap.showing.tallies import draw_tally

__all__ = ["draw_alarms", "draw_cycles", "draw_flat", "draw_names", "draw_prints", "draw_strip", "draw_tally", "save"]
