"""The palette of a copy and the light on each of its sides, fitted together, and the odds of each facet's colours.

In logarithms the colour that a sticker shows on a side is that of the sticker plus that of the light there, plus a little that
both have to do with: lamps differ in more than warmth. All these are taken to be normal, and found in one linear system, so that
their own uncertainty goes into the odds. Which sticker a facet is, is not known: the method is that of Dempster, Laird and Rubin
(J. R. Stat. Soc. B 39 (1977) 1), with a noise that starts large and shrinks. What fits no sticker, such as a finger, goes to a
class of its own. Nothing is known here of pieces, turns or laws.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

NOISE, START = np.array([0.10, 0.04, 0.035]), 10.0
"""Standard deviations of a facet's colour across the basis, and how many times as large they are at first."""
TRUST = 100.0
"""For how many facets it counts that noise is as a rule so large."""
PHOTO, SIDE = np.array([1.5, 0.5, 0.15]), np.array([1.0, 0.25, 0.1])
"""How far the light of a photograph may be from daylight, and that of a side from its photograph's."""
OTHER, LAMP = np.array([0.2, 0.2, 0.12]), np.array([0.1, 0.1, 0.06])
"""How far a sticker may look otherwise than its colour and the light say: in one photograph, and on one side."""
STRANGE, VOLUME = 0.01, 6.0
"""How often a facet is covered by something else, and the volume that this may take up among colours."""
STEPS, COOLING = 40, 25
WEIGHED = 4.0
"""How much worth counts as an e-fold: less than in theory, as lights are never quite normal."""


@dataclass(frozen=True, eq=False)
class Fitted:
    """``odds`` (facets, colours + 1), the last for none of them; the ``palette`` (colours, 3); ``worth``, as a logarithm."""

    odds: np.ndarray
    palette: np.ndarray
    worth: float


@dataclass(frozen=True, eq=False)
class Facets:
    """Facets as they were measured: ``seen`` (n, 3), ``spread`` (n, 3); ``side`` (n,) numbers sides of the solid photograph by
    photograph, and ``photo`` (sides,) says in which a side is.
    """

    seen: np.ndarray
    spread: np.ndarray
    side: np.ndarray
    photo: np.ndarray


def fit(facets: Facets, palette: np.ndarray, loose: np.ndarray, hint: np.ndarray | float = 0.0) -> Fitted:
    """The odds of facets' colours. ``palette`` (k, 3) is what the colours are likely to be, ``loose`` (3,) how loosely.

    ``hint`` (n, k) is a logarithm of odds that is known beforehand.
    """
    seen, spread, side, photo = facets.seen, facets.spread, facets.side, facets.photo
    count, sides = len(palette), len(photo)
    together, alone = photo[:, None] == photo, np.eye(sides)
    prior = np.array(
        [
            np.linalg.inv(
                np.kron(loose[c] ** 2 + together * OTHER[c] ** 2 + alone * LAMP[c] ** 2, np.eye(count))
                + np.kron(together * PHOTO[c] ** 2 + alone * SIDE[c] ** 2, np.ones((count, count)))
            )
            for c in range(3)
        ]
    )
    expected = np.tile(palette, (sides, 1))
    at, unsure, noise = expected, np.zeros((sides * count, 3)), NOISE * START
    for step in range(STEPS):
        off = (seen[:, None] - at.reshape(sides, count, 3)[side]) ** 2
        variance = noise**2 + spread[:, None] ** 2 + unsure.reshape(sides, count, 3)[side]
        likely = np.empty((len(seen), count + 1))
        likely[:, :count] = -0.5 * (off / variance + np.log(2 * np.pi * variance)).sum(axis=2) + np.log((1 - STRANGE) / count)
        likely[:, :count] += hint
        likely[:, count] = np.log(STRANGE / VOLUME)
        total = np.logaddexp.reduce(likely, axis=1, keepdims=True)
        odds = np.exp(likely - total)
        weight = odds[:, :count, None] / (noise**2 + spread[:, None] ** 2)
        each, pulled = np.zeros((sides, count, 3)), np.zeros((sides, count, 3))
        np.add.at(each, side, weight)
        np.add.at(pulled, side, weight * seen[:, None])
        each, pulled, found = each.reshape(-1, 3), pulled.reshape(-1, 3), np.zeros_like(at)
        for c in range(3):
            inverse = np.linalg.inv(prior[c] + np.diag(each[:, c]))
            found[:, c] = inverse @ (prior[c] @ expected[:, c] + pulled[:, c])
            unsure[:, c] = np.diag(inverse)
        at = found
        left = ((seen[:, None] - at.reshape(sides, count, 3)[side]) ** 2 * odds[:, :count, None]).sum(axis=(0, 1))
        fitted = np.sqrt((TRUST * NOISE**2 + left) / (TRUST + odds[:, :count].sum()))
        noise = np.maximum(fitted, NOISE * START ** max(0, 1 - (step + 1) / COOLING))
    strain = sum(float((at - expected)[:, c] @ prior[c] @ (at - expected)[:, c]) for c in range(3))
    return Fitted(odds, at.reshape(sides, count, 3).mean(axis=0), float(total.sum()) - strain / 2)


def agreed(fits: Sequence[Fitted]) -> Fitted:
    """The fits, which number colours alike, weighed by their worth: where good ones differ, no colour is sure."""
    worth = np.array([one.worth for one in fits])
    weight = np.exp((worth - worth.max()) / WEIGHED)
    odds = np.tensordot(weight / weight.sum(), np.array([one.odds for one in fits]), 1)
    return Fitted(odds, fits[int(worth.argmax())].palette, float(worth.max()))
