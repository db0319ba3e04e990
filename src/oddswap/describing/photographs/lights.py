"""The palette of a copy and the light on each of its sides, fitted together, and the odds of each facet's colours.

In logarithms the light that a sticker sends back from a side is the sticker's plus the light's there, plus a little that both
have to do with: lamps differ in more than warmth. What the camera shows is that and a floor of stray light, below which it is
blind. All these are taken to be normal, and found by the method of Gauss and Newton, so that their own uncertainty goes into the
odds. Which sticker a facet is, is not known: the method is that of Dempster, Laird and Rubin (J. R. Stat. Soc. B 39 (1977) 1),
with a noise that starts large and shrinks. Facets stray as Student's t has it. What fits no sticker, such as a finger, goes to a
class of its own. Nothing is known here of pieces, turns or laws.
"""

from dataclasses import dataclass

import numpy as np

from oddswap.describing.photographs.measured import BASIS, FLOOR

NOISE, START = np.array([0.08, 0.03, 0.025]), 10.0
"""Standard deviations of a facet's colour across the basis, and how many times as large they are at first."""
STRAY, FADED = 0.002, 0.012
"""How much linear light a camera adds of its own, and what part of a white sticker's light fading and glare add: as a rule."""
TAIL = 5.0
"""Degrees of freedom of Student's t."""
PHOTO, SIDE = np.array([1.5, 0.5, 0.2]), np.array([1.0, 0.35, 0.12])
"""How far the light of a photograph may be from daylight, and that of a side from its photograph's."""
ALIKE = 0.2
"""What part of a side's own warmth is allowed at first: a side of one colour does not say whether it or its light is warm."""
OTHER, LAMP = np.array([0.2, 0.2, 0.12]), np.array([0.1, 0.1, 0.06])
"""How far a sticker may look otherwise than its colour and the light say: in one photograph, and on one side."""
STRANGE, VOLUME = 0.01, 6.0
"""How often a facet is covered by something else, and the volume that this may take up among colours."""
DEAREST, ROUNDS = 4.0, 4
"""What a colour may cost, as a logarithm of odds, that shows on too many places; how often prices are set in each step."""
STEPS, COOLING, SETTLING = 32, 20, 5


@dataclass(frozen=True, eq=False)
class Fitted:
    """``odds`` (facets, colours + 1), the last for none of them; the ``palette`` (colours, 3); ``worth``, as a logarithm."""

    odds: np.ndarray
    palette: np.ndarray
    worth: float


@dataclass(frozen=True, eq=False)
class Facets:
    """Facets as they were measured: ``seen`` (n, 3); ``side`` (n,) numbers sides of the solid photograph by photograph, and
    ``photo`` (sides,) says in which a side is. ``share`` (n,) is one over how often each one's place is seen.
    """

    seen: np.ndarray
    side: np.ndarray
    photo: np.ndarray
    share: np.ndarray


def fit(
    facets: Facets,
    palette: np.ndarray,
    loose: np.ndarray,
    hint: np.ndarray,
    most: np.ndarray | int,
    lit: np.ndarray | float = 0.0,
) -> Fitted:
    """The odds of facets' colours. ``palette`` (k, 3) is what the colours are likely to be, ``loose`` (3,) how loosely.

    ``hint`` (n, k) is a logarithm of odds that is known beforehand, ``most`` (k,) on how many places each colour is when all is
    whole, ``lit`` (sides, 3) the light, in logarithms, that is tried first.
    """
    side, photo, count, sides = facets.side, facets.photo, len(palette), len(facets.photo)
    priors = [_precision(photo, count, loose, share) for share in (ALIKE, 1.0)]
    expected, own = np.tile(palette, (sides, 1)).ravel(), np.arange(sides * count)
    at, unsure = expected + np.repeat(np.broadcast_to(lit, (sides, 3)), count, axis=0).ravel(), np.zeros((sides * count, 3, 3))
    price, most = np.zeros(count), np.broadcast_to(most, count)
    for step in range(STEPS):
        prior = priors[step >= COOLING + SETTLING]
        warm = START ** max(0, 1 - step / COOLING)
        light = np.exp(at).reshape(-1, 3)
        slope = light / (light + FLOOR)
        pale = FADED * (light.reshape(sides, count, 3).max(axis=1)[:, None] / light.reshape(sides, count, 3)).reshape(-1, 3)
        scatter = (BASIS.T * (warm * NOISE) ** 2 @ BASIS) + pale[:, :, None] * pale[:, None] + unsure
        variance = slope[:, :, None] * scatter * slope[:, None] + np.eye(3) * ((warm * STRAY / (light + FLOOR)) ** 2)[:, None]
        inverse = np.linalg.inv(variance).reshape(sides, count, 3, 3)[side]
        off = facets.seen[:, None] - np.log(light + FLOOR).reshape(sides, count, 3)[side]
        far = np.einsum("nki,nkij,nkj->nk", off, inverse, off)
        volume = np.linalg.slogdet(2 * np.pi * variance)[1].reshape(sides, count)[side]
        likely = np.empty((len(off), count + 1))
        likely[:, :count] = -0.5 * ((TAIL + 3) * np.log1p(far / TAIL) + volume) + np.log((1 - STRANGE) / count) + hint
        likely[:, count] = np.log(STRANGE / VOLUME)
        odds, total, price = _priced(likely, facets.share, most, price)
        weight = odds[:, :count] * (TAIL + 3) / (TAIL + far)
        each, pulled = np.zeros((sides, count, 3, 3)), np.zeros((sides, count, 3))
        np.add.at(each, side, weight[..., None, None] * inverse)
        np.add.at(pulled, side, weight[..., None] * np.einsum("nkij,nkj->nki", inverse, off))
        each = slope[:, :, None] * each.reshape(-1, 3, 3) * slope[:, None]
        precision = prior.copy().reshape(sides * count, 3, sides * count, 3)
        precision[own, :, own, :] += each
        spread = np.linalg.inv(precision.reshape(len(at), len(at)))
        strain = prior @ (at - expected)
        worth = total - float((at - expected) @ strain) / 2
        at = at + np.clip(spread @ ((slope * pulled.reshape(-1, 3)).ravel() - strain), -1.5, 1.5)
        unsure = spread.reshape(sides * count, 3, sides * count, 3)[own, :, own, :]
    odds = np.exp(likely - np.logaddexp.reduce(likely, axis=1, keepdims=True))  # without prices: they help to find, not to read
    return Fitted(odds, at.reshape(sides, count, 3).mean(axis=0), worth)


def _priced(likely: np.ndarray, share: np.ndarray, most: np.ndarray, price: np.ndarray) -> tuple[np.ndarray, float, np.ndarray]:
    """Odds where no colour is on more places than it has, for a ``price``; with them what they are worth, and the next price.

    A price is a multiplier of Lagrange's and at most `DEAREST`, so that what is surely seen is never talked out of it.
    """
    for _ in range(ROUNDS):
        paid = likely - np.append(price, 0.0)
        total = np.logaddexp.reduce(paid, axis=1, keepdims=True)
        odds = np.exp(paid - total)
        price = np.clip(price + np.log(np.maximum(share @ odds[:, :-1], 1e-9) / most), 0.0, DEAREST)
    return odds, float(total.sum() + price @ most), price


def _precision(photo: np.ndarray, count: int, loose: np.ndarray, share: float) -> np.ndarray:
    """What is known beforehand of each colour on each side, in logarithms, if the sides' light differs by a share of `SIDE`."""
    together, alone = photo[:, None] == photo, np.eye(len(photo))
    parts = []
    for c, side in enumerate(SIDE * [1, share, share]):
        sticker = loose[c] ** 2 + together * OTHER[c] ** 2 + alone * LAMP[c] ** 2
        light = together * PHOTO[c] ** 2 + alone * side**2
        covariance = np.kron(sticker, np.eye(count)) + np.kron(light, np.ones((count, count)))
        parts.append(np.kron(np.linalg.inv(covariance), np.outer(BASIS[c], BASIS[c])))
    return sum(parts)
