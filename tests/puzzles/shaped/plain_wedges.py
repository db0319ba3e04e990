"""Wedges that lock in plain integers: what lies on each unit of two layers, and nothing of the package.

A position is (top, bottom, flipped): each layer is a tuple of wedge numbers, unit by unit from the cut in front to the right and
round, the bottom's units beneath those of the top; ``flipped`` is whether the right half of the middle slab is.
"""

from collections import deque
from itertools import pairwise


def at_home(top, bottom):
    """The position at home of two lists of widths; wedges are numbered from 0."""
    numbers, layers = iter(range(1000)), []
    for widths in (top, bottom):
        layers.append(tuple(number for width, number in zip(widths, numbers, strict=False) for _ in range(width)))
    return (*layers, False)


def is_free(layer):
    """Whether no wedge lies across the cut."""
    half = len(layer) // 2
    return layer[-1] != layer[0] and layer[half - 1] != layer[half]


def turned(position, turn):
    """The position after ``("top", x)``, ``("bottom", y)``, clockwise as seen from outside, or ``("half", 1)``; else None."""
    (top, bottom, flipped), (what, n) = position, turn
    if what == "top":
        return top[n:] + top[:n], bottom, flipped
    if what == "bottom":
        return top, bottom[-n:] + bottom[:-n], flipped
    half = len(top) // 2
    if not (is_free(top) and is_free(bottom)):
        return None
    return bottom[:half][::-1] + top[half:], top[:half][::-1] + bottom[half:], not flipped


def turns(units):
    """Every turn."""
    return [*(("top", n) for n in range(1, units)), *(("bottom", n) for n in range(1, units)), ("half", 1)]


def distances(start, most=10**6):
    """How many turns each position is from ``start``, all that there are, or None if they are more than ``most``."""
    found, queue = {start: 0}, deque([start])
    while queue:
        here = queue.popleft()
        for turn in turns(len(start[0])):
            after = turned(here, turn)
            if after is not None and after not in found:
                found[after] = found[here] + 1
                queue.append(after)
        if len(found) > most:
            return None
    return found


def lying(position):
    """For each wedge its layer, its first unit and its width."""
    places = {}
    for layer, units in zip("UD", position[:2], strict=True):
        n = len(units)
        begins = [i for i in range(n) if units[i - 1] != units[i]]
        for first, following in pairwise([*begins, begins[0] + n]):
            places[units[first]] = layer, first, following - first
    return places


def slot_name(layer, first, width, units):
    """What the package calls that slot."""
    return f"{layer}{first + 1}" if width == 1 else f"{layer}{first + 1}-{(first + width - 1) % units + 1}"


def shape(position):
    """Where wedges of which width lie."""
    return frozenset(lying(position).values())


def written(word):
    """Plain turns as the package reads them."""
    signs = {"top": "({},0)", "bottom": "(0,{})", "half": "/"}
    return " ".join(signs[what].format(n) for what, n in word)
