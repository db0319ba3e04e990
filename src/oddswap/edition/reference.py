"""The reference: what notebooks may import, from the docstrings, each name with its example and what that shows.

Sphinx loads this file as an extension; it reads the three public modules by their names.
"""

from collections.abc import Mapping
from doctest import DocTestParser
from importlib import import_module
from inspect import isclass
from pathlib import Path

from sphinx.application import Sphinx
from sphinx.errors import SphinxError

from oddswap.showing.ink.widgets import shown
from oddswap.showing.pages.template import fill_template
from oddswap.words.products.notebooks import VALUE

SURFACES = {
    "oddswap": "Puzzles, positions, verdicts and ways out",
    "oddswap.draw": "Every picture",
    "oddswap.lessons": "What the lessons use",
}
"""The modules for notebooks, and what each is for."""
NO_VALUE = "\n   :no-value:"
"""For a value that its example shows."""
FIGURE = "figure"
"""The name that an example gives to what it draws."""


def reference_pages(documented: Mapping[str, str]) -> dict[str, str]:
    """The pages of the reference by their file names, as sources for Sphinx: one a module, and one that leads to these."""
    pages = {f"reference_{module.replace('.', '_')}.rst": _page(module, title) for module, title in documented.items()}
    return {"reference.md": fill_template(__file__, "reference.md", order="\n".join(Path(name).stem for name in pages)), **pages}


def _page(module: str, title: str) -> str:
    public = import_module(module)
    entries = ((name, getattr(public, name)) for name in public.__all__)
    sorts = {name: "class" if isclass(value) else "function" if callable(value) else "data" for name, value in entries}
    return fill_template(
        __file__,
        "reference_page.rst",
        module=module,
        title=f"{title}: ``{module}``",
        line="=" * 99,
        names="\n".join(f"   {name}" for name in sorts),
        entries="\n\n".join(f".. auto{sort}:: {name}{NO_VALUE * (sort == 'data')}" for name, sort in sorts.items()),
    )


def show_outcome(app: Sphinx, what: str, name: str, value: object, options: object, lines: list[str]) -> None:
    """Beneath an example that draws: the figure, drawn by that very example. A value that is none of ours is shown as it is."""
    if what == "data":
        lines[:] = [VALUE, "", f">>> {name.rpartition('.')[2]}", repr(value)]
        return
    examples = DocTestParser().get_examples("\n".join(lines))
    if not any(example.source.startswith(f"{FIGURE} = ") for example in examples):
        return
    scope: dict[str, object] = {}
    try:
        for example in examples:
            exec(example.source, scope)
    except Exception as error:
        raise SphinxError(f"the example of {name} ends with an error: {error}") from None
    picture, size = shown(scope[FIGURE])
    (Path(app.srcdir) / "pictures" / f"{name}.png").write_bytes(picture)
    lines += ["", f".. image:: pictures/{name}.png", f"   :alt: What {name} draws here", f"   :width: {size['width']}px", ""]


def setup(app: Sphinx) -> dict[str, bool]:
    app.connect("autodoc-process-docstring", show_outcome)
    return {"parallel_read_safe": True}
