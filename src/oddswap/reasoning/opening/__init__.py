"""Boxes out of their outline and back: what that mends, and in how few turns. Main door: `ways_map`."""
