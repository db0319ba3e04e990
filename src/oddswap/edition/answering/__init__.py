"""Guesses, controls and exercises that a page itself answers, with their checkers as data. Main door: `played`."""
