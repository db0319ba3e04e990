"""JupyterLab on a folder of its own, and Debian's Chromium to look at it. Nothing leaves the machine."""

import os
import secrets
import shutil
import socket
import subprocess
import sys
import time
from dataclasses import dataclass
from pathlib import Path
from urllib.error import URLError
from urllib.request import urlopen

import pytest

from tests.conftest import DESK, PATIENCE

NOTEBOOKS = Path(__file__).parents[2] / "notebooks"
TABLET = DESK | {"has_touch": True}
PHONE = {"viewport": {"width": 390, "height": 500}, "has_touch": True, "is_mobile": True}
NARROW = {"viewport": {"width": 360, "height": 740}, "has_touch": True, "is_mobile": True}
on_tablet = pytest.mark.parametrize("page", [TABLET], indirect=True, ids=["tablet"])
on_phone = pytest.mark.parametrize("sheet", [PHONE], indirect=True, ids=["phone"])
"""What a test's page is opened on in place of a desk."""


@dataclass(frozen=True)
class Lab:
    """The JupyterLab of `oddswap lab`, which serves a copy of the notebooks."""

    address: str
    token: str
    folder: Path
    settings: Path
    """Where the user's own choices are kept; empty until they make one."""

    @property
    def desk(self) -> str:
        return f"{self.address}/oddswap?token={self.token}"

    def url(self, notebook: str) -> str:
        return f"{self.address}/lab/tree/{notebook}?token={self.token}"


def coloured(sheet, scheme):
    """Ask for a light or a dark page and wait for two frames: styles change at once, but scripts are told with the next frame."""
    sheet.emulate_media(color_scheme=scheme)
    sheet.evaluate("() => new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))")


@pytest.fixture
def page(browser, lab, request):
    """A page as wide as people use; it fails the test if anything was asked of another machine."""
    context = browser.new_context(**getattr(request, "param", DESK))
    context.set_default_timeout(PATIENCE * 1000)
    opened, elsewhere = context.new_page(), []
    opened.on("request", lambda request: None if local(request.url, lab) else elsewhere.append(request.url))
    yield opened
    context.close()
    assert elsewhere == []


def local(url: str, lab: Lab) -> bool:
    return url.startswith((lab.address, lab.address.replace("http", "ws"), "data:", "blob:"))


@pytest.fixture
def lab(tmp_path):
    """What `oddswap lab` starts, for somebody who has set nothing of their own yet, beside a copy of the notebooks."""
    folder = tmp_path / "notebooks"
    shutil.copytree(NOTEBOOKS, folder, ignore=shutil.ignore_patterns(".ipynb_checkpoints"))
    own = {
        "JUPYTER_CONFIG_DIR": tmp_path / "config",
        "JUPYTER_DATA_DIR": tmp_path / "data",
        "JUPYTER_RUNTIME_DIR": tmp_path / "runtime",
        "JUPYTERLAB_SETTINGS_DIR": tmp_path / "settings",
        "JUPYTERLAB_WORKSPACES_DIR": tmp_path / "workspaces",
        "IPYTHONDIR": tmp_path / "ipython",
    }
    port, token = free_port(), secrets.token_hex(8)
    command = [sys.executable, "-m", "oddswap", "lab", "--no-browser", "--allow-root", f"--ServerApp.port={port}"]
    command += [f"--IdentityProvider.token={token}", "--LabApp.expose_app_in_browser=True"]
    settings = os.environ | {name: str(path) for name, path in own.items()}
    with (tmp_path / "lab.log").open("w") as log:
        server = subprocess.Popen(command, cwd=tmp_path, env=settings, stdout=log, stderr=log)
        try:
            served = Lab(f"http://127.0.0.1:{port}", token, folder, own["JUPYTERLAB_SETTINGS_DIR"])
            wait_for(served, server)
            yield served
        finally:
            server.terminate()
            try:
                server.wait(timeout=20)
            except subprocess.TimeoutExpired:  # now and then JupyterLab waits for ever for one of its threads
                server.kill()
                server.wait()


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


def wait_for(lab: Lab, server: subprocess.Popen) -> None:
    end = time.monotonic() + PATIENCE
    while time.monotonic() < end and server.poll() is None:
        try:
            with urlopen(f"{lab.address}/api/status?token={lab.token}", timeout=5):
                return
        except (URLError, OSError):
            time.sleep(0.2)
    raise RuntimeError("JupyterLab did not start: see lab.log in the test's folder")
