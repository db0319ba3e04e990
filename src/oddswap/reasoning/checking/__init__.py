"""Sequences that somebody tried, places that were lost, positions seen before. Main door: `check`."""
