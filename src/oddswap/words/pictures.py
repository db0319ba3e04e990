"""What stands beneath a picture on a page, by what the picture shows."""

CAPTIONS = {
    "puzzle": "The puzzle, solved",
    "names": "What the slots are called",
    "wall": "The same on one page for the wall",
    "wall_names": "What the slots are called",
    "ways": "The families and their shortest excursions, turn by turn",
    "seen": "What is seen",
    "described": "What you described",
    "tally": "The tally: what each move does to what the laws count",
    "xray": "The x-ray: where a culprit can hide",
    "next_view": "The photograph to ask for first: from where to take it, and what it will show",
    "strip": "The easiest way out, move by move",
    "shapes": "What it should look like after each turn that changes its shape",
    "came_about": "How it can have come about, from solved, turn by turn",
}
NOT_SHOWN = "What its slots are called is shown on a picture, which the option `--out DIR` draws."
"""Instead of the picture with the names of the slots, where a page has no pictures."""
NO_WALL = "It is too much for one page on the wall."
"""Instead of the poster of a table of alarms that has no room."""
