"""Boxes whose turns may leave their outline and come back. Main door: `box_puzzle`."""
