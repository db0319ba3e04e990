"""Ways out and set-ups, for every puzzle and within seconds. Main door: `way_out`."""
