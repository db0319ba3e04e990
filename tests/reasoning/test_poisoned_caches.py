"""What lies in the cache and was not made by this user's own runs changes no verdict, bound or way, however well it fits.

Each file is made by the program itself with its data turned into a lie: another user's runs would believe it, and do.
"""

import io
import json

import numpy as np
import pytest

from oddswap.puzzles.catalogue import load
from oddswap.reasoning.opening import ways_map
from oddswap.reasoning.search import deepening, kept_files
from oddswap.reasoning.search.coordinates import FAR
from oddswap.reasoning.teaching import toolbox
from tests.reasoning.search.sliding import job_of


def bounds_of_tables():
    job = job_of(load("tiles:4x4"))
    pattern = deepening.patterns(job.moves, job.goals, 1 << 16)[0]
    found, _ = deepening.table(job.moves, job.goals, pattern, lambda: None)
    return found.counts.tolist()


def too_high(data):
    counts = np.frombuffer(data, np.uint8)
    return np.where(counts < FAR, np.minimum(2 * counts.astype(int) + 9, FAR - 1), FAR).astype(np.uint8).tobytes()


def ways_out_of_a_box():
    found = ways_map.ways_map(load("cuboid:1x3x3"), 6)
    return found.complete, [(way.status, way.moves, way.at_least) for way in found.ways]


def nothing_found(data):
    kept, held = dict(np.load(io.BytesIO(data))), io.BytesIO()
    np.savez(held, **{name: part for name, part in kept.items() if not name.startswith("to ")} | {"proved": 6})
    return held.getvalue()


def tools():
    toolbox._kept.cache_clear()
    return [tool.moves for tool in toolbox.toolbox(load("cube:2"))]


LIES = {
    bounds_of_tables: (deepening, too_high),
    ways_out_of_a_box: (ways_map, nothing_found),
    tools: (toolbox, lambda data: json.dumps([["U", "R"]]).encode()),
}


@pytest.mark.parametrize("asked", LIES, ids=lambda asked: asked.__name__)
def test_a_poisoned_cache_changes_nothing(asked, monkeypatch, tmp_path):
    monkeypatch.setattr(deepening, "KEPT", 1000)
    monkeypatch.setenv(kept_files.VARIABLE, "")
    honest = asked()
    monkeypatch.setenv(kept_files.VARIABLE, str(tmp_path / "cache"))
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "theirs"))
    room, lie = LIES[asked]
    with monkeypatch.context() as patch:
        patch.setattr(room, "store", lambda key, data: kept_files.store(key, lie(bytes(data))))
        assert asked() == honest
    poison = {path: path.read_bytes() for path in (tmp_path / "cache").iterdir()}
    assert poison and asked() != honest, "whoever has their secret believes it"
    for path, data in poison.items():
        path.write_bytes(data)
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "ours"))
    assert asked() == honest
    assert asked() == honest, "from our own files, which came in their place"
