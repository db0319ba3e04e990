"""Pictures that a reader sees; each function returns a figure. Main door: `draw_prints`."""
