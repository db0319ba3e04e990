"""Five hundred puzzle files with mistakes: each is a puzzle still, or is refused in one sentence."""

import random

import pytest

from oddswap.errors import OddswapError
from oddswap.puzzles.catalogue import load
from tests.puzzles.files.test_custom import TRIANGLE, TWISTS, WHEELS

WORDS = ["[", "]", "=", '"', "'", "(", ")", "+1", "+9", "-", "1", "A", "a", "{", "}", ",", "# ", "\n", "\0", "é", "\u202e"]
WORDS += ["nan", "true", "1e999", "-5", "0x" + "f" * 4000, "a.b = 1", "twist = 2", "hands = 6", "looks = {}"]
WORDS += ["[[kind]]", "[graph]", "[moves]", "[places]", "[" * 2000, "{a=" * 900, "a." * 9000, "9" * 5000, '"""', "'''"]


def spoilt(seed):
    """One of the samples after one to six random edits."""
    rng = random.Random(seed)
    text = rng.choice([TRIANGLE, TWISTS, WHEELS])
    for _ in range(rng.randint(1, 6)):
        at, length = rng.randrange(len(text) + 1), rng.choice([0, 0, 1, 1, 3, 12])
        lines = text.split("\n")
        match rng.randrange(5):
            case 0:
                text = text[:at] + text[at + length :]
            case 1:
                text = text[:at] + rng.choice(WORDS) + text[at + length :]
            case 2:
                text = "\n".join(rng.sample(lines, len(lines)))
            case 3:
                text = "\n".join([*lines, rng.choice(lines)])
            case 4:
                one, other = rng.choice("123456ABCXYabcd"), rng.choice("123456ABCXYabcd")
                text = text.replace(one, other, rng.randint(1, 3))
    return text.encode("utf-8") if rng.random() < 0.95 else text.encode("utf-8") + bytes([rng.randrange(128, 256)])


def test_five_hundred_files(tmp_path):
    refused = 0
    for seed in range(500):
        path = tmp_path / f"{seed}.toml"
        path.write_bytes(spoilt(seed))
        try:
            puzzle = load(f"custom:{path}")
        except OddswapError as error:
            refused += 1
            assert str(error).isprintable() and len(str(error)) < 400, seed
            continue
        assert puzzle.appearance(puzzle.solved).complete
        for turn in puzzle.turns.values():
            assert sorted(turn.permutation.tolist()) == list(range(puzzle.degree)), seed
    assert 250 < refused < 480


@pytest.mark.parametrize("seed", range(40))
def test_random_bytes(tmp_path, seed):
    path = tmp_path / "noise.toml"
    path.write_bytes(random.Random(seed).randbytes(200))
    with pytest.raises(OddswapError) as caught:
        load(f"custom:{path}")
    assert str(caught.value).isprintable()
