"""``python -m tests.fuzz.long_life NOTEBOOK ROUNDS``: a lesson whose controls are turned through all their values many times.

What it prints is a line of JSON: the megabytes in use after each round, and whether the last round showed what the second did.
"""

from __future__ import annotations

import gc
import json
import sys
from hashlib import sha256
from pathlib import Path

import ipywidgets
import nbformat
import psutil
from IPython.core.interactiveshell import InteractiveShell


def sheets(path: Path) -> list[ipywidgets.Box]:
    """What a lesson shows that has controls in it."""
    shell, shown = InteractiveShell.instance(), []
    shell.display_pub.publish = lambda *args, **kwargs: None
    shell.displayhook.finish_displayhook = lambda: None
    for cell in nbformat.read(path, as_version=4).cells:
        if cell.cell_type == "code":
            run = shell.run_cell(cell.source)
            run.raise_error()
            shown += [run.result] if isinstance(run.result, ipywidgets.Box) else []
    return shown


def parts(widget):
    yield widget
    for child in getattr(widget, "children", ()):
        yield from parts(child)


def settings(control) -> list:
    """The values that a hand can give a control."""
    if isinstance(control, ipywidgets.IntSlider):
        return list(range(control.min, control.max + 1))
    return [value for _, value in getattr(control, "_options_full", ())]


def round_of(shown: list[ipywidgets.Box]) -> list[str]:
    """Turn every control through its values; what was to be seen each time."""
    seen = []
    for sheet in shown:
        for control in list(parts(sheet)):
            for value in settings(control):
                control.value = value
                pictures = (one.value for one in parts(sheet) if isinstance(one, ipywidgets.Image | ipywidgets.HTML))
                seen.append(sha256(repr(list(pictures)).encode()).hexdigest())
    return seen


def main(path: Path, rounds: int) -> dict:
    shown, process, used, seen = sheets(path), psutil.Process(), [], []
    for _ in range(rounds):
        seen.append(round_of(shown))
        gc.collect()
        used.append(process.memory_info().rss // 1_000_000)
    return {"used": used, "turned": len(seen[1]), "same": seen[1] == seen[-1], "different": len({*seen[-1]})}


if __name__ == "__main__":
    print(json.dumps(main(Path(sys.argv[1]), int(sys.argv[2]))))
