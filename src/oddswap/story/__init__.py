"""What explains one ticket: beats, clip, captions, prompter, handout. Main door: `write_story_files`."""
