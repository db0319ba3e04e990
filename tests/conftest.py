"""A browser for every room of tests that looks at pages: one in a process, for Playwright starts only once in it."""

import shutil

import pytest

FLAGS = [
    "--no-sandbox",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--enable-unsafe-swiftshader",
]
PATIENCE = 90
"""Seconds that any one step may take."""
DESK = {"viewport": {"width": 1280, "height": 800}}


@pytest.fixture(scope="session")
def browser():
    playwright = pytest.importorskip("playwright.sync_api", reason="needs the extra `browser`")
    chromium = shutil.which("chromium") or shutil.which("chromium-browser")
    if chromium is None:
        pytest.skip("needs Chromium: apt-get install chromium")
    with playwright.sync_playwright() as tools:
        started = tools.chromium.launch(executable_path=chromium, args=FLAGS)
        yield started
        started.close()


@pytest.fixture
def sheet(browser, request):
    """A page without any server; it fails the test if anything was asked of another place or an error was reported."""
    context = browser.new_context(**getattr(request, "param", DESK))
    context.set_default_timeout(PATIENCE * 1000)
    opened, elsewhere, errors = context.new_page(), [], []
    opened.on("request", lambda asked: None if asked.url.startswith(("file:", "data:", "blob:")) else elsewhere.append(asked.url))
    opened.on("console", lambda said: errors.append(said.text) if said.type == "error" else None)
    opened.on("pageerror", lambda error: errors.append(str(error)))
    yield opened
    context.close()
    assert (elsewhere, errors) == ([], [])
