"""Puzzles, derived from their geometry or their rules. Main door: `load`."""
