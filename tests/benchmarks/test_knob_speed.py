"""How long each control of each lesson takes to answer, in milliseconds of one processor core: a hand wants it below 100.

Each notebook is run in a process of its own. Then every control in it is set to each of its values, once; what a knob has made
before it remembers, so the first time is the one that counts. Run with ``pytest tests/benchmarks/test_knob_speed.py -s``.
"""

import json
import subprocess
import sys
from pathlib import Path

import pytest

FOLDER = Path(__file__).parents[2] / "notebooks"
LESSONS = sorted(FOLDER.glob("[0-9][0-9]_*.ipynb"))

MEASURE = """
import json, sys, time
import ipywidgets, nbformat
from IPython.core.interactiveshell import InteractiveShell

shell = InteractiveShell.instance()
shell.display_pub.publish = lambda *args, **kwargs: None
shell.displayhook.finish_displayhook = lambda: None
shown = []
for number, cell in enumerate(nbformat.read(sys.argv[1], as_version=4).cells):
    if cell.cell_type == "code":
        run = shell.run_cell(cell.source)
        run.raise_error()
        shown.append((f"of cell {number}", run.result))

def parts(widget):
    yield widget
    for child in getattr(widget, "children", ()):
        yield from parts(child)

def values(control):
    if isinstance(control, (ipywidgets.IntSlider, ipywidgets.SelectionSlider)):
        return range(control.min, control.max + 1) if hasattr(control, "min") else [v for _, v in control._options_full]
    return [v for _, v in control._options_full] if hasattr(control, "_options_full") else []

spent, seen = {}, set()
for name, sheet in shown:
    if isinstance(sheet, ipywidgets.Box) and id(sheet) not in seen:
        seen.add(id(sheet))
        for control in list(parts(sheet)):
            for value in values(control):
                before = time.process_time()
                control.value = value
                took = 1000 * (time.process_time() - before)
                said = control.description or type(control).__name__
                spent[f"{type(sheet).__name__} {name}, {said}: {value!s:.40}"] = round(took)
print(json.dumps(spent))
"""


@pytest.mark.parametrize("path", LESSONS, ids=lambda path: path.stem)
def test_every_value_of_every_control(path):
    run = subprocess.run([sys.executable, "-c", MEASURE, path.name], cwd=path.parent, capture_output=True, text=True, check=True)
    spent = json.loads(run.stdout.splitlines()[-1])
    assert spent
    slowest = sorted(spent.items(), key=lambda item: -item[1])[:8]
    print("", path.stem, *(f"  {took:6} ms  {control}" for control, took in slowest), sep="\n")
