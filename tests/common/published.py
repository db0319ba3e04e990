"""Values from outside the project, kept in `reference/*.json` with their sources.

Each entry names its `source` and its `status`: *read* in the source, *second-hand* in a text that quotes it, *computed*
independently, from *memory*, or a fact of the *practice* that needs no source.
"""

import json
from pathlib import Path

FOLDER = Path(__file__).parents[1] / "reference"
STATUSES = {"read", "second-hand", "computed", "memory", "practice"}


def published(name: str) -> list[dict]:
    """The entries of one file; each must say where it comes from."""
    entries = json.loads((FOLDER / f"{name}.json").read_text("utf-8"))
    for entry in entries:
        assert entry["source"].strip() and entry["status"] in STATUSES, entry
    return entries


def cases(name: str, *keys: str) -> list[tuple]:
    """The entries of one file as rows for a parametrised test."""
    return [tuple(entry[key] for key in keys) for entry in published(name)]
