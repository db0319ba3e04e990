"""What is said beside a story: how long its script is, what each shot shows, and where no clip could be made."""

SHOWN = {
    "seen": "the position, from both sides",
    "law": "the position and the tally",
    "xray": "the x-ray: the pieces that may be the culprit are hatched",
    "way": "the moves, one by one, with the tally",
    "card": "words on a card",
}
"""What is to be seen, by what a beat shows."""
HATCHED = "hatched: one of these may be the culprit"
PACE = "{} minutes, {} words at {} words a minute."
"""How long a clip is, and how fast its words are spoken."""
LEFT_OUT = "This clip is left out: {}."
