"""The repair table in a notebook: what I see, the workbench, paper tickets. Main door: `workbench`."""
