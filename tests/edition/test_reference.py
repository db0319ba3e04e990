"""The reference names all that notebooks may import, and shows of each an example that runs and what comes of it."""

from __future__ import annotations

import ast
import builtins
import doctest
import re
from importlib import import_module
from inspect import getdoc
from types import SimpleNamespace

import pytest
from PIL import Image
from sphinx.errors import SphinxError

from oddswap.edition.reference import SURFACES, reference_pages, show_outcome

PAGES = reference_pages(SURFACES)
OTHER_SURFACES = [("oddswap", "draw"), ("oddswap", "lessons")]
PUBLIC = [(module, name) for module in SURFACES for name in import_module(module).__all__]


@pytest.mark.parametrize("module", SURFACES)
def test_every_public_name_has_an_entry_and_a_line_in_the_summary(module):
    page = PAGES[f"reference_{module.replace('.', '_')}.rst"]
    names = import_module(module).__all__
    assert re.findall(r"^\.\. auto(?:class|function|data):: (\w+)$", page, re.MULTILINE) == names
    assert re.findall(r"^   (\w+)$", page, re.MULTILINE) == names


@pytest.mark.parametrize("module, name", PUBLIC)
def test_every_public_function_and_class_has_an_example(module, name):
    value = getattr(import_module(module), name)
    assert not callable(value) or doctest.DocTestParser().get_examples(getdoc(value)), "pytest runs them where they stand"


@pytest.mark.parametrize("module, name", PUBLIC)
def test_an_example_names_nothing_that_a_notebook_cannot_import(module, name):
    known = {"__name__", *dir(builtins), *(public for _, public in PUBLIC)}
    for example in doctest.DocTestParser().get_examples(getdoc(getattr(import_module(module), name)) or ""):
        for node in ast.walk(ast.parse(example.source)):
            if isinstance(node, ast.ImportFrom) and node.module.split(".")[0] == "oddswap":
                assert {(node.module, alias.name) for alias in node.names} <= {*PUBLIC, *OTHER_SURFACES}
            if isinstance(node, ast.Import | ast.ImportFrom):
                known |= {alias.asname or alias.name for alias in node.names}
            if isinstance(node, ast.arg):
                known.add(node.arg)
        names = [node for node in ast.walk(ast.parse(example.source)) if isinstance(node, ast.Name)]
        known |= {node.id for node in names if isinstance(node.ctx, ast.Store)}
        assert {node.id for node in names} <= known


def shown(what, name, value, text, folder):
    """What Sphinx is given for a docstring, with pictures in a folder."""
    (folder / "pictures").mkdir(exist_ok=True)
    lines = text.splitlines()
    show_outcome(SimpleNamespace(srcdir=folder), what, name, value, None, lines)
    return lines


@pytest.mark.parametrize("name", ["draw_strip", "draw_worlds"])
def test_beneath_an_example_that_draws_stands_its_picture(name, tmp_path):
    module = "oddswap.draw" if name == "draw_strip" else "oddswap.lessons"
    value = getattr(import_module(module), name)
    lines = shown("function", f"{module}.{name}", value, getdoc(value), tmp_path)
    assert f".. image:: pictures/{module}.{name}.png" in lines
    with Image.open(tmp_path / "pictures" / f"{module}.{name}.png") as picture:
        assert len(picture.convert("RGB").getcolors(99_999)) > 5


def test_an_example_that_does_not_draw_is_left_alone_and_a_value_is_shown(tmp_path):
    assert shown("function", "oddswap.x", len, "Words.\n\n>>> 1 + 1\n2", tmp_path) == ["Words.", "", ">>> 1 + 1", "2"]
    assert shown("data", "oddswap.lessons.TWO", (1, 2), "tuple() -> ...", tmp_path)[-2:] == [">>> TWO", "(1, 2)"]


def test_an_example_that_fails_stops_the_build(tmp_path):
    with pytest.raises(SphinxError, match="the example of oddswap.x ends with an error: division by zero"):
        shown("function", "oddswap.x", len, ">>> figure = 1 / 0", tmp_path)
