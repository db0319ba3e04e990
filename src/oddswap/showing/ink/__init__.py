"""Brushes: colours, paper, points of view, and how a puzzle is painted. Main door: `paint`."""
