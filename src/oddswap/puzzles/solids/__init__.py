"""Solids cut by planes, from which pieces, slots, kinds, twists and turns follow. Main door: `cut_solid`."""
