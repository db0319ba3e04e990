"""Sentences that can be spoken: notes, and long sentences in short ones."""

import re

from oddswap.values.grammar import capital

BREATH = 12
"""So many words are said in one go at most, where a sentence has a joint."""
JOINT = re.compile(r"[;:,] (?:and then |and |so )?| (?=(?:and|or|where|which|because|though|although|if|than) )")


def spoken(note: str) -> list[str]:
    """A note as short sentences that can be spoken."""
    return in_short(f"{note.rstrip('.').replace(' × 10^', ' times ten to the power of ')}.")


def in_short(*texts: str) -> list[str]:
    """Sentences of at most `BREATH` words, cut at their joints, the one nearest to the middle first.

    >>> in_short("Every turn keeps the flipped edges even in number, and here you can see just one of them.")
    ['Every turn keeps the flipped edges even in number.', 'Here you can see just one of them.']
    """
    return [short for text in texts for sentence in re.split(r"(?<=[.?!]) |; ", text) for short in _cut(sentence)]


def _cut(sentence: str) -> list[str]:
    count = sum(word.strip("(.,:;?!)").replace("-", "").isalnum() for word in sentence.split())
    joints = list(JOINT.finditer(sentence))
    if count <= BREATH or not joints:
        return [f"{capital(sentence).rstrip('.,;:')}{'' if sentence[-1] in '?!…' else '.'}"]
    uneven = lambda joint: abs(2 * joint.start() - len(sentence)) + (0 if joint[0].strip() else len(sentence) / 3)  # noqa: E731
    at = min(joints, key=uneven)
    goes_on = ("…", "… ") if at[0] == ", " else ("", "")
    return _cut(f"{sentence[: at.start()]} {goes_on[0]}".rstrip()) + _cut(goes_on[1] + sentence[at.end() :])
