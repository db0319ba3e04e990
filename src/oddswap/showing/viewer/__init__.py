"""The widget that a puzzle is turned in, and its module for browsers. Main door: `Viewer`."""
