"""Relations among vectors over the integers modulo a prime power (a chain ring), by Howell's echelon form.

Source: J. A. Howell, Spans in the module (Z_m)^s, Linear and Multilinear Algebra 19 (1986) 67–77.
"""

import numpy as np


def relations(vectors: np.ndarray, orders: list[int], prime: int, power: int) -> list[np.ndarray]:
    """A triangular basis of all integer relations ``sum c_i * vectors[i] = 0 (mod prime**power)``.

    ``vectors`` (k, g); ``orders[i]`` is the order of vector i's coordinate, a power of ``prime``. Worked from the last
    vector to the first: for each, the least multiple that later ones can cancel, if it is less than its order. So each
    relation leads with its own vector, and the last vectors stay free.

    >>> [r.tolist() for r in relations(np.array([[1], [1], [1]]), [2, 2, 2], 2, 1)]
    [[1, 0, 1], [0, 1, 1]]
    """
    modulus, count = prime**power, len(vectors)
    echelon: dict[int, tuple[np.ndarray, np.ndarray]] = {}
    found: list[np.ndarray] = []
    for i in range(count - 1, -1, -1):
        combination = np.zeros(count, dtype=np.int64)
        combination[i] = 1
        multiple = 1
        while multiple < orders[i]:
            rest, trail = _reduced(vectors[i] * multiple % modulus, combination * multiple, echelon, prime, modulus)
            if not rest.any():
                found.append(np.array([c % order for c, order in zip(trail, orders, strict=True)]))
                break
            multiple *= prime
        _insert(vectors[i] % modulus, combination, echelon, prime, modulus)
    return found[::-1]


def _valuation(value: int, prime: int, modulus: int) -> int:
    count = 0
    while value % prime == 0 and prime**count < modulus:
        value //= prime
        count += 1
    return count


def _reduced(vector, combination, echelon, prime, modulus):
    for column in sorted(echelon):
        lead = int(vector[column])
        if not lead:
            continue
        row, trail = echelon[column]
        pivot = int(row[column])
        if lead % pivot == 0:
            factor = lead // pivot
            vector = (vector - factor * row) % modulus
            combination = (combination - factor * trail) % modulus
        else:
            break
    return vector, combination


def _insert(vector, combination, echelon, prime, modulus) -> None:
    pending = [(vector, combination)]
    while pending:
        vector, combination = pending.pop()
        while vector.any():
            column = int(vector.nonzero()[0][0])
            lead = int(vector[column])
            level = _valuation(lead, prime, modulus)
            unit = pow(lead // prime**level, -1, modulus)
            vector, combination = vector * unit % modulus, combination * unit % modulus
            if column not in echelon:
                echelon[column] = (vector, combination)
                rise = modulus // prime**level
                pending.append((vector * rise % modulus, combination * rise % modulus))
                break
            row, trail = echelon[column]
            if int(row[column]) <= int(vector[column]):
                factor = int(vector[column]) // int(row[column])
                vector = (vector - factor * row) % modulus
                combination = (combination - factor * trail) % modulus
            else:
                echelon[column] = (vector, combination)
                rise = modulus // prime**level
                pending.append((vector * rise % modulus, combination * rise % modulus))
                vector, combination = row, trail
