"""A story as data, and laid out in time: beats, their file, captions, the view. Main doors: `story_of`, `timeline`."""
