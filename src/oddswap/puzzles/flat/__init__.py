"""Puzzles without a solid: tiles, graphs, loops and rings. Main door: `tiles`."""
