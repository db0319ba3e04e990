"""The desk on a page of its own, served by JupyterLab's server at ``/oddswap``: a few lines that start a kernel with it."""

from jupyter_server.base.handlers import JupyterHandler
from jupyter_server.utils import url_path_join
from tornado.web import authenticated

from oddswap.showing.pages.template import fill_template, script_data

LETTERS = "tickets"
"""The folder of the letters that wait, within that of the notebooks."""


class DeskPage(JupyterHandler):
    """The page; whoever opens it has said who they are, as for a notebook."""

    @authenticated
    def get(self) -> None:
        base = self.base_url
        lessons = url_path_join(base, "lab/tree/00_the_repair_table.ipynb")
        code = (
            f"from pathlib import Path\nfrom oddswap.desk.repair_table import desk\ntable = desk(Path({LETTERS!r}), {lessons!r})"
        )
        told = {"base": base, "code": code, "xsrf": self.xsrf_token.decode()}
        self.finish(fill_template(__file__, "desk.html", data=script_data(told)))


def _jupyter_server_extension_points() -> list[dict]:
    return [{"module": "oddswap.desk.served"}]


def _load_jupyter_server_extension(server) -> None:
    base = server.web_app.settings["base_url"]
    server.web_app.add_handlers(".*$", [(url_path_join(base, "oddswap"), DeskPage)])
