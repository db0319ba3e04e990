"""Puzzles that a file describes. Main door: `custom`."""
