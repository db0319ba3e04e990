"""Ways as a teacher tells them: tools, phases, plans. Main door: `toolbox`."""
