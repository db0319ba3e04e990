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
            rest, trail = _reduced(vectors[i] * multiple % modulus, combination * multiple, echelon, modulus)
            if not rest.any():
                found.append(np.array([c % order for c, order in zip(trail, orders, strict=True)]))
                break
            multiple *= prime
        _insert(vectors[i] % modulus, combination, echelon, prime, modulus)
    return found[::-1]


def prime_divisors(number: int) -> list[int]:
    """The primes that divide a number, in order.

    >>> prime_divisors(12)
    [2, 3]
    """
    return [p for p in range(2, number + 1) if number % p == 0 and all(p % q for q in range(2, p))]


def exponent(number: int, prime: int) -> int:
    """How often a prime divides a number other than 0."""
    count = 0
    while number % prime == 0:
        number, count = number // prime, count + 1
    return count


def _reduced(vector, combination, echelon, modulus):
    for column in sorted(echelon):
        if lead := int(vector[column]):
            row, trail = echelon[column]
            factor, rest = divmod(lead, int(row[column]))
            if rest:
                break
            vector, combination = (vector - factor * row) % modulus, (combination - factor * trail) % modulus
    return vector, combination


def _insert(vector, combination, echelon, prime, modulus) -> None:
    pending = [(vector, combination)]
    while pending:
        vector, combination = pending.pop()
        if not vector.any():
            continue
        column = int(vector.nonzero()[0][0])
        pivot = prime ** exponent(int(vector[column]), prime)
        unit = pow(int(vector[column]) // pivot, -1, modulus)
        vector, combination = vector * unit % modulus, combination * unit % modulus
        row, trail = echelon.get(column, (None, None))
        if row is not None and row[column] <= vector[column]:
            factor = int(vector[column]) // int(row[column])
            pending.append(((vector - factor * row) % modulus, (combination - factor * trail) % modulus))
        else:
            echelon[column] = vector, combination
            rise = modulus // pivot
            pending.append((vector * rise % modulus, combination * rise % modulus))
            pending += [] if row is None else [(row, trail)]
