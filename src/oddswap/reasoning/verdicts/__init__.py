"""Can it be, which piece is not what it seems, and what repairs it. Main door: `diagnose`."""
