"""Frozen values: permutations, moves, holdings, arrangements and appearances. Main door: `parse`."""
