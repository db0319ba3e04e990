"""Viewers on a page, in a notebook or alone with their model's values: where their points lie, and what they show."""

import time

import nbformat
import numpy as np

from oddswap.showing.ink.camera import cameras, reach
from oddswap.showing.pages.folders import viewer_page
from tests.browser.conftest import PATIENCE
from tests.browser.test_lab import ALL_RUN, CONNECTED, READY

ASK = """code => window.jupyterapp.shell.currentWidget.sessionContext.session.kernel
    .requestExecute({code: '', silent: false, user_expressions: {it: code}}).done
    .then(reply => reply.content.user_expressions.it)"""
STILL = """() => [...document.querySelectorAll('.oddswap-viewer')].every(root => {
    const viewer = root.parentElement.oddswap;
    return !viewer.turning && !viewer.queue.length && viewer.shown.labels.every((x, j) => x === viewer.target.labels[j]);
})"""
SHOWN = "() => document.querySelector('.oddswap-viewer').parentElement.oddswap.shown.labels"
WITHOUT_WEBGL = """
    const { getContext } = HTMLCanvasElement.prototype;
    HTMLCanvasElement.prototype.getContext = function (kind, ...more) {
        return kind.startsWith('webgl') ? null : getContext.call(this, kind, ...more);
    };"""


def notebook_with(page, lab, *cells):
    """A new notebook of these cells, run from top to bottom."""
    notebook = nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell(cell) for cell in cells])
    notebook.metadata["kernelspec"] = {"name": "python3", "display_name": "Python 3", "language": "python"}
    nbformat.write(notebook, lab.folder / "viewer.ipynb")
    page.goto(lab.url("viewer.ipynb"))
    page.wait_for_function(CONNECTED)
    page.evaluate(READY)
    page.evaluate("() => { window.jupyterapp.commands.execute('notebook:run-all-cells'); }")
    page.wait_for_function(ALL_RUN)
    page.wait_for_selector(".oddswap-viewer")


def said(page, expression):
    """What Python says to an expression, as its repr."""
    reply = page.evaluate(ASK, expression)
    assert reply["status"] == "ok", reply
    return reply["data"]["text/plain"]


def comes_to_say(page, expression, answer):
    """Wait until Python says this: what a widget sends goes a way of its own, and a question may overtake it."""
    end = time.monotonic() + PATIENCE
    while said(page, expression) != answer and time.monotonic() < end:
        page.wait_for_timeout(100)
    assert said(page, expression) == answer


def alone(page, viewer, tmp_path):
    """A page with one viewer and no Python behind it."""
    traits = {name: value for name, value in viewer.get_state().items() if not name.startswith("_")} | {"answers": False}
    page_alone = viewer_page(traits, "", "", title="A viewer", headline="A viewer", heading="Alone")
    (tmp_path / "viewer.html").write_text(page_alone, "utf-8")
    page.goto((tmp_path / "viewer.html").as_uri())
    page.wait_for_selector(".oddswap-viewer[data-first]")


def spot(page, puzzle, point, which=0):
    """Where on the screen a point (3,) in half-edges is on a print, by the camera of the printed pictures."""
    camera = cameras(puzzle)[which]
    x, y = camera.project(np.array(point)) / reach(puzzle) * 0.97
    box = page.locator(".oddswap-viewer canvas").nth(which).bounding_box()
    return box["x"] + box["width"] * (1 + x) / 2, box["y"] + box["height"] * (1 - y) / 2
