"""Frozen values: permutations, sequences of moves, holdings, arrangements and appearances."""
