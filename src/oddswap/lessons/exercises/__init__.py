"""Exercises that check themselves and hint at what was overlooked. Main door: `check_changes`."""
