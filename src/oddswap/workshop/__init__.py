"""An evening at the tables: sheets with keys, envelopes, cut-outs, the guide. Main door: `write_workshop`."""
