"""How long each control of each lesson takes to answer, in milliseconds of one processor core: a hand wants it below 100.

Each notebook is run in a process of its own. Then every control in it is set to each of its values, once; what a knob has made
before it remembers, so the first time is the one that counts. The clock stops when the last picture or text has been sent;
a search for waste that was put off until then is not in the way. Run with ``pytest tests/benchmarks/test_knob_speed.py -s``.
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

def settings(control):
    # What a hand can do to a control: a word for it, and the deed.
    if isinstance(control, ipywidgets.IntSlider):
        values = range(control.min, control.max + 1)
    elif isinstance(control, ipywidgets.ToggleButton):
        values = True, False
    elif isinstance(control, ipywidgets.Button):
        return [("click", control.click)]
    else:
        values = [value for _, value in getattr(control, "_options_full", ())]
    return [(f"{value!s:.40}", lambda value=value: setattr(control, "value", value)) for value in values]

spent, sent = {}, 0.0

def note(change):
    global sent
    sent = time.process_time()

for name, sheet in shown:
    if isinstance(sheet, ipywidgets.Box):
        for part in parts(sheet):
            if isinstance(part, (ipywidgets.Image, ipywidgets.HTML)):
                part.observe(note, "value")
        for control in list(parts(sheet)):
            said = control.description if getattr(control, "description", "") else type(control).__name__
            for word, deed in settings(control):
                before = sent = time.process_time()
                deed()
                spent[f"{type(sheet).__name__} {name}, {said}: {word}"] = round(1000 * (sent - before))
print(json.dumps(spent))
"""


@pytest.mark.parametrize("path", LESSONS, ids=lambda path: path.stem)
def test_every_value_of_every_control(path):
    run = subprocess.run([sys.executable, "-c", MEASURE, path.name], cwd=path.parent, capture_output=True, text=True, check=True)
    spent = json.loads(run.stdout.splitlines()[-1])
    assert spent
    slowest = sorted(spent.items(), key=lambda item: -item[1])[:8]
    print("", path.stem, *(f"  {took:6} ms  {control}" for control, took in slowest), sep="\n")
