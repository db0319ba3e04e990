"""Puzzles that lock: the shape that their pieces make together decides which turns there are. Main doors: `wedges`, `joined`."""
