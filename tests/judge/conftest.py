"""A browser for what a page checks by itself."""

from tests.browser.conftest import browser, sheet

__all__ = ["browser", "sheet"]
