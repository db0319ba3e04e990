"""Complete walks over small puzzles: every reachable state by its depth, found without any group theory."""

import numpy as np


def depths(puzzle):
    """For a sliding puzzle, the states at each distance from solved, as rows of the pieces in the slots."""
    n = len(puzzle.slots)
    place_value = n ** np.arange(n, dtype=np.int64)
    level = np.arange(n)[None]
    seen = level @ place_value
    levels = [level]
    while len(level):
        found = []
        for turn in puzzle.turns.values():
            one, other = sorted(turn.slots)
            movable = level[(level[:, one] == puzzle.blank) | (level[:, other] == puzzle.blank)].copy()
            movable[:, [one, other]] = movable[:, [other, one]]
            found.append(movable)
        level = np.concatenate(found)
        keys, first = np.unique(level @ place_value, return_index=True)
        fresh = ~np.isin(keys, seen)
        level, seen = level[first[fresh]], np.concatenate([seen, keys[fresh]])
        levels.append(level)
    return levels[:-1]


def parities(rows):
    """For each row, a permutation, 1 where it is odd: by counting the pairs in the wrong order."""
    n = rows.shape[1]
    return sum((rows[:, i] > rows[:, j]).astype(int) for j in range(n) for i in range(j)) % 2


def all_states(permutations):
    """Every product of permutations (tuples of images), as a set."""
    start = tuple(range(len(permutations[0])))
    seen, edge = {start}, [start]
    while edge:
        edge = {tuple(p[i] for i in state) for state in edge for p in permutations} - seen
        seen |= edge
    return seen
