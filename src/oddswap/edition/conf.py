"""How Sphinx makes the edition's pages: nothing from elsewhere, formulas as MathML, a layout of the project's own."""

from pathlib import Path

from docutils import nodes
from docutils.utils.math.latex2mathml import tex2mathml
from sphinx.application import Sphinx

HERE = Path(__file__).parent

project = "oddswap"
html_title = "oddswap: the course"
language = "en"
extensions = ["myst_parser", "sphinx.ext.autodoc", "sphinx.ext.autosummary", "oddswap.edition.reference"]
autodoc_typehints = "none"
autodoc_preserve_defaults = True
autosummary_generate = False
default_role = "py:obj"
add_module_names = False
myst_enable_extensions = ["dollarmath"]
exclude_patterns = ["extra", "templates"]
templates_path = ["templates"]
html_theme = "basic"
html_math_renderer = "mathml"
html_extra_path = ["extra"]
html_static_path = ["edition.css", *(str(HERE / name) for name in ("edition.js", "edition_exercises.js", "edition_look_up.js"))]
html_css_files = ["edition.css"]
html_js_files = [("edition.js", {"defer": "defer"})]
html_permalinks = False
html_copy_source = False
html_show_sphinx = False
html_show_search_summary = False
html_search_scorer = str(HERE / "search_order.js")
html_use_index = False
html_domain_indices = False
pygments_style = "bw"


def setup(app: Sphinx) -> None:
    app.add_html_math_renderer("mathml", (_formula, None), (_formula, None))


def _formula(writer, node: nodes.math | nodes.math_block) -> None:
    writer.body.append(tex2mathml(node.astext(), as_block=isinstance(node, nodes.math_block)))
    raise nodes.SkipNode
